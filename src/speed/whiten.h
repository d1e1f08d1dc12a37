/* whiten.h - what the noise alone would give, and the ratio to it. */
#ifndef HALFTURN_SPEED_WHITEN_H
#define HALFTURN_SPEED_WHITEN_H

#include "frames.h"

/* Bins between two knots of the floor's local part. */
size_t ht_whiten_step(const struct ht_frames *frames);

/* frames->z holds power densities; afterwards it holds their ratio to the
 * floor, whose parts are filled. False: out of memory. */
bool ht_whiten(struct ht_frames *frames, const struct ht_speed_path *path,
               const struct ht_frames_plan *plan);

/* The floor of one frame and channel between two knots: a line, times what
 * the whole record has there, times the frame's level. */
struct ht_floor_part {
    float level, before, slope;
};

static inline struct ht_floor_part
ht_whiten_part(const struct ht_frames *f, size_t row, size_t knot)
{
    const float *at = f->local + row * f->knots + knot;
    return (struct ht_floor_part){ f->level[row], at[0],
                                   (at[1] - at[0]) / (float)f->step };
}

/* `behind` bins behind the knot; no power density is below 1e-30. */
static inline float ht_whiten_floor(const struct ht_floor_part *part,
                                    float record, size_t behind)
{
    float local = part->before + (float)(int)behind * part->slope;
    float noise = part->level * record * local;
    return noise > 1e-30F ? noise : 1e-30F;
}

#endif
