/* One driveline from readings to results. */
#include "close.h"

#include "halfturn/joint.h"

#include <math.h>
#include <string.h>

#define DEG (3.14159265358979323846 / 180)

static double readings[HT_MEMBERS_MAX];

static const struct ht_angles_options no_limits = { .shaft_rad_s = NAN,
                                                    .speed_m_s = NAN };

/* Slopes in degrees, one reading each. */
static struct ht_driveline driveline_of(size_t members, const double *slope_deg,
                                        const double *heading_deg)
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

static struct ht_angles angles_of(const struct ht_driveline *line)
{
    struct ht_angles result;
    struct ht_error err;
    assert_int_equal(ht_angles_compute(&result, line, &no_limits, &err), HT_OK);
    return result;
}

static void a_perfect_gauge_gives_the_exact_leftover(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(3, (double[]){ 0, 3, 1 }, (double[]){ 0, 0, 0 });
    line.gauge = (struct ht_gauge){ 0, 0, 0, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.heading_u_rad = 0;
    struct ht_angles result = angles_of(&line);
    /* 1e-9 deg: eight points a half turn against 720, double precision. */
    assert_close(result.leftover_rad.value / DEG,
                 result.leftover_read_rad / DEG, 1e-9);
    assert_close(result.leftover_rad.value / DEG, 2.236522, 1e-6);
    assert_false(result.leftover_is_zero);
}

/* Derived: leftover = sqrt(6 deg |N|), N of standard deviation sqrt(2) u, so
 * for u = 0.087 deg 0.71 with a 95 % range of 0.15 to 1.29 deg, for u = 0.2
 * 1.07. Half of the last digit, and 0.02 for the scatter of 4096 draws (three
 * standard errors of the median). */
static void a_perfect_shaft_is_not_told_from_zero(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(3, (double[]){ 0, 3, 0 }, (double[]){ 0, 0, 0 });
    line.gauge = (struct ht_gauge){ 0, 0, 0.087 * DEG, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.heading_u_rad = 0;
    struct ht_angles result = angles_of(&line);
    assert_close(result.leftover_rad.value / DEG, 0.71, 0.025);
    assert_close(result.leftover_rad.low / DEG, 0.15, 0.025);
    assert_close(result.leftover_rad.high / DEG, 1.29, 0.025);
    assert_true(result.leftover_is_zero);
    line.gauge.set_up_rad = 0.2 * DEG;
    assert_close(angles_of(&line).leftover_rad.value / DEG, 1.07, 0.025);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_perfect_gauge_gives_the_exact_leftover),
        cmocka_unit_test(a_perfect_shaft_is_not_told_from_zero),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
