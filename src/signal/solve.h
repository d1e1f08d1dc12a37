/* solve.h - small dense and banded symmetric systems, by LAPACK.
 *
 * Column-major is row-major here: the matrices are symmetric. Dongarra et
 * al., LAPACK Users' Guide (1999): dpotrf, dpotri, dpotrs, dpbsv.
 */
#ifndef HALFTURN_SIGNAL_SOLVE_H
#define HALFTURN_SIGNAL_SOLVE_H

#include <stdbool.h>
#include <stddef.h>

/* Solves a x = b for `rights` right sides standing one after another in b
 * (overwritten by x). a (n by n, symmetric, both halves given) is overwritten
 * by its inverse, both halves. False when a is not positive definite, or
 * when a column depends on those before it to within 1e-12 of its square: then
 * b holds no result. The scale of rows does not matter. */
bool ht_solve_symmetric(double *a, double *b, size_t n, size_t rights);

/* Symmetric positive definite band matrix with `half` off-diagonals: column j
 * is band[j * (half + 1) + i], i = 0 diagonal, i > 0 below it. Both are
 * overwritten. */
bool ht_solve_banded(double *band, size_t half, double *b, size_t n,
                     size_t rights);

#endif
