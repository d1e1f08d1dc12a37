/* What a healthy vehicle may show.
 *
 * Wheel and firing orders of a healthy vehicle stand at 0.005 to 0.04 m/s²
 * peak at the seat rail; nobody notices below 0.02, a careful driver notices
 * 0.05 to 0.1. Common practice, no source: a starting value. The upper end
 * is the edge. Its softness at the seat rail, a factor of 1.5 (one standard
 * deviation), spans "nobody notices" to "a careful driver does"; elsewhere
 * twice as wide.
 */
#include "halfturn/findings.h"

#include <math.h>

static const double healthy_top_m_s2 = 0.04;
static const double seat_rail_edge = 0.405; /* ln 1.5 */

double ht_healthy_m_s2(enum ht_place place, bool calibrated, double *edge)
{
    double width = NAN;
    if (calibrated && place == HT_PLACE_SEAT_RAIL)
        width = seat_rail_edge;
    else if (calibrated &&
             (place == HT_PLACE_FLOOR || place == HT_PLACE_STEERING_WHEEL ||
              place == HT_PLACE_DASH))
        width = 2 * seat_rail_edge;
    if (edge)
        *edge = width;
    return isnan(width) ? NAN : healthy_top_m_s2;
}
