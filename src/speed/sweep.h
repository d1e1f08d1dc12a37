/* sweep.h - scores of a whole grid of scales and lags, in one reading of the
 * spectra.
 *
 * On a logarithmic frequency axis another scale is a shift: each spectrum is
 * laid on such an axis, in steps of half the grid's, and each order adds a
 * piece of it to the sums of all scales at once. What ht_comb_score gives,
 * with every frequency rounded to a quarter of a step.
 */
#ifndef HALFTURN_SPEED_SWEEP_H
#define HALFTURN_SPEED_SWEEP_H

#include "comb.h"

struct ht_range {
    double from, to, step;
};
struct ht_grid {
    struct ht_range log_turns_per_m, lag_s;
    size_t ratios, lags;
};
/* score[lag * ratios + ratio]. False: out of memory. */
bool ht_sweep(double *score, const struct ht_grid *grid,
              const struct ht_comb *comb, const struct ht_speed_path *path);

#endif
