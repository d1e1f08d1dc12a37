#include "spectrum.h"

#include <math.h>
#include <string.h>

#include "common/constants.h"
#include "common/memory.h"
#include "signal/fft.h"

/* exp(beta (sqrt(1 - z^2) - 1)), beta = 2.3 taps at twofold oversampling. */
static double kernel(double z)
{
    double q = 1 - z * z;
    return q > 0 ? exp(2.3 * HT_TAPS * (sqrt(q) - 1)) : 0;
}

/* Fourier transform of the kernel at `cycles` per cell; midpoint rule, whose
 * error falls faster than any power for a smooth kernel. */
static double kernel_transform(double cycles)
{
    enum { STEPS = 400 };
    double half = HT_TAPS / 2.0, sum = 0;
    for (int i = 0; i < STEPS; i++) {
        double x = ((i + 0.5) / STEPS * 2 - 1) * half;
        sum += kernel(x / half) * cos(2 * HT_PI * cycles * x);
    }
    return sum * 2 * half / STEPS;
}

static void fill_tables(struct ht_spectrum *s)
{
    double half = HT_TAPS / 2.0;
    for (size_t p = 0; p <= HT_PHASES; p++)
        for (size_t k = 0; k < HT_TAPS; k++) {
            double x = (double)k - (half - 1) - (double)p / HT_PHASES;
            s->kernel[p * HT_TAPS + k] = kernel(x / half);
        }
    for (size_t l = 0; l < s->lines; l++)
        s->undo[l] = 1 / kernel_transform((double)l / (double)s->cells);
}

bool ht_spectrum_create(struct ht_spectrum *s, double block_turns,
                        size_t lines)
{
    *s = (struct ht_spectrum){ .lines = lines, .cells = 64 };
    while (s->cells < 4 * lines)
        s->cells *= 2;
    s->cells_per_turn = (double)s->cells / block_turns;
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (!arena)
        return false;
    s->memory = arena;
    s->kernel = ht_arena_get(arena, (HT_PHASES + 1) * HT_TAPS,
                             sizeof *s->kernel);
    s->undo = ht_arena_get(arena, lines, sizeof *s->undo);
    s->cell = ht_arena_get(arena, s->cells + HT_TAPS, sizeof *s->cell);
    s->fft = ht_fft_create(s->cells);
    if (!s->kernel || !s->undo || !s->cell || !s->fft)
        return false;
    fill_tables(s);
    return true;
}

void ht_spectrum_free(struct ht_spectrum *s)
{
    ht_fft_free(s->fft);
    if (s->memory)
        ht_arena_free(s->memory);
    ht_release(s->memory);
    *s = (struct ht_spectrum){ 0 };
}

/* Cells are counted from 2 before the block's start, so that no index is
 * below 0; the shift turns phases only. */
struct ht_drop ht_spectrum_place(const struct ht_spectrum *s, double turns)
{
    struct ht_drop drop;
    double at = turns * s->cells_per_turn;
    drop.first = (size_t)at;
    double phase = (at - (double)drop.first) * HT_PHASES;
    size_t p = (size_t)phase;
    double u = phase - (double)p;
    const double *a = &s->kernel[p * HT_TAPS], *b = a + HT_TAPS;
    for (size_t k = 0; k < HT_TAPS; k++)
        drop.share[k] = a[k] + u * (b[k] - a[k]);
    return drop;
}

void ht_spectrum_clear(struct ht_spectrum *s)
{
    memset(s->cell, 0, (s->cells + HT_TAPS) * sizeof *s->cell);
}

void ht_spectrum_add(struct ht_spectrum *s, const struct ht_drop *drop,
                     size_t offset, double value)
{
    double *cell = &s->cell[drop->first + offset];
    for (size_t k = 0; k < HT_TAPS; k++)
        cell[k] += value * drop->share[k];
}

void ht_spectrum_run(struct ht_spectrum *s, double scale, double *power)
{
    for (size_t k = 0; k < HT_TAPS; k++)   /* the block closes on itself */
        s->cell[k] += s->cell[s->cells + k];
    memcpy(ht_fft_input(s->fft), s->cell, s->cells * sizeof *s->cell);
    const double complex *line = ht_fft_run(s->fft);
    for (size_t l = 0; l < s->lines; l++) {
        double re = creal(line[l]), im = cimag(line[l]);
        double undo = scale * s->undo[l];
        power[l] += (re * re + im * im) * undo * undo;
    }
}
