/* growth.h - how a level grows with speed: level ~ speed^exponent.
 *
 * Weighted least squares of ln level on ln speed. Pure. Unknown below a
 * speed range of 1.4 : 1, where it could not tell 1 from 2.
 */
#ifndef HALFTURN_ORDERS_GROWTH_H
#define HALFTURN_ORDERS_GROWTH_H

#include <stddef.h>

struct ht_growth_point {
    double speed_m_s, level;
    double relative_u;      /* standard uncertainty of the level over it */
};

struct ht_growth {
    double exponent, u;     /* NAN: unknown */
};

struct ht_growth ht_growth_fit(const struct ht_growth_point *point,
                               size_t points);

#endif
