/* fft.h - real-to-complex transforms behind a plan.
 *
 * Plans are made under one lock with FFTW_ESTIMATE and no wisdom: identical
 * results in every run. A plan may be run from one thread at a time.
 * X[k] = sum x[n] exp(-2 pi i k n / N), k = 0 .. N/2.
 */
#ifndef HALFTURN_SIGNAL_FFT_H
#define HALFTURN_SIGNAL_FFT_H

#include <complex.h>
#include <stddef.h>

struct ht_fft;   /* double */
struct ht_fft_f; /* float */

/* n >= 1; NULL when out of memory or n is out of range. */
struct ht_fft *ht_fft_create(size_t n);
/* Another with buffers of its own, for another thread; the first must outlive
 * it. NULL when out of memory. */
struct ht_fft *ht_fft_twin(const struct ht_fft *of);
/* The plan's own buffers: fill n reals, run, read n / 2 + 1 values. Running
 * may overwrite the input. */
double *ht_fft_input(struct ht_fft *fft);
const double complex *ht_fft_run(struct ht_fft *fft);
void ht_fft_free(struct ht_fft *fft);

struct ht_fft_f *ht_fft_f_create(size_t n);
struct ht_fft_f *ht_fft_f_twin(const struct ht_fft_f *of);
float *ht_fft_f_input(struct ht_fft_f *fft);
const float complex *ht_fft_f_run(struct ht_fft_f *fft);
void ht_fft_f_free(struct ht_fft_f *fft);

#endif
