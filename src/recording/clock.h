/* clock.h - when the samples of a table were really taken.
 *
 * Most sensors sample on a regular clock of their own and the stamps jitter;
 * some loggers drop samples or sample unevenly. The stamps are fitted by a
 * straight clock with slow drift (knots every 30 s) after lost samples are
 * counted; docs/recording.md.
 */
#ifndef HALFTURN_RECORDING_CLOCK_H
#define HALFTURN_RECORDING_CLOCK_H

#include <stdbool.h>
#include <stddef.h>

struct clock_fit {
    double start_s, step_s;  /* of the uniform grid */
    size_t slots;            /* grid points, lost samples included */
    size_t *slot;            /* slot[n]: grid point of row n, rising */
    double jitter_s;         /* r.m.s. of stamp minus fit */
    size_t lost;             /* samples that never arrived */
};

/* Rows n >= 8 with stamps that rise, apart from jitter. False: no memory.
 * step_s stays 0 when the rows lie closer than HT_RATE_HZ_MAX allows. */
bool ht_clock_fit(struct clock_fit *fit, const double *stamp_s, size_t n);
void ht_clock_free(struct clock_fit *fit);

/* Natural cubic spline through (x, y), x strictly rising: second derivatives
 * into `bend` (n >= 3). False: no memory. */
bool ht_spline_fit(const double *x, const double *y, double *bend, size_t n);
double ht_spline_at(const double *x, const double *y, const double *bend,
                    size_t i, double at);

#endif
