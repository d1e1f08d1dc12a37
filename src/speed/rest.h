/* rest.h - orders brought to rest.
 *
 * The samples times exp(-2 pi j order turns), thinned to the wheel's grid:
 * an order that is there becomes a slow complex value. The samples are read
 * once, along the wheel's angle of that moment; a better angle later turns
 * the slow values only, which is the same as long as the angle's correction
 * is slow against the grid.
 */
#ifndef HALFTURN_SPEED_REST_H
#define HALFTURN_SPEED_REST_H

#include "comb.h"
#include "wheel.h"

struct ht_rest {
    size_t points, channels, lines;
    double order[HT_LINES_MAX];
    double *turns;  /* [point]: the angle that the samples were read along */
    float *re, *im; /* [(line * channels + channel) * points + point] */
    void *memory;
};
/* use[line]: which of the lines; those left out are not counted. False: out
 * of memory, and the rest is empty. */
bool ht_rest_create(struct ht_rest *rest, const struct ht_wheel *wheel,
                    const struct ht_work *work, const struct ht_lines *lines,
                    const bool *use);
void ht_rest_free(struct ht_rest *rest);

/* Room for the slow values of one line, turned to another angle. */
struct ht_turned {
    float *cosine, *sine; /* [point]: of the turn, set by ht_rest_aim */
    float *re, *im;       /* [point]: filled by ht_rest_turn */
};
/* What turns a line's values from the angle they were read along to the
 * wheel's angle of now; then one channel's values. */
void ht_rest_aim(const struct ht_rest *rest, size_t line,
                 const struct ht_wheel *wheel, struct ht_turned *turned);
void ht_rest_turn(const struct ht_rest *rest, size_t line, size_t channel,
                  struct ht_turned *turned);

#endif
