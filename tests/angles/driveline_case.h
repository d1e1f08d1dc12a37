/* driveline_case.h - drivelines for the tests of this room, in degrees. */
#ifndef HALFTURN_TESTS_DRIVELINE_CASE_H
#define HALFTURN_TESTS_DRIVELINE_CASE_H

#include "close.h"

#include "halfturn/joint.h"

#include <math.h>
#include <string.h>

#define DEG (3.14159265358979323846 / 180)

/* Where driveline_of keeps its readings. */
static double readings[HT_MEMBERS_MAX];

static const struct ht_angles_options no_limits = { .shaft_rad_s = NAN,
                                                    .speed_m_s = NAN };

/* Slopes in degrees, one reading each. */
static inline struct ht_driveline
driveline_of(size_t members, const double *slope_deg, const double *heading_deg)
{
    struct ht_driveline line = ht_driveline_blank();
    line.members = members;
    for (size_t i = 0; i < members; i++) {
        readings[i] = slope_deg[i] * DEG;
        line.slope[i].readings_rad = (struct ht_numbers){ &readings[i], 1 };
        if (heading_deg)
            line.heading_rad[i] = heading_deg[i] * DEG;
    }
    return line;
}

static inline struct ht_angles angles_of(const struct ht_driveline *line)
{
    struct ht_angles result;
    struct ht_error err;
    assert_int_equal(ht_angles_compute(&result, line, &no_limits, &err), HT_OK);
    return result;
}

/* Nothing uncertain, every heading straight. */
static inline struct ht_driveline exact_of(size_t members,
                                           const double *slope_deg)
{
    struct ht_driveline line = driveline_of(members, slope_deg, NULL);
    for (size_t i = 0; i < members; i++)
        line.heading_rad[i] = 0;
    line.gauge = (struct ht_gauge){ 0, 0, 0, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.heading_u_rad = 0;
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    return line;
}

static inline struct ht_angles judged(const struct ht_driveline *line,
                                      const char *set)
{
    struct ht_angles result;
    struct ht_error err;
    struct ht_angles_options options = no_limits;
    options.limit_set = set;
    assert_int_equal(ht_angles_compute(&result, line, &options, &err), HT_OK);
    return result;
}

static inline const struct ht_limit_verdict *
find(const struct ht_angles *result, const char *what, bool is_minimum)
{
    for (size_t i = 0; i < result->verdicts; i++)
        if (strcmp(result->verdict[i].what, what) == 0 &&
            result->verdict[i].is_minimum == is_minimum)
            return &result->verdict[i];
    return NULL;
}

#endif
