#include "solve.h"

#include <lapacke.h>

bool ht_solve_banded(double *band, size_t half, double *b, size_t n,
                     size_t rights)
{
    if (n == 0)
        return true;
    return LAPACKE_dpbsv_work(LAPACK_COL_MAJOR, 'L', (lapack_int)n,
                              (lapack_int)half, (lapack_int)rights, band,
                              (lapack_int)(half + 1), b, (lapack_int)n) == 0;
}
