/* riff.h - a look at a WAV file before a decoding library gets it.
 *
 * Exactly one `fmt ` chunk, before `data`; channels, rate and sizes within
 * limits: a file with two format chunks has crashed decoders. RIFF and RF64
 * (EBU Tech 3306) alike.
 */
#ifndef HALFTURN_RECORDING_RIFF_H
#define HALFTURN_RECORDING_RIFF_H

#include "halfturn/status.h"

#include <stdbool.h>
#include <stdint.h>

struct riff {
    unsigned channels, rate_hz, bits;
    bool is_64;            /* sizes of 64 bit stand in a chunk of their own */
    bool cut_short;        /* the data chunk claims more than is there, or 0 */
    uint64_t size_at;      /* where the data chunk's size stands */
    uint64_t claimed_bytes, there_bytes; /* of the data chunk */
};

/* HT_BAD_FILE with a sentence for what no recorder writes. */
enum ht_status ht_riff_check(const char *path, struct riff *riff,
                             struct ht_error *err);

#endif
