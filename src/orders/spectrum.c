#include "spectrum.h"

#include <math.h>
#include <string.h>

#include "common/memory.h"
#include "signal/fft.h"
#include "signal/phasor.h"
#include "signal/lanes.h"

/* exp(beta (sqrt(1 - z^2) - 1)), beta = 2.3 taps at twofold oversampling. */
static double kernel(double z)
{
    double q = 1 - z * z;
    return q > 0 ? exp(2.3 * HT_TAPS * (sqrt(q) - 1)) : 0;
}

/* Fourier transform of the kernel at every line, in cycles per cell; midpoint
 * rule over half of the even kernel, whose error falls faster than any power
 * for a smooth one. */
static void fill_undo(struct ht_spectrum *s)
{
    enum { STEPS = 64 };
    double half = HT_TAPS / 2.0, value[STEPS];
    for (size_t i = 0; i < STEPS; i++)
        value[i] = kernel(((double)i + 0.5) / STEPS);
    for (size_t l = 0; l < s->lines; l++) {
        double cycles = (double)l / (double)s->cells, sum = 0;
        for (size_t i = 0; i < STEPS; i++)
            sum += value[i] * ht_phasor_of(cycles * half *
                                           ((double)i + 0.5) / STEPS).re;
        s->undo[l] = STEPS / (2 * half * sum);
    }
}

static void fill_kernel(struct ht_spectrum *s)
{
    double half = HT_TAPS / 2.0;
    for (size_t p = 0; p <= HT_PHASES; p++)
        for (size_t k = 0; k < HT_TAPS; k++) {
            double x = (double)k - (half - 1) - (double)p / HT_PHASES;
            s->kernel[p * HT_TAP_ROOM + k] = (float)kernel(x / half);
        }
}

/* Tables and plan are made once, for all spectra of a kind. */
static bool make_own(struct ht_spectrum *s, struct ht_arena *arena)
{
    s->kernel = ht_arena_get(arena, (HT_PHASES + 1) * HT_TAP_ROOM,
                             sizeof *s->kernel);
    s->undo = ht_arena_get(arena, s->lines, sizeof *s->undo);
    s->fft = ht_fft_f_create(s->cells);
    if (!s->kernel || !s->undo || !s->fft)
        return false;
    fill_kernel(s);
    fill_undo(s);
    return true;
}

static bool borrow(struct ht_spectrum *s, const struct ht_spectrum *like)
{
    s->kernel = like->kernel;
    s->undo = like->undo;
    s->fft = ht_fft_f_twin(like->fft);
    return s->fft != NULL;
}

bool ht_spectrum_create(struct ht_spectrum *s, double block_turns,
                        size_t lines, const struct ht_spectrum *like)
{
    *s = (struct ht_spectrum){ .lines = lines, .cells = 64 };
    while (s->cells < 4 * lines)
        s->cells *= 2;
    s->cells_per_turn = (double)s->cells / block_turns;
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (!arena)
        return false;
    s->memory = arena;
    s->cell = ht_arena_get(arena, s->cells + HT_TAP_ROOM, sizeof *s->cell);
    return s->cell && (like ? borrow(s, like) : make_own(s, arena));
}

void ht_spectrum_free(struct ht_spectrum *s)
{
    ht_fft_f_free(s->fft);
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
    float u = (float)(phase - (double)p);
    const float *a = &s->kernel[p * HT_TAP_ROOM], *b = a + HT_TAP_ROOM;
    for (size_t k = 0; k < HT_TAP_ROOM; k++)
        drop.share[k] = a[k] + u * (b[k] - a[k]);
    return drop;
}

void ht_spectrum_clear(struct ht_spectrum *s)
{
    memset(s->cell, 0, (s->cells + HT_TAP_ROOM) * sizeof *s->cell);
}

HT_WIDE void ht_spectrum_add(struct ht_spectrum *s,
                             const struct ht_drop *drop, const float *value,
                             size_t n, size_t offset)
{
    for (size_t i = 0; i < n; i++) {
        float *at = &s->cell[drop[i].first + offset];
        ht_lanes_f cell, share;
        HT_LANES_LOAD(cell, at);
        HT_LANES_LOAD(share, drop[i].share);
        cell += value[i] * share;
        HT_LANES_STORE(at, cell);
    }
}

void ht_spectrum_run(struct ht_spectrum *s, double scale, double *power)
{
    for (size_t k = 0; k < HT_TAP_ROOM; k++) /* the block closes on itself */
        s->cell[k] += s->cell[s->cells + k];
    memcpy(ht_fft_f_input(s->fft), s->cell, s->cells * sizeof *s->cell);
    const float complex *line = ht_fft_f_run(s->fft);
    for (size_t l = 0; l < s->lines; l++) {
        double re = (double)crealf(line[l]), im = (double)cimagf(line[l]);
        double undo = scale * s->undo[l];
        power[l] += (re * re + im * im) * undo * undo;
    }
}
