#include "interpolate.h"

#include "common/constants.h"
#include "dot.h"
#include "window.h"

#include <math.h>

static const double SINC_BETA = 9;

void ht_sinc_fill(struct ht_sinc *sinc)
{
    for (int p = 0; p <= HT_SINC_PHASES; p++) {
        double tap[HT_SINC_TAPS], sum = 0;
        for (int k = 0; k < HT_SINC_TAPS; k++) {
            double x = k - (HT_SINC_TAPS / 2 - 1) - (double)p / HT_SINC_PHASES;
            double ideal = x == 0 ? 1 : sin(HT_PI * x) / (HT_PI * x);
            tap[k] = ideal * ht_kaiser(x / (HT_SINC_TAPS / 2), SINC_BETA);
            sum += tap[k];
        }
        for (int k = 0; k < HT_SINC_TAPS; k++)
            sinc->tap[p][k] = (float)(tap[k] / sum);
    }
}

float ht_sinc_at(const struct ht_sinc *sinc, const float *x, size_t n,
                 double p)
{
    double whole = floor(p), phase = (p - whole) * HT_SINC_PHASES;
    int low = (int)phase;
    if (low >= HT_SINC_PHASES)
        low = HT_SINC_PHASES - 1;
    float share = (float)(phase - low), held[HT_SINC_TAPS];
    double first = whole - (HT_SINC_TAPS / 2 - 1);
    if (first + HT_SINC_TAPS <= 0 || first >= (double)n)
        return 0;
    const float *from = held;
    if (first >= 0 && first + HT_SINC_TAPS <= (double)n)
        from = x + (size_t)first;
    else
        for (int k = 0; k < HT_SINC_TAPS; k++) {
            double at = first + k;
            held[k] = at >= 0 && at < (double)n ? x[(size_t)at] : 0;
        }
    float a = ht_dot_f(sinc->tap[low], from, HT_SINC_TAPS);
    float b = ht_dot_f(sinc->tap[low + 1], from, HT_SINC_TAPS);
    return a + share * (b - a);
}

void ht_monotone_slopes(const double *x, const double *y, double *slope,
                        size_t n)
{
    double before = (y[1] - y[0]) / (x[1] - x[0]);
    slope[0] = before;
    for (size_t i = 1; i + 1 < n; i++) {
        double left = x[i] - x[i - 1], right = x[i + 1] - x[i];
        double after = (y[i + 1] - y[i]) / right;
        /* weighted harmonic mean: Fritsch and Butland 1984 */
        double a = 2 * right + left, b = right + 2 * left;
        slope[i] = before * after <= 0
                       ? 0
                       : (a + b) / (a / before + b / after);
        before = after;
    }
    slope[n - 1] = before;
}

double ht_monotone_at(const double *x, const double *y, const double *slope,
                      size_t i, double at)
{
    double h = x[i + 1] - x[i], t = (at - x[i]) / h, u = 1 - t;
    return u * u * ((1 + 2 * t) * y[i] + t * h * slope[i]) +
           t * t * ((1 + 2 * u) * y[i + 1] - u * h * slope[i + 1]);
}
