/* median.h - the middle of many values, counted instead of sorted.
 *
 * Pure; x stays as it is. Halves the range of values, as bits, and counts how
 * many lie at or below: loops without branches, where sorting would guess
 * wrong at every second comparison. Eight columns go side by side.
 */
#ifndef HALFTURN_SIGNAL_MEDIAN_H
#define HALFTURN_SIGNAL_MEDIAN_H

#include <stddef.h>

enum { HT_COLUMNS = 8 };

/* The middle of each of eight columns of n finite values x >= 0, of two
 * middles the higher: at most 2^-8 of itself too high, never too low. Column
 * c is x[c], x[c + 8], ...; the middle of nothing is 0. */
void ht_medians_f(const float *x, size_t n, float median[HT_COLUMNS]);

/* The same of a single row of values. */
float ht_median_f(const float *x, size_t n);

#endif
