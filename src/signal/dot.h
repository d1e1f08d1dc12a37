/* dot.h - sums over samples with eight partial sums in a fixed order.
 *
 * Pure. The order of additions is part of the contract: the same bytes at any
 * vector width. Partial sum j takes terms j, j + 8, ...; the eight are added
 * pairwise: ((0+4)+(2+6)) + ((1+5)+(3+7)).
 */
#ifndef HALFTURN_SIGNAL_DOT_H
#define HALFTURN_SIGNAL_DOT_H

#include <stddef.h>

float ht_dot_f(const float *a, const float *b, size_t n);

/* sum[r] of x against each of several rows, row r starting at rows + r *
 * stride: x is read once. n is a multiple of 8. */
void ht_dot_rows_f(const float *x, const float *rows, size_t stride,
                   size_t count, size_t n, float *sum);

/* sum[i] += x[i] */
void ht_add_f(float *sum, const float *x, size_t n);

#endif
