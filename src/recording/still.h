/* still.h - stretches in which nothing moves: a sensor or recorder that hung,
 * a plug that came loose, zeros that an editor put in. They are gaps.
 *
 * A stretch counts when every channel repeats its value for 0.1 s and 20
 * frames, and for 20 times as long as values are held elsewhere: coarse steps
 * and repeated samples hold them too, and a hold of 20 times the mean happens
 * once in 5e8 when changes come at random (exp(-20)).
 */
#ifndef HALFTURN_RECORDING_STILL_H
#define HALFTURN_RECORDING_STILL_H

#include "halfturn/recording.h"

#include "common/limits.h"

#include <stdint.h>

/* Frames that are equal on all channels: from, from + 1, ... to - 1. */
struct still_run {
    uint64_t from, to;
};

struct still {
    size_t channels;
    uint64_t least;         /* frames of a run that is kept */
    uint64_t frames;        /* taken so far */
    uint64_t changes;       /* values that differ from the one before them on
                               their channel */
    uint64_t held;          /* frames of the run that the last one ends */
    float last[HT_CHANNELS_MAX];
    struct still_run *run;
    size_t runs, room;
};

/* Rates of frames, in Hz. */
struct still ht_still_begin(size_t channels, double rate_hz);

/* Interleaved frames. False: out of memory; also of the next two. */
bool ht_still_push(struct still *still, const float *frames, size_t count);

/* For callers that compare frames themselves. */
bool ht_still_add(struct still *still, struct still_run run);

/* After the last frame. Drops runs that are as the rest of the recording. */
bool ht_still_end(struct still *still);
void ht_still_free(struct still *still);

/* Puts the stretches among the recording's gaps, in order, joins those that
 * touch, and notes them; `time_s` has two for each run: from frame 0. */
bool ht_still_to_gaps(const struct still *still, const double *time_s,
                      struct ht_recording *recording);

/* Mean of a channel outside the gaps; within them 0 is put. */
double ht_gaps_mean(const struct ht_recording *recording,
                    const float *samples);
void ht_gaps_empty(const struct ht_recording *recording, float *samples);

#endif
