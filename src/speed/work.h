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

/* Four-point cubic (Catmull-Rom) a fraction of a frame behind x[0]: what x[-1]
 * to x[2] count for, `size` in all. With five samples per cycle the error is
 * below -47 dB. */
static inline void ht_work_weights(float f, float size, float weight[4])
{
    float half = 0.5F * f * size;
    weight[0] = half * (f * (2 - f) - 1);
    weight[1] = half * f * (3 * f - 5) + size;
    weight[2] = half * (f * (4 - 3 * f) + 1);
    weight[3] = half * f * (f - 1);
}

#endif
