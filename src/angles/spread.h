/* spread.h - what the uncertainties of the readings do to every result, by
 * drawing. Stratified draws (McKay, Beckman and Conover, Technometrics 21,
 * 1979) from a fixed seed: the same bytes each run. */
#ifndef HALFTURN_ANGLES_SPREAD_H
#define HALFTURN_ANGLES_SPREAD_H

#include "model.h"

enum { HT_SPREAD_DRAWS = 4096, HT_SPREAD_DRAWS_FEW = 1024 };

struct ht_spread {
    size_t draws;
    double *joint_rad[HT_JOINTS_MAX]; /* working angles */
    double *pair_rad[HT_PAIRS_MAX];   /* difference, unsigned */
    double *h2_rad;                   /* second harmonic, amplitude */
    double *section_rad; /* of the worst section; 0 unless three joints */
    double *memory;
};

enum ht_status ht_spread_create(struct ht_spread *spread,
                                const struct ht_model *model, size_t draws,
                                struct ht_error *err);
void ht_spread_free(struct ht_spread *spread);

/* The lines themselves that ht_spread_create follows. */
enum ht_status ht_spread_lines(struct ht_chain *line, size_t draws,
                               const struct ht_model *model,
                               struct ht_error *err);

/* Share of the draws above a limit. */
double ht_share_above(const double *value, size_t draws, double limit);

/* Quantiles of draws: both ends of the central 95 %, of the central 68.27 %,
 * and the median. False: out of memory. */
struct ht_five {
    double low, below, median, above, high;
};
bool ht_five_of(struct ht_five *five, const double *value, size_t draws);
/* Half of the central 68.27 % stands for the standard uncertainty: it stays
 * finite with few repeats. */
struct ht_estimate ht_estimate_of(const struct ht_five *five);

#endif
