/* work.h - the recording decimated once more, for the speed search.
 *
 * Times count from frame 0 of the recording.
 */
#ifndef HALFTURN_SPEED_WORK_H
#define HALFTURN_SPEED_WORK_H

#include "halfturn/recording.h"

struct ht_work {
    double rate_hz;
    size_t frames, channels, factor;
    float **channel;      /* channels pointers to `frames` samples */
    unsigned char *blind; /* 1: in a gap, one per frame */
};

/* Keeps at least wanted_hz of rate; factor 1 copies. */
enum ht_status ht_work_create(struct ht_work *work,
                              const struct ht_recording *recording,
                              double wanted_hz, struct ht_error *err);
void ht_work_free(struct ht_work *work);

double ht_work_length_s(const struct ht_work *work);

/* Four-point cubic (Catmull-Rom) value a fraction of a frame behind x[0]; reads
 * x[-1] to x[2]. With five samples per cycle the error is below -47 dB. */
static inline float ht_work_between(const float *x, float f)
{
    float a = x[-1], b = x[0], c = x[1], d = x[2];
    return b + 0.5F * f *
                   (c - a + f * (2 * a - 5 * b + 4 * c - d +
                                 f * (3 * (b - c) + d - a)));
}

#endif
