/* fir.h - a filter run over samples, some steps apart.
 *
 * Pure. Each output is the sum that ht_dot_f gives for it, bit for bit: eight
 * partial sums in its order. Several outputs are computed side by side.
 */
#ifndef HALFTURN_SIGNAL_FIR_H
#define HALFTURN_SIGNAL_FIR_H

#include <stddef.h>

/* out[i] = sum h[k] * x[i * step + k], k < taps, i < count. `taps` is a
 * multiple of 8: fill h up with noughts. */
void ht_fir_run(const float *h, size_t taps, const float *x, size_t step,
                float *out, size_t count);

#endif
