/* frames.h - whitened spectra along a log's own path.
 *
 * Each frame is stretched so that, were the log right, every order would be
 * one line whatever the acceleration; then its power is divided by a floor,
 * so that noise alone has mean 1. Frequencies are those at the frame's
 * middle.
 */
#ifndef HALFTURN_SPEED_FRAMES_H
#define HALFTURN_SPEED_FRAMES_H

#include "path.h"
#include "work.h"

struct ht_frames {
    double length_s, hop_s, bin_hz, cell_hz; /* cell: what one line takes up */
    size_t frames, channels, bins;
    double *time_s; /* middle of each frame, recording clock */
    float *z;       /* [frame][channel][bin] */
    /* what makes the floor up, see ht_frames_floor: */
    float *level;   /* [frame][channel] */
    float *record;  /* [channel][bin] */
    float *local;   /* [frame][channel][knot]: `step` bins apart */
    size_t step, knots;
    void *memory;
};

struct ht_frames_plan {
    double length_s, hop_s, lag_s, highest_hz;
    bool sweeps; /* take out what stands still in frequency */
};
enum ht_status ht_frames_create(struct ht_frames *frames,
                                const struct ht_work *work,
                                const struct ht_speed_path *path,
                                const struct ht_frames_plan *plan,
                                struct ht_error *err);
void ht_frames_free(struct ht_frames *frames);

/* Power density that a bin was divided by: unit^2 / Hz. */
float ht_frames_floor(const struct ht_frames *frames, size_t frame,
                      size_t channel, size_t bin);

const float *ht_frames_z(const struct ht_frames *frames, size_t frame,
                         size_t channel);

#endif
