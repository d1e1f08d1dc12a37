/* whiten.h - what the noise alone would give, and the ratio to it. */
#ifndef HALFTURN_SPEED_WHITEN_H
#define HALFTURN_SPEED_WHITEN_H

#include "frames.h"

/* frames->z holds power densities; afterwards it holds their ratio to the
 * floor, which is filled. False: out of memory. */
bool ht_whiten(struct ht_frames *frames, const struct ht_speed_path *path,
               const struct ht_frames_plan *plan);

#endif
