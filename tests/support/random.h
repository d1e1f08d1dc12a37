/* random.h - seeded random numbers for tests: SplitMix64 (Steele, Lea and
 * Flood, OOPSLA 2014), the same on every machine. */
#ifndef HALFTURN_TESTS_RANDOM_H
#define HALFTURN_TESTS_RANDOM_H

#include <stdint.h>

struct random_source {
    uint64_t state;
};

uint64_t random_bits(struct random_source *source);
double random_uniform(struct random_source *source, double low, double high);
double random_normal(struct random_source *source); /* mean 0, sd 1 */

#endif
