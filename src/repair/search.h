/* search.h - every combination of the shelf, roughly; the best of each kind of
 * work are kept. */
#ifndef HALFTURN_REPAIR_SEARCH_H
#define HALFTURN_REPAIR_SEARCH_H

#include "shelf.h"

#include "halfturn/joint.h"

/* What a combination is held to: rules, and how uncertain each thing is that
 * they are about. */
struct search_aim {
    const struct ht_rules *rules;
    double u[HT_RULES_MAX];
};

enum { BEST_KEPT = 6, MASKS = 1 << HT_SHIM_PLACES_MAX };
struct search_found {
    size_t combination;
    double merit;               /* log of the chance that all rules hold, as if
                                   they were independent */
};
struct search_best { /* of the works at one set of places */
    size_t count;
    struct search_found found[BEST_KEPT]; /* best first */
};

/* Merit of one line. Pure. */
double ht_search_merit(const struct search_aim *aim,
                       const struct ht_chain *line);

/* What the slopes of a line are to be; log of how likely they are read so. */
struct search_readings {
    double slope_rad[HT_MEMBERS_MAX], u_rad[HT_MEMBERS_MAX];
};
double ht_search_likeness(const struct search_readings *readings,
                          const struct ht_chain *line);

/* Asked now and then; false: no more of it. */
struct search_progress {
    bool (*go_on)(void *context, double share);
    void *context;
};
struct search_request {
    const struct shelf *shelf;
    const struct ht_joint_centres *centres;
    const struct search_aim *aim;
    const struct search_readings *readings; /* instead of the aim; or NULL */
    const struct search_progress *progress; /* NULL: nobody asks */
};

/* best[mask] gets the best combinations that work at the places of the mask,
 * by the aim or by likeness. Of equal merit the lower number comes first. What
 * cannot be among them is passed over. */
enum ht_status ht_search(struct search_best best[MASKS],
                         const struct search_request *request,
                         struct ht_error *err);

#endif
