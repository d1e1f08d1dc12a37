/* solve.h - banded symmetric systems, by LAPACK.
 *
 * Dongarra et al., LAPACK Users' Guide (1999): dpbsv.
 */
#ifndef HALFTURN_SIGNAL_SOLVE_H
#define HALFTURN_SIGNAL_SOLVE_H

#include <stdbool.h>
#include <stddef.h>

/* Symmetric positive definite band matrix with `half` off-diagonals: column j
 * is band[j * (half + 1) + i], i = 0 diagonal, i > 0 below it. Both are
 * overwritten. False: not positive definite; memory is never asked for. */
bool ht_solve_banded(double *band, size_t half, double *b, size_t n,
                     size_t rights);

#endif
