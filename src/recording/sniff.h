/* sniff.h - what a file is, by its first bytes; not by its name. */
#ifndef HALFTURN_RECORDING_SNIFF_H
#define HALFTURN_RECORDING_SNIFF_H

#include "halfturn/status.h"

enum file_kind {
    FILE_RIFF,  /* WAV, also RF64 */
    FILE_AUDIO, /* FLAC, Ogg, MP3, AIFF, CAF */
    FILE_TABLE  /* text that may be a table of numbers */
};

/* Opens the file, looks at its head. Anything that cannot be a recording ends
 * as a sentence: missing and unreadable files, folders (HT_CANNOT_READ), empty
 * files, files of other kinds (HT_BAD_FILE). */
enum ht_status ht_sniff_file(const char *path, enum file_kind *kind,
                             struct ht_error *err);

#endif
