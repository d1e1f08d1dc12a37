/* interpolate.h - values between samples.
 *
 * Pure. 24-tap Kaiser windowed sinc (beta 9), unit sum for constants: within
 * -80 dB up to 0.35 of the rate (Smith, digital audio resampling; measured in
 * tests/signal/test_interpolate.c). Monotone cubic (Fritsch and Carlson 1980)
 * for slow, coarse series such as a speed log.
 */
#ifndef HALFTURN_SIGNAL_INTERPOLATE_H
#define HALFTURN_SIGNAL_INTERPOLATE_H

#include <stddef.h>

enum { HT_SINC_TAPS = 24, HT_SINC_PHASES = 512 };

struct ht_sinc {
    float tap[HT_SINC_PHASES + 1][HT_SINC_TAPS];
};

void ht_sinc_fill(struct ht_sinc *sinc);
/* x at position p (in samples); beyond the ends x is 0. */
float ht_sinc_at(const struct ht_sinc *sinc, const float *x, size_t n,
                 double p);

/* Slopes for a monotone cubic through (x, y), x rising, n >= 2. */
void ht_monotone_slopes(const double *x, const double *y, double *slope,
                        size_t n);
/* Value of that cubic between points i and i + 1. */
double ht_monotone_at(const double *x, const double *y, const double *slope,
                      size_t i, double at);

#endif
