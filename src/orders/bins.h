/* bins.h - one order in one channel, speed bin by speed bin. */
#ifndef HALFTURN_ORDERS_BINS_H
#define HALFTURN_ORDERS_BINS_H

#include "blocks.h"
#include "level.h"
#include "presence.h"
#include "pull.h"

enum { HT_BIN_ROWS = 2 };          /* 4 km/h */

/* What one channel says about one column in one bin. */
struct ht_bin_view {
    size_t blocks;
    bool seen, blurred;      /* blurred: the angle is too uncertain */
    struct ht_phase_test steady, runs;
    double within;           /* noise power by the blocks' own scatter */
    struct ht_power power;   /* .noise NAN: floor cannot be told */
    double least, correction;
    double drive_power, drive_variance;      /* noise taken away */
    double overrun_power, overrun_variance;
};

struct ht_series {           /* one order, one channel (or "all") */
    size_t bins;
    struct ht_bin_view view[HT_BINS_MAX], whole;
    bool deaf[HT_BINS_MAX];  /* below the microphone */
};

struct ht_work {
    const struct ht_plan *plan;
    const struct ht_joint *joint;
    const struct ht_blocks *blocks;
    enum ht_pull_class *pull;           /* of each block; NULL: unknown */
    const struct ht_recording *recording;
    const char *unit;                   /* "m/s2" or "full scale" */
    double healthy;                     /* NAN: 3 times the floor */
    double false_alarm, false_alarm_whole; /* share of one order and channel
                                              in one bin, in the drive */
    size_t bins;                        /* driven ones */
    size_t bin_row[HT_BINS_MAX];        /* first row of each */
    struct ht_phasor *amplitude;        /* room for every block */
    bool *follows;
    double *calm;
    size_t *member;                     /* block index */
    double *column_power;  /* [(bin * columns + column) * channels + channel]:
                              mean |amplitude|^2; bins + 1 of them */
    double *fixed;         /* likewise, bins of them: what fixed frequencies
                              leave at the column; NAN: cannot be told */
    float *share[2];       /* [bin * blocks + block]: its weight in the bin's
                              mean; levels in steps, and along parabolas */
    struct ht_series *series;           /* channels + 1 */
};

/* Fills column_power, fixed and share, once. */
void ht_work_prepare(struct ht_work *work);

/* bin == work->bins: the whole drive. */
struct ht_bin_view ht_bin_look(struct ht_work *work, size_t column,
                               size_t channel, size_t bin);

#endif
