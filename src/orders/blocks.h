/* blocks.h - a drive cut into half-overlapping blocks of wheel turns.
 *
 * For every block: the complex peak amplitude of every column of the plan in
 * every channel, and the power of every line of its order spectrum, summed
 * by speed row. Blocks are Hann weighted over angle and hop by half their
 * length, so every turn inside a stretch counts the same.
 */
#ifndef HALFTURN_ORDERS_BLOCKS_H
#define HALFTURN_ORDERS_BLOCKS_H

#include "halfturn/orders.h"
#include "joint.h"
#include "plan.h"
#include "stretch.h"

enum { HT_PARTS = 16 };

struct ht_block {
    double middle_s, speed_m_s;
    float part_m_s[HT_PARTS];  /* speed in each sixteenth of its turns */
    double sd_turns;      /* of the angle inside the block */
    size_t active;        /* columns below the band's edge: the lowest ones */
    size_t hop;           /* its second hop, counted over all stretches */
    bool follows;         /* overlaps the block before it in the list */
    size_t row;
};

struct ht_blocks {
    size_t count, channels, columns;
    double block_turns;
    struct ht_block *block;
    struct ht_phasor *amplitude; /* [(block * columns + column) * channels
                                     + channel] */
    float *loud;                 /* likewise: noise power beside the column,
                                    geometric mean of this block's lines */
    size_t lines;                /* of the order spectrum, 1/block_turns
                                    apart, from 0 */
    size_t rows, first_row;      /* row r: speeds (first_row + r) * width */
    size_t *row_blocks;
    double *row_power;           /* [(row * channels + channel) * lines
                                     + line]: summed |peak amplitude|^2 */
    double *own;                 /* [lines]: of the block at hand */
    bool *lone;                  /* [lines]: no column is near */
    double order_max;            /* outer edge of the map */
    double circumference_m;
    double band_hz;              /* lines above say nothing */
    void *memory;
};

#define HT_ROW_M_S (2 / 3.6)

/* False when out of memory. */
bool ht_blocks_cut(struct ht_blocks *blocks, const struct ht_plan *plan,
                   const struct ht_joint *joint,
                   const struct ht_stretches *stretches,
                   const struct ht_recording *recording,
                   const struct ht_turns *turns);
void ht_blocks_free(struct ht_blocks *blocks);

/* Highest frequency that is trusted: flat band, 0.45 of the rate. */
double ht_trusted_hz(const struct ht_recording *recording);

#endif
