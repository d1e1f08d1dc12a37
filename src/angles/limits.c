#include "halfturn/angles.h"

#include "common/constants.h"

#include <math.h>

#define D(x) ((x)*HT_RAD_PER_DEG)
#define SHAKE 400, 1000
#define PRACTICE "common practice, no source"

/* The built-in sets of limits.yaml. */
static const struct ht_limits built_in = {
    .sets = 6,
    .set = {
        { "car", "Cars and light trucks, half a degree apart",
          "published service literature, 1998 to 2000", D(4), NAN, D(0.5),
          SHAKE, NAN, NAN, D(0.5), PRACTICE },
        { "light_truck", "Light trucks and vans, one degree apart",
          "published service literature, 1998 to 2007", D(3), D(0.5), D(1),
          SHAKE, NAN, D(10), D(1.5), PRACTICE },
        { "light_commercial",
          "Light commercial vehicles, body builders' figures",
          "published body builder's book, 2015", D(3), D(0.5), NAN, SHAKE,
          NAN, NAN, NAN, PRACTICE },
        { "heavy_truck_a", "Heavy trucks, shaft maker's figures",
          "published driveline installation guide, year not printed", D(3),
          D(0.5), D(1), SHAKE, NAN, NAN, NAN, PRACTICE },
        { "heavy_truck_b", "Heavy trucks, axle maker's figures",
          "published driveline maintenance manual, 2021", D(5), NAN, D(1.5),
          SHAKE, NAN, NAN, NAN, PRACTICE },
        { "industrial", "Industrial shafts, by what the joints leave over",
          "published shaft maker's technical pages, read 2026", NAN, NAN, NAN,
          SHAKE, D(2.976506), NAN, NAN, PRACTICE },
    },
};

enum ht_status ht_limits_read(struct ht_limits *limits, const char *path,
                              struct ht_error *err)
{
    *limits = (struct ht_limits){ 0 };
    if (path)
        return ht_fail(err, HT_CANNOT_READ,
                       "%s: only the built-in limits can be used so far", path);
    *limits = built_in;
    return HT_OK;
}
