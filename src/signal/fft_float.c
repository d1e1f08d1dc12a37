/* fft_float.c - n reals as n / 2 complex numbers (Press et al., Numerical
 * Recipes, 12.3): FFTW plans that in a fiftieth of the time that it takes to
 * plan for reals, and runs it faster. */
#include "fft.h"

#include "common/memory.h"
#include "lanes.h"
#include "phasor.h"
#include "planner.h"

#include <fftw3.h> /* after complex.h: fftwf_complex is float complex */
#include <limits.h>
#include <stdbool.h>
#include <string.h>

struct ht_fft_f {
    float *input;
    float complex *output;
    fftwf_plan plan;
    float *turn; /* see fill_turns; NULL: n is odd, and not halved */
    size_t n;
    bool borrowed; /* plan and turns */
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

/* c, -c and then -s, -s for every line k up to a quarter of n: cosine and sine
 * of k / n turns as they meet the two parts of a complex number. */
static bool fill_turns(struct ht_fft_f *fft)
{
    size_t count = fft->n / 4 + 1;
    fft->turn = ht_reserve(4 * count, sizeof *fft->turn);
    if (!fft->turn)
        return false;
    for (size_t k = 0; k < count; k++) {
        struct ht_phasor turn = ht_phasor_of((double)k / (double)fft->n);
        float *c = fft->turn + 2 * k, *s = c + 2 * count;
        c[0] = (float)turn.re;
        c[1] = -c[0];
        s[0] = s[1] = -(float)turn.im;
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
    fft->turn = of->turn;
    fft->borrowed = true;
    return fft;
}

float *ht_fft_f_input(struct ht_fft_f *fft)
{
    return fft->input;
}

enum { TOGETHER = HT_LANES / 2 }; /* complex numbers */

/* Lines from a on, and as many up to b, which mirror them: spectra of even and
 * of odd samples are taken apart, the odd one is turned, both are joined. */
HT_WIDE_PART void join(float *a, float *b, const float *c, const float *s)
{
    const ht_lanes_f conjugate = { 1, -1, 1, -1, 1, -1, 1, -1 };
    float *back = b + 2 - HT_LANES;
    ht_lanes_f x, y, cosine, sine;
    HT_LANES_LOAD(x, a);
    HT_LANES_LOAD(cosine, c);
    HT_LANES_LOAD(sine, s);
    HT_LANES_LOAD(y, back);
    y = conjugate * __builtin_shufflevector(y, y, 6, 7, 4, 5, 2, 3, 0, 1);
    ht_lanes_f even = 0.5F * (x + y), odd = 0.5F * (x - y);
    ht_lanes_f turned =
        cosine * __builtin_shufflevector(odd, odd, 1, 0, 3, 2, 5, 4, 7, 6) +
        sine * odd;
    x = even + turned;
    y = conjugate * (even - turned);
    y = __builtin_shufflevector(y, y, 6, 7, 4, 5, 2, 3, 0, 1);
    HT_LANES_STORE(back, y);
    HT_LANES_STORE(a, x);
}

/* The same for one line. */
HT_WIDE_PART void join_one(float *a, float *b, const float *c, const float *s)
{
    float x[HT_LANES] = { 0 }, y[HT_LANES] = { 0 };
    float cosine[HT_LANES] = { 0 }, sine[HT_LANES] = { 0 };
    memcpy(x, a, 2 * sizeof *a);
    memcpy(cosine, c, 2 * sizeof *c);
    memcpy(sine, s, 2 * sizeof *s);
    memcpy(y + HT_LANES - 2, b, 2 * sizeof *b);
    join(x, y + HT_LANES - 2, cosine, sine);
    memcpy(b, y + HT_LANES - 2, 2 * sizeof *b);
    memcpy(a, x, 2 * sizeof *a);
}

HT_WIDE static void join_halves(float *x, const float *turn, size_t half)
{
    const float *c = turn, *s = turn + 2 * (half / 2 + 1);
    float re = x[0], im = x[1];
    size_t k = 1, l = half - 1;
    for (; k + 2 * TOGETHER <= l + 1; k += TOGETHER, l -= TOGETHER)
        join(x + 2 * k, x + 2 * l, c + 2 * k, s + 2 * k);
    for (; k <= l; k++, l--)
        join_one(x + 2 * k, x + 2 * l, c + 2 * k, s + 2 * k);
    x[0] = re + im;
    x[2 * half] = re - im;
    x[1] = x[2 * half + 1] = 0;
}

const float complex *ht_fft_f_run(struct ht_fft_f *fft)
{
    if (fft->turn) {
        fftwf_execute_dft(fft->plan, (fftwf_complex *)(void *)fft->input,
                          fft->output);
        join_halves((float *)fft->output, fft->turn, fft->n / 2);
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
        ht_release(fft->turn);
    fftwf_free(fft->input);
    fftwf_free(fft->output);
    ht_release(fft);
}
