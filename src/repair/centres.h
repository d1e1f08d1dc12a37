/* centres.h - lengths that are not known, and which shaft stands on what. */
#ifndef HALFTURN_REPAIR_CENTRES_H
#define HALFTURN_REPAIR_CENTRES_H

#include "halfturn/joint.h"
#include "halfturn/repair.h"

/* What a length that is not known may be. */
struct length_range {
    double low_m, high_m;
};
struct length_range ht_length_range(size_t length);

/* Shafts that stand on a centre support: all but the one at the axle. From
 * `first`, before `end`. */
struct supported {
    size_t first, end;
};
struct supported ht_centres_supported(const struct ht_joint_centres *centres);

/* ht_centres_move for many works on one line: the directions that it starts
 * from are worked out once. */
struct ht_centres_start {
    const struct ht_joint_centres *centres;
    double direction[HT_MEMBERS_MAX][3];
};
void ht_centres_begin(struct ht_centres_start *start,
                      const struct ht_joint_centres *centres);
void ht_centres_move_from(struct ht_chain *moved,
                          const struct ht_centres_start *start,
                          const struct ht_shim_work *work, size_t works);

#endif
