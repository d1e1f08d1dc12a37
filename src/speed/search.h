/* search.h - scale and lag of a log against the recording. */
#ifndef HALFTURN_SPEED_SEARCH_H
#define HALFTURN_SPEED_SEARCH_H

#include "sweep.h"

struct ht_fit {
    double turns_per_m; /* per metre of the log */
    double lag_s;
    double score, usual; /* best, and the median over the grid */
    double rival_turns_per_m, rival_score; /* best beyond 1.5 % of it */
    double turns_per_m_u, lag_u_s;
    bool lag_seen;
};
/* Best of the grid, then finer steps around it. `ratio` is in ln of
 * turns_per_m. HT_NO_MEMORY is the only failure. */
enum ht_status ht_fit_search(struct ht_fit *fit, const struct ht_comb *comb,
                             const struct ht_speed_path *path,
                             struct ht_range log_turns_per_m,
                             struct ht_range lag_s, struct ht_error *err);

/* Share of the drive, in stretches of 15 s, where the orders stand higher on
 * the fitted path than 3.5 and 5 % beside it; NAN: out of memory. */
double ht_fit_share(const struct ht_fit *fit, const struct ht_comb *comb,
                    const struct ht_speed_path *path);

#endif
