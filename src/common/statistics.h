/* statistics.h - distribution functions and the median, for several rooms.
 *
 * Pure. Relative accuracy 1e-10 or better over the ranges tested against
 * SciPy's values in tests/common/test_statistics.c. Incomplete beta by its
 * continued fraction (Abramowitz and Stegun 26.5.8, evaluated as Lentz 1976).
 */
#ifndef HALFTURN_COMMON_STATISTICS_H
#define HALFTURN_COMMON_STATISTICS_H

#include <stddef.h>

/* P(Z <= z) for a standard normal Z, and its inverse for 0 < p < 1. */
double ht_normal_cdf(double z);
double ht_normal_quantile(double p);

/* P(T <= t) for Student's t with `dof` > 0 degrees of freedom, and its
 * inverse for 0 < p < 1. */
double ht_student_cdf(double t, double dof);
double ht_student_quantile(double p, double dof);

/* P(F > f) for Fisher's F with d1 and d2 > 0 degrees of freedom, f >= 0, and
 * the f that is exceeded with probability 0 < tail < 1. */
double ht_fisher_tail(double f, double d1, double d2);
double ht_fisher_threshold(double tail, double d1, double d2);

/* The middle of n values, of two middles the higher; NAN when n is 0. Reorders
 * x; no value may be NAN. */
double ht_median(double *x, size_t n);

/* Regularised incomplete beta I_x(a, b), 0 <= x <= 1, a, b > 0. */
double ht_incomplete_beta(double a, double b, double x);

#endif
