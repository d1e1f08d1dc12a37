/* wander.h - the slow drift of a speed about the log or the steady value. */
#ifndef HALFTURN_SPEED_WANDER_H
#define HALFTURN_SPEED_WANDER_H

#include "search.h"

/* Most likely relative deviation at each frame, within +- reach, by dynamic
 * programming over steps of 0.1 %; deviation[frame]. False: out of memory. */
bool ht_wander_find(double *deviation, const struct ht_comb *comb,
                    const struct ht_speed_path *path, const struct ht_fit *fit,
                    double reach);

/* Multiplies the path by 1 + deviation, linear between frames. */
void ht_wander_apply(struct ht_speed_path *path, const double *deviation,
                     const struct ht_frames *frames, double lag_s);

#endif
