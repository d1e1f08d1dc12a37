/* chain_of.h - a chain of pins from angles in degrees. */
#ifndef HALFTURN_TESTS_CHAIN_OF_H
#define HALFTURN_TESTS_CHAIN_OF_H

#include "angles/chain.h"

/* Upright yokes at 0; heading_deg NULL: straight ahead. */
static inline struct ht_chain chain_of(size_t members, const double *slope_deg,
                                       const double *heading_deg)
{
    const double deg = 3.14159265358979323846 / 180;
    struct ht_chain chain = { .members = members };
    for (size_t i = 0; i < members; i++) {
        chain.slope_rad[i] = slope_deg[i] * deg;
        chain.heading_rad[i] = heading_deg ? heading_deg[i] * deg : 0;
    }
    return chain;
}

#endif
