/* What a healthy vehicle may show.
 *
 * Wheel and firing orders of a healthy vehicle stand at 0.005 to 0.04 m/s²
 * peak at the seat rail; nobody notices below 0.02, a careful driver notices
 * 0.05 to 0.1. Common practice, no source: a starting value. The upper end
 * is the edge. Its softness at the seat rail, a factor of 1.5 (one standard
 * deviation), spans "nobody notices" to "a careful driver does"; elsewhere
 * twice as wide. A dash or windscreen answers more: one sound car, open drive
 * data, shows 0.08 to 0.12 m/s² there at 1x to 3x wheel.
 */
#include "halfturn/findings.h"

#include <math.h>

static const double seat_rail_edge = 0.405; /* ln 1.5 */

static const struct {
    double top_m_s2, edges; /* edges: times that of the seat rail */
} bands[] = {
    [HT_PLACE_SEAT_RAIL] = { 0.04, 1 },
    [HT_PLACE_FLOOR] = { 0.04, 2 },
    [HT_PLACE_STEERING_WHEEL] = { 0.04, 2 },
    [HT_PLACE_DASH] = { 0.10, 2 },
    [HT_PLACE_OTHER] = { 0, 0 }, /* not a named place: no band */
};

double ht_healthy_m_s2(enum ht_place place, bool calibrated, double *edge)
{
    bool known = calibrated && (size_t)place < sizeof bands / sizeof bands[0] &&
                 bands[place].edges > 0;
    if (edge)
        *edge = known ? bands[place].edges * seat_rail_edge : NAN;
    return known ? bands[place].top_m_s2 : NAN;
}
