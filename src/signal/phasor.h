/* phasor.h - sums of samples against an order's cosine and sine.
 *
 * Pure: no allocation, no globals. The phase comes from the angle of every
 * sample, so nothing drifts and nothing is interpolated; cosine and sine by
 * our own polynomial (error below 2e-8), the same on every machine. Sums
 * keep eight partial sums in fixed order.
 */
#ifndef HALFTURN_SIGNAL_PHASOR_H
#define HALFTURN_SIGNAL_PHASOR_H

#include "lanes.h"

#include <stddef.h>

struct ht_phasor {
    double re, im;
};

/* cosine[i], sine[i] of 2 pi order turns[i]; n is a multiple of HT_LANES and
 * |order * turns| stays below 2^40. */
void ht_phasor_fill(double *cosine, double *sine, const double *turns,
                    double order, size_t n);

/* Sums of x[i] * (cosine[i] - j sine[i]), and the same of y; n is a multiple
 * of HT_LANES. */
void ht_phasor_sums(const double *x, const double *y, const double *cosine,
                    const double *sine, size_t n, struct ht_phasor *of_x,
                    struct ht_phasor *of_y);

/* exp(2 pi j turns), for single values. */
struct ht_phasor ht_phasor_of(double turns);

#endif
