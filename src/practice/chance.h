/* chance.h - seeded random numbers of the practice drives: xorshift64* (Vigna,
 * ACM Trans. Math. Softw. 42, 2016). */
#ifndef HALFTURN_PRACTICE_CHANCE_H
#define HALFTURN_PRACTICE_CHANCE_H

#include <stdint.h>

struct ht_chance {
    uint64_t state; /* not 0 */
};

struct ht_chance ht_chance_from(uint64_t seed);
double ht_chance_share(struct ht_chance *chance); /* 0 <= share < 1 */
double ht_chance_bell(struct ht_chance *chance);  /* mean 0, sd 1 */

#endif
