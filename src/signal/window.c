#include "window.h"

#include "common/constants.h"

#include <assert.h>
#include <math.h>

enum { TERMS = 5 };
static const double cosine_terms[HT_WINDOWS][TERMS] = {
    [HT_WINDOW_RECT] = { 1 },
    [HT_WINDOW_HANN] = { 0.5, -0.5 },
    [HT_WINDOW_FLAT_TOP] = { 0.21557895, -0.41663158, 0.277263158,
                             -0.083578947, 0.006947368 },
};

struct ht_window_gain ht_window_fill(enum ht_window kind, double *w, size_t n)
{
    double sum = 0, squares = 0, count = (double)n;
    assert(n >= 2 && kind < HT_WINDOWS);
    for (size_t i = 0; i < n; i++) {
        w[i] = 0;
        for (int t = 0; t < TERMS; t++)
            w[i] += cosine_terms[kind][t] *
                    cos(2 * HT_PI * t * (double)i / count);
        sum += w[i];
        squares += w[i] * w[i];
    }
    return (struct ht_window_gain){ sum / count,
                                    count * squares / (sum * sum) };
}

/* Modified Bessel function I0 by its power series (Abramowitz and Stegun
 * 9.6.12): all terms positive, so no digits are lost. */
static double bessel_i0(double x)
{
    double sum = 1, term = 1;
    for (int k = 1; k < 200 && term > 1e-18 * sum; k++) {
        term *= x * x / (4.0 * k * k);
        sum += term;
    }
    return sum;
}

double ht_kaiser(double u, double beta)
{
    if (fabs(u) > 1)
        return 0;
    return bessel_i0(beta * sqrt(1 - u * u)) / bessel_i0(beta);
}
