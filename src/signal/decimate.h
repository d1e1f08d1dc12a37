/* decimate.h - streaming decimation of float samples in two stages.
 *
 * Linear-phase FIR, Kaiser window (Kaiser 1974, order and beta by his
 * formulae). Output frame k stands for time k * factor / rate exactly: the
 * filters' delay is taken out; beyond the ends the first and the last value go
 * on, so that an offset makes no step there. Flat within 0.1 % up to
 * pass_share of the output's Nyquist rate, at least 80 dB down from where
 * aliases would fall into that band.
 */
#ifndef HALFTURN_SIGNAL_DECIMATE_H
#define HALFTURN_SIGNAL_DECIMATE_H

#include <stdbool.h>
#include <stddef.h>

struct ht_decimator;

/* factor >= 1 (1: a plain copy); 0 < pass_share <= 0.9. NULL: no memory. */
struct ht_decimator *ht_decimator_create(size_t factor, double pass_share);
void ht_decimator_free(struct ht_decimator *decimator);

/* Takes n samples and appends what they give to *out, an array of `room`
 * items grown by ht_grow. False: out of memory. */
bool ht_decimator_push(struct ht_decimator *decimator, const float *samples,
                       size_t n, float **out, size_t *room, size_t *count);

/* After the last sample: appends what is still inside, so that the output
 * holds ceil(input / factor) samples in all. */
bool ht_decimator_finish(struct ht_decimator *decimator, float **out,
                         size_t *room, size_t *count);

/* Low-pass of `taps` (odd) coefficients with unit gain at 0: cutoff in cycles
 * per sample, Kaiser's beta. For other filters of the house. */
void ht_lowpass_design(double *h, size_t taps, double cutoff, double beta);

#endif
