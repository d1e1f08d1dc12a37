#include "fft.h"

#include "common/memory.h"
#include "planner.h"

#include <fftw3.h> /* after complex.h: fftw_complex is double complex */
#include <limits.h>
#include <stdbool.h>

struct ht_fft {
    double *input;
    double complex *output;
    fftw_plan plan;
    size_t n;
    bool borrowed; /* the plan */
};

static struct ht_fft *with_buffers(size_t n)
{
    struct ht_fft *fft = ht_allocate(1, sizeof *fft);
    if (!fft)
        return NULL;
    fft->n = n;
    fft->input = fftw_alloc_real(n + 2);
    fft->output = fftw_alloc_complex(n / 2 + 1);
    if (fft->input && fft->output)
        return fft;
    ht_fft_free(fft);
    return NULL;
}

struct ht_fft *ht_fft_create(size_t n)
{
    if (n == 0 || n > INT_MAX / 2)
        return NULL;
    struct ht_fft *fft = with_buffers(n);
    if (!fft)
        return NULL;
    ht_planner_lock();
    fft->plan = fftw_plan_dft_r2c_1d((int)n, fft->input, fft->output,
                                     FFTW_ESTIMATE);
    ht_planner_unlock();
    if (fft->plan)
        return fft;
    ht_fft_free(fft);
    return NULL;
}

struct ht_fft *ht_fft_twin(const struct ht_fft *of)
{
    struct ht_fft *fft = with_buffers(of->n);
    if (!fft)
        return NULL;
    fft->plan = of->plan;
    fft->borrowed = true;
    return fft;
}

double *ht_fft_input(struct ht_fft *fft)
{
    return fft->input;
}

const double complex *ht_fft_run(struct ht_fft *fft)
{
    fftw_execute_dft_r2c(fft->plan, fft->input, fft->output);
    return fft->output;
}

void ht_fft_free(struct ht_fft *fft)
{
    if (!fft)
        return;
    ht_planner_lock();
    if (fft->plan && !fft->borrowed)
        fftw_destroy_plan(fft->plan);
    ht_planner_unlock();
    fftw_free(fft->input);
    fftw_free(fft->output);
    ht_release(fft);
}
