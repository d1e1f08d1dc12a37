/* stream.h - what the decoder program says through its pipe.
 *
 * Marks, some with something behind them: HEAD once and first, BLOCKs of
 * interleaved floats (or SHORTS, 16 bit numbers with 32768 for full scale: half
 * of the bytes), END with the count of all frames, so that a cut pipe is
 * noticed; or, at any time, a REFUSAL with a sentence. Both ends run on one
 * machine and are built together: numbers stand as the machine holds them.
 * The reader takes every byte for hostile.
 */
#ifndef HALFTURN_RECORDING_STREAM_H
#define HALFTURN_RECORDING_STREAM_H

#include "decode.h"

enum { STREAM_BLOCK_FRAMES = 16384, STREAM_TEXT_MAX = 400 };

enum stream_kind {
    STREAM_HEAD = 1, /* count: channels; a struct stream_head follows */
    STREAM_BLOCK,    /* count: frames that follow */
    STREAM_END,      /* total: frames in all blocks */
    STREAM_REFUSAL,  /* total: a status; count: bytes of text that follow */
    STREAM_SHORTS    /* count: frames that follow */
};

struct stream_mark {
    uint32_t kind, count;
    uint64_t total;
};

#define STREAM_MAGIC "HTsound" /* with its final 0, 8 bytes */
enum { STREAM_VERSION = 2 };

struct stream_head {
    char magic[8];
    uint32_t version, channels;
    double rate_hz;
    uint64_t frames;
    char name[48];
};

/* Where the bytes come from. `read` fills exactly `length` bytes and says how
 * many it got: fewer at the end, or after a failure it keeps for itself. */
struct stream_source {
    void *context;
    size_t (*read)(void *context, void *to, size_t length);
};

enum stream_end {
    STREAM_COMPLETE, /* END, with the right count, and nothing behind it */
    STREAM_REFUSED,  /* by the decoder or by the sink: *status says why */
    STREAM_CUT,      /* the bytes end before END */
    STREAM_FOREIGN,  /* a head of another version, or of none */
    STREAM_GARBLED   /* a mark that cannot be */
};

/* Reads all of a stream into the sink. *status is HT_OK unless the answer is
 * STREAM_REFUSED; its texts begin with `path`. */
enum stream_end ht_stream_read(const struct stream_source *source,
                               const char *path,
                               const struct sound_sink *sink,
                               enum ht_status *status, struct ht_error *err);

#endif
