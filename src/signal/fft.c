#include "fft.h"

#include "common/memory.h"

#include <fftw3.h> /* after complex.h: fftw_complex is double complex */
#include <limits.h>
#include <pthread.h>
#include <stdbool.h>

/* FFTW's planner is not safe from two threads; running a plan is. */
static pthread_mutex_t planner = PTHREAD_MUTEX_INITIALIZER;

#define DEFINE_FFT(type, real, prefix, create, twin, input_of, run, release)   \
    struct type {                                                              \
        real *input;                                                           \
        real complex *output;                                                  \
        prefix##_plan plan;                                                    \
        size_t n;                                                              \
        bool borrowed; /* the plan */                                          \
    };                                                                         \
    /* The planner's lock is held. */                                          \
    static struct type *type##_with_buffers(size_t n)                          \
    {                                                                          \
        struct type *fft = ht_allocate(1, sizeof *fft);                        \
        if (!fft)                                                              \
            return NULL;                                                       \
        fft->n = n;                                                            \
        fft->input = prefix##_alloc_real(n + 2);                               \
        fft->output = prefix##_alloc_complex(n / 2 + 1);                       \
        return fft;                                                            \
    }                                                                          \
    struct type *create(size_t n)                                              \
    {                                                                          \
        if (n == 0 || n > INT_MAX / 2)                                         \
            return NULL;                                                       \
        (void)pthread_mutex_lock(&planner);                                    \
        struct type *fft = type##_with_buffers(n);                             \
        if (fft && fft->input && fft->output)                                  \
            fft->plan = prefix##_plan_dft_r2c_1d((int)n, fft->input,           \
                                                 fft->output, FFTW_ESTIMATE);  \
        (void)pthread_mutex_unlock(&planner);                                  \
        if (fft && fft->plan)                                                  \
            return fft;                                                        \
        release(fft);                                                          \
        return NULL;                                                           \
    }                                                                          \
    struct type *twin(const struct type *of)                                   \
    {                                                                          \
        (void)pthread_mutex_lock(&planner);                                    \
        struct type *fft = type##_with_buffers(of->n);                         \
        (void)pthread_mutex_unlock(&planner);                                  \
        if (!fft || !fft->input || !fft->output) {                             \
            release(fft);                                                      \
            return NULL;                                                       \
        }                                                                      \
        fft->plan = of->plan;                                                  \
        fft->borrowed = true;                                                  \
        return fft;                                                            \
    }                                                                          \
    real *input_of(struct type *fft)                                           \
    {                                                                          \
        return fft->input;                                                     \
    }                                                                          \
    const real complex *run(struct type *fft)                                  \
    {                                                                          \
        prefix##_execute_dft_r2c(fft->plan, fft->input, fft->output);          \
        return fft->output;                                                    \
    }                                                                          \
    void release(struct type *fft)                                             \
    {                                                                          \
        if (!fft)                                                              \
            return;                                                            \
        (void)pthread_mutex_lock(&planner);                                    \
        if (fft->plan && !fft->borrowed)                                       \
            prefix##_destroy_plan(fft->plan);                                  \
        prefix##_free(fft->input);                                             \
        prefix##_free(fft->output);                                            \
        (void)pthread_mutex_unlock(&planner);                                  \
        ht_release(fft);                                                       \
    }

DEFINE_FFT(ht_fft, double, fftw, ht_fft_create, ht_fft_twin, ht_fft_input,
           ht_fft_run, ht_fft_free)
DEFINE_FFT(ht_fft_f, float, fftwf, ht_fft_f_create, ht_fft_f_twin,
           ht_fft_f_input, ht_fft_f_run, ht_fft_f_free)
