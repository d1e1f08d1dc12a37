/* window.h - analysis windows, and the two numbers that undo them.
 *
 * Pure. Periodic form (denominator n). Harris, Proc. IEEE 66 (1978), table 1;
 * flat top: ISO 18431-2:2004 coefficients.
 */
#ifndef HALFTURN_SIGNAL_WINDOW_H
#define HALFTURN_SIGNAL_WINDOW_H

#include <stddef.h>

enum ht_window { HT_WINDOW_RECT, HT_WINDOW_HANN, HT_WINDOW_FLAT_TOP,
                 HT_WINDOWS };

struct ht_window_gain {
    double amplitude;  /* mean of w: divide a peak by it, [1] */
    double noise_bins; /* equivalent noise bandwidth, [bins] */
};

/* Fills w[0 .. n-1], n >= 2. */
struct ht_window_gain ht_window_fill(enum ht_window kind, double *w, size_t n);

/* Kaiser's window at u = -1 .. 1 (0 outside), beta >= 0. */
double ht_kaiser(double u, double beta);

#endif
