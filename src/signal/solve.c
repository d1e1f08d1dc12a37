#include "solve.h"

#include <lapacke.h>

static void mirror(double *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 1; j < n; j++)
            a[j * n + i] = a[i * n + j];
}

/* What is left of each column once those before it are taken out, as a share
 * of its own size (one over its variance inflation). Below 1e-12 the solution
 * has fewer than four digits. */
static bool columns_differ(const double *a, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        double whole = 0, left = a[i * n + i] * a[i * n + i];
        for (size_t k = 0; k <= i; k++)
            whole += a[k * n + i] * a[k * n + i];
        if (!(left > 1e-12 * whole))
            return false;
    }
    return true;
}

bool ht_solve_symmetric(double *a, double *b, size_t n, size_t rights)
{
    lapack_int order = (lapack_int)n, count = (lapack_int)rights;
    if (n == 0)
        return true;
    if (LAPACKE_dpotrf_work(LAPACK_COL_MAJOR, 'L', order, a, order) != 0 ||
        !columns_differ(a, n))
        return false;
    if (rights > 0 && LAPACKE_dpotrs_work(LAPACK_COL_MAJOR, 'L', order, count,
                                          a, order, b, order) != 0)
        return false;
    if (LAPACKE_dpotri_work(LAPACK_COL_MAJOR, 'L', order, a, order) != 0)
        return false;
    mirror(a, n);
    return true;
}

bool ht_solve_banded(double *band, size_t half, double *b, size_t n,
                     size_t rights)
{
    if (n == 0)
        return true;
    return LAPACKE_dpbsv_work(LAPACK_COL_MAJOR, 'L', (lapack_int)n,
                              (lapack_int)half, (lapack_int)rights, band,
                              (lapack_int)(half + 1), b, (lapack_int)n) == 0;
}
