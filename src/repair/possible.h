/* possible.h - all that the readings, the lengths that were not measured and
 * the make of the shims leave open, drawn once. Every plan is followed through
 * the same draws, so that plans can be compared. */
#ifndef HALFTURN_REPAIR_POSSIBLE_H
#define HALFTURN_REPAIR_POSSIBLE_H

#include "search.h"

enum { POSSIBLE_DRAWS = 2048 };

struct possible {
    const struct ht_joint_centres *centres; /* as read */
    struct ht_chain *line;      /* POSSIBLE_DRAWS of them */
    double *length_m;           /* HT_LENGTHS for each draw */
    double *make;               /* HT_SHIM_PLACES_MAX + 1 for each draw: how far
                                   a shim is off its size, -1 to 1 */
};

enum ht_status ht_possible_create(struct possible *possible,
                                  const struct ht_joint_centres *centres,
                                  const struct ht_driveline *driveline,
                                  struct ht_error *err);
void ht_possible_free(struct possible *possible);

/* The line of one draw with these works done. */
void ht_possible_line(struct ht_chain *moved, const struct possible *possible,
                      size_t draw, const struct ht_shim_work *work,
                      size_t works);

/* How often what is held: all rules at once, and each one. Given up, with less
 * than is true, once it cannot be more than `bar` any more; below 0: never. */
struct kept {
    double all, each[HT_RULES_MAX];
};
void ht_possible_kept(struct kept *kept, const struct possible *possible,
                      const struct ht_rules *rules,
                      const struct ht_shim_work *work, size_t works,
                      double bar);

/* The share of POSSIBLE_DRAWS lines that keep all rules. */
double ht_possible_share(const struct ht_chain *line,
                         const struct ht_rules *rules);

/* Fills plan's slopes, joints, leftover, and its place against each rule. */
enum ht_status ht_possible_describe(struct ht_shim_plan *plan,
                                    const struct possible *possible,
                                    const struct ht_rules *rules,
                                    double shaft_rad_s, struct ht_error *err);

#endif
