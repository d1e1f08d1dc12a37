/* sound.h - the decoding library behind one function: its only user.
 *
 * Texts of failures do not name the file: the decoder does not know it.
 */
#ifndef HALFTURN_RECORDING_DECODER_SOUND_H
#define HALFTURN_RECORDING_DECODER_SOUND_H

#include "recording/decode.h"

#include <stdio.h>

/* patch may be NULL. The file is left open. */
enum ht_status ht_sound_decode(FILE *file, const struct sound_patch *patch,
                               const struct sound_sink *sink,
                               struct ht_error *err);

#endif
