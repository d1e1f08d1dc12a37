/* joint.h - joint least squares for all named orders of a block.
 *
 * The samples of a block are weighted by a Hann window over angle and by the
 * angle each one spans, so sums become integrals over angle: the normal
 * equations are the same for every block, cosines and sines do not mix about
 * the block's middle, and the equations of the lowest n orders are the
 * leading part of the whole (their Cholesky factor too).
 * Pure after ht_joint_create.
 */
#ifndef HALFTURN_ORDERS_JOINT_H
#define HALFTURN_ORDERS_JOINT_H

#include <stddef.h>

#include "halfturn/status.h"
#include "signal/phasor.h"

struct ht_joint {
    size_t orders;
    double *factor[2];  /* lower Cholesky factors: cosines, sines */
    double *inflation;  /* [n * orders + k]: noise power of order k's
                           amplitude when the lowest n + 1 are solved for,
                           over that of a lone order */
    void *memory;
};

/* `order`: ascending, wheel orders; block_turns: length of a block.
 * HT_NO_MEMORY; HT_BAD_FILE when the equations have no solution: orders that
 * are the same, or hardly turn. */
enum ht_status ht_joint_create(struct ht_joint *joint, const double *order,
                               size_t orders, double block_turns);
void ht_joint_free(struct ht_joint *joint);

/* In: sum[k] = (Hann weighted mean of x e^(-2 pi j o_k turns)), turns from
 * the block's middle, lowest `active` orders. Out: peak amplitudes a with
 * x = Re(a e^(2 pi j o turns)). */
void ht_joint_solve(const struct ht_joint *joint, struct ht_phasor *sum,
                    size_t active);

/* Transform of the Hann weight (mean 1) at c cycles per block; of its
 * square. Harris, Proc. IEEE 66 (1978). */
double ht_joint_hann(double cycles);
double ht_joint_hann_squared(double cycles);

#endif
