/* promise.h - what a compressed file says of its own end, so that one that
 * was cut off is noticed: decoders read what is there without a word.
 */
#ifndef HALFTURN_RECORDING_PROMISE_H
#define HALFTURN_RECORDING_PROMISE_H

#include <stdbool.h>

struct promise {
    double length_s;    /* of the sound, by an MP3's head; NAN: not said */
    bool no_end;        /* an Ogg file without the end of its stream */
};

/* Says nothing of what it cannot open or make out. MP3: the count of frames in
 * the tag that encoders write into the first frame (ISO/IEC 11172-3 for the
 * frame's head; the tag "Xing" or "Info" is common practice). Ogg: RFC 3533. */
struct promise ht_promise_read(const char *path);

#endif
