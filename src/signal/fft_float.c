/* fft_float.c - n reals as n / 2 complex numbers (Press et al., Numerical
 * Recipes, 12.3): FFTW plans that in a fiftieth of the time that it takes to
 * plan for reals, and runs it faster. */
#include "fft.h"

#include "common/memory.h"
#include "phasor.h"
#include "planner.h"

#include <fftw3.h> /* after complex.h: fftwf_complex is float complex */
#include <limits.h>
#include <stdbool.h>

struct ht_fft_f {
    float *input;
    float complex *output;
    fftwf_plan plan;
    float *cosine, *sine; /* of k / n turns; NULL: n is odd, and not halved */
    size_t n;
    bool borrowed; /* plan, cosine and sine */
};

static struct ht_fft_f *with_buffers(size_t n)
{
    struct ht_fft_f *fft = ht_allocate(1, sizeof *fft);
    if (!fft)
        return NULL;
    fft->n = n;
    fft->input = fftwf_alloc_real(n + 2);
    fft->output = fftwf_alloc_complex(n / 2 + 1);
    if (fft->input && fft->output)
        return fft;
    ht_fft_f_free(fft);
    return NULL;
}

static bool fill_turns(struct ht_fft_f *fft)
{
    size_t count = fft->n / 4 + 1;
    fft->cosine = ht_reserve(2 * count, sizeof *fft->cosine);
    if (!fft->cosine)
        return false;
    fft->sine = fft->cosine + count;
    for (size_t k = 0; k < count; k++) {
        struct ht_phasor turn = ht_phasor_of((double)k / (double)fft->n);
        fft->cosine[k] = (float)turn.re;
        fft->sine[k] = (float)turn.im;
    }
    return true;
}

static bool make_plan(struct ht_fft_f *fft)
{
    bool odd = fft->n % 2;
    if (!odd && !fill_turns(fft))
        return false;
    ht_planner_lock();
    fft->plan = odd ? fftwf_plan_dft_r2c_1d((int)fft->n, fft->input,
                                            fft->output, FFTW_ESTIMATE)
                    : fftwf_plan_dft_1d((int)(fft->n / 2),
                                        (fftwf_complex *)(void *)fft->input,
                                        fft->output, FFTW_FORWARD,
                                        FFTW_ESTIMATE);
    ht_planner_unlock();
    return fft->plan != NULL;
}

struct ht_fft_f *ht_fft_f_create(size_t n)
{
    if (n == 0 || n > INT_MAX / 2)
        return NULL;
    struct ht_fft_f *fft = with_buffers(n);
    if (!fft || make_plan(fft))
        return fft;
    ht_fft_f_free(fft);
    return NULL;
}

struct ht_fft_f *ht_fft_f_twin(const struct ht_fft_f *of)
{
    struct ht_fft_f *fft = with_buffers(of->n);
    if (!fft)
        return NULL;
    fft->plan = of->plan;
    fft->cosine = of->cosine;
    fft->sine = of->sine;
    fft->borrowed = true;
    return fft;
}

float *ht_fft_f_input(struct ht_fft_f *fft)
{
    return fft->input;
}

/* Spectra of the even and of the odd samples lie in one: taken apart, turned
 * and joined, the lines k and half - k together. */
static void join_halves(const struct ht_fft_f *fft)
{
    size_t half = fft->n / 2;
    float *x = (float *)fft->output;
    float re = x[0], im = x[1];
    for (size_t k = 1, l = half - 1; k <= l; k++, l--) {
        float *a = x + 2 * k, *b = x + 2 * l;
        float even_re = 0.5F * (a[0] + b[0]), even_im = 0.5F * (a[1] - b[1]);
        float odd_re = 0.5F * (a[1] + b[1]), odd_im = 0.5F * (b[0] - a[0]);
        float c = fft->cosine[k], s = fft->sine[k];
        float by_re = c * odd_re + s * odd_im;
        float by_im = c * odd_im - s * odd_re;
        b[0] = even_re - by_re;
        b[1] = by_im - even_im;
        a[0] = even_re + by_re;
        a[1] = even_im + by_im;
    }
    x[0] = re + im;
    x[2 * half] = re - im;
    x[1] = x[2 * half + 1] = 0;
}

const float complex *ht_fft_f_run(struct ht_fft_f *fft)
{
    if (fft->cosine) {
        fftwf_execute_dft(fft->plan, (fftwf_complex *)(void *)fft->input,
                          fft->output);
        join_halves(fft);
    } else {
        fftwf_execute_dft_r2c(fft->plan, fft->input, fft->output);
    }
    return fft->output;
}

void ht_fft_f_free(struct ht_fft_f *fft)
{
    if (!fft)
        return;
    ht_planner_lock();
    if (fft->plan && !fft->borrowed)
        fftwf_destroy_plan(fft->plan);
    ht_planner_unlock();
    if (!fft->borrowed)
        ht_release(fft->cosine);
    fftwf_free(fft->input);
    fftwf_free(fft->output);
    ht_release(fft);
}
