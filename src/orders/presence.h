/* presence.h - is the order there, and would it have been seen?
 *
 * Three tests on the block amplitudes of one channel over some blocks (a
 * speed bin or the whole drive):
 *  steady   one phase over all blocks: F(2, 2M-2)
 *  runs     one phase within runs of neighbouring blocks: slow drift of the
 *           angle does no harm, nor does the floor's shape
 *  above    mean power over the floor: the larger of what neighbouring lines
 *           say and what this frequency shows at other speeds; without other
 *           speeds a resonance cannot be told from an order by its power,
 *           and the test is not used
 * With 24 blocks and more, the first two work on means of three blocks, so
 * that noise ringing in a resonance (damping 2 % and more) is no steady
 * phase. Present when any passes; each has a third of the false-alarm share.
 * Pure.
 */
#ifndef HALFTURN_ORDERS_PRESENCE_H
#define HALFTURN_ORDERS_PRESENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "floor.h"
#include "signal/phasor.h"

enum { HT_PRESENCE_TESTS = 3 };

/* A named share of the 1 % false alarms per report: a quarter is left to a
 * search for orders that nobody named. */
#define HT_FALSE_ALARMS_NAMED 0.0075

struct ht_gathered {       /* amplitudes of one column, one channel */
    size_t count;
    const struct ht_phasor *amplitude;
    const bool *follows;   /* overlaps the one before */
    const double *calm;    /* factor that makes the noise of every block the
                              same: one burst must not pass for a phase */
    struct ht_floor floor; /* from the neighbours, times the column's
                              inflation */
    double fixed;          /* the same frequency at other speeds; NAN: there
                              were none */
    double looks;          /* independent blocks they are worth */
    double beside;         /* strongest line beside it, mean power; 0: none */
};

/* One phase: F and its degrees of freedom; f 0: too few values. */
struct ht_phase_test {
    double f, dof_between, dof_within;
};

struct ht_presence {
    struct ht_phase_test steady, runs;
    bool seen;
    double power;          /* mean |amplitude|^2 */
    double within;         /* noise power by the scatter about the runs'
                              means; NAN: too few blocks */
    double threshold;      /* on the mean power, of the test "above";
                              INFINITY: not used */
    double least_steady;   /* amplitude that "runs" would find; INFINITY */
};

/* The first two tests with the axes of one sensor together: mean F, as if
 * half of the further axes were independent of the first (the road shakes
 * them together). steady and runs: of each channel. */
bool ht_presence_pooled(const struct ht_phase_test *steady,
                        const struct ht_phase_test *runs, size_t channels,
                        double false_alarm);

struct ht_presence ht_presence_test(const struct ht_gathered *g,
                                    double false_alarm);

/* How many independent blocks half-overlapped Hann blocks are worth for
 * their power (Welch 1967: 1.056), and the factor by which the variance of
 * their mean exceeds that of independent ones (neighbours share 1/6). */
double ht_looks(size_t blocks, size_t pairs);
double ht_overlap_factor(size_t blocks, size_t pairs);

#endif
