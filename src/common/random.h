/* random.h - numbers that look random, the same on every machine: SplitMix64
 * (Steele, Lea and Flood, OOPSLA 2014).
 *
 * The caller owns the state; any 64 bits will do as a seed.
 */
#ifndef HALFTURN_COMMON_RANDOM_H
#define HALFTURN_COMMON_RANDOM_H

#include <stdint.h>

uint64_t ht_random_bits(uint64_t *state);

/* Even over [0, 1), in steps of 2^-53. */
double ht_random_share(uint64_t *state);

#endif
