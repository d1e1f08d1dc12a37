/* random_line.h - seeded lines of 2 to 9 members, any clocking, driven from
 * either end. */
#ifndef HALFTURN_TESTS_RANDOM_LINE_H
#define HALFTURN_TESTS_RANDOM_LINE_H

#include "random.h"

#include "halfturn/effects.h"

#include <math.h>

#ifndef DEG
#define DEG (3.14159265358979323846 / 180)
#endif

static inline struct ht_chain random_line(struct random_source *source,
                                          double most_deg)
{
    struct ht_chain chain = { .members = 2 + random_bits(source) % 8 };
    chain.from_rear = random_bits(source) % 2;
    double slope = random_uniform(source, -5, 5), heading = 0;
    for (size_t m = 0; m < chain.members; m++) {
        chain.slope_rad[m] = slope * DEG;
        chain.heading_rad[m] = heading * DEG;
        chain.yoke_rad[m] = random_uniform(source, -180, 180) * DEG;
        double size = random_uniform(source, 0, most_deg);
        double way = random_uniform(source, 0, 360 * DEG);
        slope += size * cos(way);
        heading += size * sin(way);
    }
    return chain;
}

static inline double bend(const struct ht_chain *chain, size_t j)
{
    return ht_working_angle_rad(chain->slope_rad[j], chain->heading_rad[j],
                                chain->slope_rad[j + 1],
                                chain->heading_rad[j + 1]);
}

/* Sum of tan^2 of half the bends. */
static inline double sum_of_q(const struct ht_chain *chain)
{
    double q = 0;
    for (size_t j = 0; j + 1 < chain->members; j++)
        q += pow(tan(bend(chain, j) / 2), 2);
    return q;
}

#endif
