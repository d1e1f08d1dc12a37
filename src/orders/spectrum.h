/* spectrum.h - order spectrum of a block from unevenly spaced angles.
 *
 * The sum of x e^(-2 pi j o turns) at every multiple o of 1/block_turns, by
 * spreading each sample over six cells of a finer even grid and one FFT
 * (Dutt and Rokhlin, SIAM J. Sci. Comput. 14 (1993); kernel of Barnett,
 * Magland and af Klinteberg, SIAM J. Sci. Comput. 41 (2019)). No
 * interpolation error and no fold-down: the sum is exact to 1e-5 of the
 * largest sample.
 */
#ifndef HALFTURN_ORDERS_SPECTRUM_H
#define HALFTURN_ORDERS_SPECTRUM_H

#include <stdbool.h>
#include <stddef.h>

/* Taps lie eight apart, two of them 0: whole vectors. */
enum { HT_TAPS = 6, HT_TAP_ROOM = 8, HT_PHASES = 512 };

struct ht_spectrum {
    size_t lines, cells;
    double cells_per_turn;
    float *kernel;      /* [(HT_PHASES + 1) * HT_TAP_ROOM] */
    double *undo;       /* [lines]: the kernel's own attenuation */
    float *cell;        /* [cells + HT_TAP_ROOM] */
    struct ht_fft_f *fft;
    void *memory;
};

/* Where one sample goes. */
struct ht_drop {
    size_t first;
    float share[HT_TAP_ROOM];
};

/* Lines 0..lines-1; block_turns a power of two. like: another of the same,
 * which outlives it and whose tables and plan it uses; NULL: none. */
bool ht_spectrum_create(struct ht_spectrum *s, double block_turns,
                        size_t lines, const struct ht_spectrum *like);
void ht_spectrum_free(struct ht_spectrum *s);

/* turns: from the block's start, 0 <= turns <= block_turns. */
struct ht_drop ht_spectrum_place(const struct ht_spectrum *s, double turns);
void ht_spectrum_clear(struct ht_spectrum *s);
/* Adds n samples where they belong; offset: cells to add to their places. */
void ht_spectrum_add(struct ht_spectrum *s, const struct ht_drop *drop,
                     const float *value, size_t n, size_t offset);
/* power[line] += |scale * sum|^2. */
void ht_spectrum_run(struct ht_spectrum *s, double scale, double *power);

#endif
