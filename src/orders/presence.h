/* presence.h - is the order there, and would it have been seen?
 *
 * Three tests on the block amplitudes of one channel over some blocks (a
 * speed bin or the whole drive):
 *  steady   one phase over all blocks: F(2, 2M-2)
 *  runs     one phase within runs of neighbouring blocks: slow drift of the
 *           angle does no harm, the floor's shape does not matter
 *  above    mean power over the floor read off neighbouring lines
 * Present when any passes; each has a third of the false-alarm share.
 * Pure.
 */
#ifndef HALFTURN_ORDERS_PRESENCE_H
#define HALFTURN_ORDERS_PRESENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "floor.h"
#include "phasor.h"

enum { HT_PRESENCE_TESTS = 3 };

/* A named share of the 1 % false alarms per report: a quarter is left to a
 * search for orders that nobody named. */
#define HT_FALSE_ALARMS_NAMED 0.0075

struct ht_gathered {       /* amplitudes of one column, one channel */
    size_t count;
    const struct ht_phasor *amplitude;
    const bool *follows;   /* overlaps the one before */
    struct ht_floor floor; /* times the column's inflation */
    double beside;         /* strongest line beside it, mean power; 0: none */
};

struct ht_presence {
    bool seen;
    double power;          /* mean |amplitude|^2 */
    double threshold;      /* on the mean power, of the test "above" */
    double least_steady;   /* amplitude that "runs" would find; INFINITY */
};

struct ht_presence ht_presence_test(const struct ht_gathered *g,
                                    double false_alarm);

/* How many independent blocks half-overlapped Hann blocks are worth: for
 * their power (Welch 1967: 1.056), and the factor by which the variance of
 * their mean exceeds that of independent ones (neighbours share 1/6). */
double ht_looks(size_t blocks, size_t pairs);
double ht_overlap_factor(size_t blocks, size_t pairs);

#endif
