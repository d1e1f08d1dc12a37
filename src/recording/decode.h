/* decode.h - the one function behind which sound decoding stands.
 *
 * It runs the decoder program in a process of its own: a library that crashes,
 * hangs or floods there costs one file, not this process.
 */
#ifndef HALFTURN_RECORDING_DECODE_H
#define HALFTURN_RECORDING_DECODE_H

#include "halfturn/recording.h"

#include <stddef.h>
#include <stdint.h>

struct sound_format {
    char name[48];      /* "WAV, 16 bit" */
    size_t channels;
    double rate_hz;
    uint64_t frames;    /* as the head says; 0: not known */
};

/* What takes the sound. `begin` is called once, before the first block.
 * Blocks are interleaved, integers scaled to -1 .. 1. `shorts` may be NULL:
 * who has it gets what was recorded in 16 bits or less as it is, 32768 for
 * full scale. Any status but HT_OK ends the decoding and is passed on. */
struct sound_sink {
    void *context;
    enum ht_status (*begin)(void *context, const struct sound_format *format,
                            struct ht_error *err);
    enum ht_status (*block)(void *context, const float *frames, size_t count,
                            struct ht_error *err);
    enum ht_status (*shorts)(void *context, const int16_t *frames,
                             size_t count, struct ht_error *err);
};

/* Four bytes that stand in for the file's own: the size that a recorder did
 * not come to write. */
struct sound_patch {
    uint64_t at;
    unsigned char byte[4];
};

/* patch and decoder may be NULL. */
enum ht_status ht_decode(const char *path, const struct sound_patch *patch,
                         const struct ht_decoder *decoder,
                         const struct sound_sink *sink, struct ht_error *err);

#endif
