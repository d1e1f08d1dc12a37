/* judged.h - a workup looked at the way a reader asks: which joint is over,
 * which order is the loudest, what was driven.
 *
 * Pure; the pointers point into the workup.
 */
#ifndef HALFTURN_REPORT_JUDGED_H
#define HALFTURN_REPORT_JUDGED_H

#include "halfturn/workup.h"

/* One question about the angles (a joint, a difference, a shake) over all
 * limit sets that were held against it. */
struct judged {
    enum ht_verdict verdict;    /* of all sets together; NONE: not judged */
    const struct ht_limit_verdict *deciding; /* what a reader is told */
    double least, most, most_highest; /* lowest and highest limits; NAN */
    size_t sets, sets_bad;      /* with a limit that can be passed that way,
                                   and those where it is: maxima when one is,
                                   else minima when one is */
};
struct judged judged_joint(const struct ht_angles *angles, size_t joint);
/* By unit and, for one of several, its words: "rad/s2". */
struct judged judged_shake(const struct ht_angles *angles, const char *what);

/* One thing that is not about a joint ("joints 1 and 2 differ"), or NULL: the
 * largest angle of any Cardan joint; over all limit sets that have a figure
 * for it. */
struct judged_sets {
    size_t count, over;
    const struct ht_limit_verdict *strictest, *loosest; /* NULL: none */
};
struct judged_sets judged_what(const struct ht_angles *angles,
                               const char *what);

/* Verdicts that are neither about one joint nor a shake: differences. */
const struct ht_limit_verdict *
judged_difference(const struct ht_angles *angles, enum ht_verdict verdict);

/* Some shake that comes to this verdict over all its sets. */
bool any_shake(const struct ht_angles *angles, enum ht_verdict verdict);

/* The seen order of channel "all" with the highest level; NULL: none. */
const struct ht_order_result *strongest_order(const struct ht_orders *orders);
/* Channel "all", strongest first, seen before not seen before could not be
 * seen; returns how many. */
size_t orders_by_strength(const struct ht_orders *orders,
                          const struct ht_order_result **sorted, size_t room);

enum ht_family order_family(const struct ht_workup *workup,
                            const struct ht_order_result *result);

/* Speeds of the complaint; false when it names none. */
bool felt_range(const struct ht_workup *workup, double *from, double *to);
/* Speeds that were driven and used; false when none. */
bool driven_range(const struct ht_workup *workup, double *from, double *to);

/* A member's slope as the gauge showed it; NAN when only joints are known. */
double member_slope_rad(const struct ht_workup *workup, size_t set,
                        size_t member);
const char *member_name(const struct ht_workup *workup, size_t driveline,
                        size_t member);

/* The cause that the page leads with; NULL: no ranking. */
const struct ht_ranked_cause *first_cause(const struct ht_workup *workup);
bool is_nothing_abnormal(const struct ht_ranked_cause *cause);

#endif
