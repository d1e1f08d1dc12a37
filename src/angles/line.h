/* line.h - a chain's members in drive order, and what its joints do to the
 * pins: the vectors that chain.c and turn.c follow. */
#ifndef HALFTURN_ANGLES_LINE_H
#define HALFTURN_ANGLES_LINE_H

#include "chain.h"

#include <math.h>

/* Directions stay rearward whichever end drives, so that one handedness serves
 * for all rotations. */
struct ht_line {
    size_t members;
    double direction[HT_MEMBERS_MAX][3];
    double turn_cos[HT_MEMBERS_MAX], turn_sin[HT_MEMBERS_MAX];
    bool cardan[HT_JOINTS_MAX];
    double left[2][3], down[2][3]; /* frame across the first, last member */
};

void ht_line_from(const struct ht_chain *chain, struct ht_line *line);
/* Two directions across d: left and, a right angle on, down. */
void ht_frame_across(const double d[3], double left[3], double down[3]);

static inline double ht_dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static inline void ht_cross(const double a[3], const double b[3], double out[3])
{
    double x = a[1] * b[2] - a[2] * b[1], y = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
    out[0] = x;
    out[1] = y;
}

static inline void ht_normalise(double v[3])
{
    double size = sqrt(ht_dot(v, v));
    for (int i = 0; i < 3; i++)
        v[i] /= size;
}

/* Across a Cardan joint: the driven pins are square to the driving pins and
 * to their own shaft. The speed ratio follows from how far the driving pins
 * lean out of the plane across the driven shaft. */
static inline double ht_cross_cardan(double pin[3], const double from[3],
                                     const double to[3])
{
    double lean = ht_dot(pin, to), driven[3];
    ht_cross(pin, to, driven);
    ht_normalise(driven);
    for (int i = 0; i < 3; i++)
        pin[i] = driven[i];
    return ht_dot(from, to) / (1 - lean * lean);
}

/* Across a joint that keeps the speed: the smallest turn that lays one shaft
 * on the other carries the pins along. */
static inline void ht_cross_even(double pin[3], const double from[3],
                                 const double to[3])
{
    double scale = ht_dot(pin, to) / (1 + ht_dot(from, to));
    for (int i = 0; i < 3; i++)
        pin[i] -= scale * (from[i] + to[i]);
    ht_normalise(pin);
}

/* From a section's driven yoke to its driving yoke. */
static inline void ht_turn_about(double pin[3], const double axis[3], double c,
                                 double s)
{
    double side[3];
    ht_cross(axis, pin, side);
    for (int i = 0; i < 3; i++)
        pin[i] = c * pin[i] + s * side[i];
}

#endif
