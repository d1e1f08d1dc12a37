/* notes.h - what a reader assumed or found, in sentences for people. */
#ifndef HALFTURN_RECORDING_NOTES_H
#define HALFTURN_RECORDING_NOTES_H

#include "halfturn/recording.h"

#include <stdbool.h>

/* Beyond the room for notes further ones are dropped. */
void ht_recording_note(struct ht_recording *recording, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* `slow` of every channel whose unit is m/s2, from its samples and mean: low-
 * passed for pull and overrun. False: out of memory. */
bool ht_recording_make_slow(struct ht_recording *recording);

#endif
