/* level.h - amplitude from noisy block powers, with 95 % limits.
 *
 * Pure. The mean squared block amplitude of a line of amplitude A in noise of
 * power N per block is A^2 + N on average, with variance (2 A^2 N g + N^2 h)
 * / M over M blocks; g and h say how far half-overlapped Hann blocks repeat
 * each other. Its distribution is taken as a scaled chi-square with those two
 * moments (Patnaik, Biometrika 36 (1949) 202) and its quantiles after Wilson
 * and Hilferty (PNAS 17 (1931) 684).
 */
#ifndef HALFTURN_ORDERS_LEVEL_H
#define HALFTURN_ORDERS_LEVEL_H

#include "halfturn/orders.h"

/* Everything is summed over channels for the level of "all". */
struct ht_power {
    double power;    /* mean |amplitude|^2 of the blocks, noise and all */
    double noise;    /* noise power per block in it */
    double cross;    /* variance per A^2 */
    double own;      /* variance of the noise power itself and its estimate */
    double drift;    /* variance for amplitude that changes over the bin */
};

/* P(power <= seen) when the amplitude squared is a2. */
double ht_power_cdf(const struct ht_power *p, double a2, double seen);

/* sqrt(power - noise), never below 0, and the 95 % limits. */
struct ht_level ht_power_level(const struct ht_power *p);

/* Smallest amplitude whose power exceeds `threshold` nine times in ten. */
double ht_power_least(const struct ht_power *p, double threshold);

/* Derivatives of ln gamma: digamma, trigamma. Abramowitz and Stegun 6.3.18
 * and 6.4.12 after recurrence; x > 0, relative error below 1e-8. */
double ht_digamma(double x);
double ht_trigamma(double x);

#endif
