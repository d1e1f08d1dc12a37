/* floor.h - the noise under an order, read off its neighbours.
 *
 * A parabola through the logarithms of the neighbouring lines' powers, so
 * that a sloping or humped floor (a resonance shaken by the road) is not
 * taken for an order. Lines of other named orders are left out. Pure.
 */
#ifndef HALFTURN_ORDERS_FLOOR_H
#define HALFTURN_ORDERS_FLOOR_H

#include <stdbool.h>
#include <stddef.h>

enum { HT_NEIGHBOURS_MAX = 24 };

struct ht_floor_plan {
    size_t count;                        /* 0: no neighbours to read */
    size_t line[HT_NEIGHBOURS_MAX];
    double share[HT_NEIGHBOURS_MAX];     /* of each line's ln power */
    double variance;                     /* over that of one line's ln power */
};

/* position: the order in lines; clear[l]: line l holds no named order; last:
 * the highest line inside the band. */
void ht_floor_plan(struct ht_floor_plan *plan, double position,
                   const bool *clear, size_t last);

struct ht_floor {
    double power;   /* noise power of one block; NAN: cannot be told */
    double dof;     /* twice the looks it is worth */
};

/* power: mean over `looks` independent blocks, by line. */
struct ht_floor ht_floor_read(const struct ht_floor_plan *plan,
                              const double *power, double looks);

#endif
