/* From gauge readings to uncertainties. */
#include "driveline_case.h"
#include "random.h"

#include "angles/reading.h"

/* JCGM 100, 4.3.7 (a / sqrt 3), F.2.2.1 (d / sqrt 12), 4.2.3 (s / sqrt n):
 * a = 0.1, d = 0.1, s = 0.1 from three. All of the accuracy taken as separate
 * from reading to reading; 6 decimals. */
static void the_budget_of_one_joint_is_that_of_the_guide(void **state)
{
    (void)state;
    double repeats[2][3] = { { 0.9, 1.0, 1.1 }, { 3.9, 4.0, 4.1 } };
    struct ht_driveline line = ht_driveline_blank();
    line.members = 2;
    line.read_on = HT_SURFACE_CAP;
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0, 0 };
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < 3; k++)
            repeats[i][k] *= DEG;
        line.slope[i].readings_rad = (struct ht_numbers){ repeats[i], 3 };
    }
    struct ht_estimate angle = angles_of(&line).joint[0].angle_rad;
    assert_close(angle.value / DEG, 3, 1e-12);
    assert_close(angle.u / DEG, 0.122474, 1e-6);
    struct ht_reading one =
        ht_reading_of_slope(&line.slope[0], line.gauge, HT_SURFACE_CAP);
    assert_close(ht_reading_u_rad(&one) / DEG, 0.086603, 1e-6);
    /* Welch and Satterthwaite, JCGM 100 G.4: two parts of u/2 = s^2/n with 2
     * degrees each: (u1^2 + u2^2)^2 / (p^4/2 + p^4/2), p^2 = 0.01/3 */
    double dof = pow(2 * 0.0075, 2) / (2 * pow(0.01 / 3, 2) / 2);
    assert_close(dof, 20.25, 1e-9);
    /* Student's t for 20.25 degrees, 0.975: between the printed 2.086 (20)
     * and 2.080 (21) */
    double factor = (angle.high - angle.value) / angle.u;
    assert_true(factor > 2.080 && factor < 2.086);
}

/* JCGM 100, 5.2: a shaft reading shared by both joints cancels in their
 * difference when the ends are parallel (sqrt 2 u) and counts twice when the
 * joints bend the same way (sqrt 6 u). */
static void a_shared_reading_cancels_or_doubles_in_a_difference(void **state)
{
    (void)state;
    struct ht_limits limits;
    assert_int_equal(ht_limits_read(&limits, NULL, NULL), HT_OK);
    struct ht_angles_options options = no_limits;
    options.limits = &limits;
    options.limit_set = "light_truck";
    double u[2];
    for (int i = 0; i < 2; i++) {
        double slopes[2][3] = { { 0, 3, 0 }, { 0, 3, 6 } };
        struct ht_driveline line = driveline_of(3, slopes[i], NULL);
        line.gauge = (struct ht_gauge){ 0, 0, 0.086603 * DEG, 0 };
        line.read_on = HT_SURFACE_CAP;
        line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
        struct ht_angles result;
        assert_int_equal(ht_angles_compute(&result, &line, &options, NULL),
                         HT_OK);
        u[i] = find(&result, "joints 1 and 2 differ", false)->u / DEG;
    }
    assert_close(u[0], sqrt(2) * 0.086603, 1e-9);
    /* printed from the unrounded 0.0866025 */
    assert_close(u[1], 0.212132, 2e-6);
}

/* A zero error common to all readings cancels in an angle, which is a
 * difference: with the whole accuracy as zero error only the step is left. */
static void
a_common_zero_error_cancels_unless_one_reading_is_turned_round(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(2, (double[]){ 1, 4 }, NULL);
    line.gauge = (struct ht_gauge){ 0.3 * DEG, 0, 0, 1 };
    line.read_on = HT_SURFACE_CAP;
    assert_close(angles_of(&line).joint[0].angle_rad.u, 0, 1e-15);
    /* Turned round: 3.4 and -2.8 are a slope of 3.1 and a zero of 0.3. */
    line.slope[1].flip_a_rad = 3.4 * DEG;
    line.slope[1].flip_b_rad = -2.8 * DEG;
    struct ht_estimate angle = angles_of(&line).joint[0].angle_rad;
    assert_close(angle.value / DEG, 2.1, 1e-12);
    assert_close(angle.u / DEG, 0.3 / sqrt(3), 1e-12);
    /* A face across the axis carries the zero error the other way round. */
    line = driveline_of(2, (double[]){ 1, 86 }, NULL);
    line.gauge = (struct ht_gauge){ 0.3 * DEG, 0, 0, 1 };
    line.read_on = HT_SURFACE_CAP;
    line.slope[1].is_face = true;
    angle = angles_of(&line).joint[0].angle_rad;
    assert_close(angle.value / DEG, 3, 1e-12);
    assert_close(angle.u / DEG, 2 * 0.3 / sqrt(3), 1e-12);
}

static bool noted(const struct ht_angles *result, const char *words)
{
    for (size_t i = 0; i < result->notes; i++)
        if (strstr(result->note[i], words))
            return true;
    return false;
}

static void every_default_is_said_and_none_that_was_given(void **state)
{
    (void)state;
    static const char *const words[] = { "accuracy",  "step",       "set-up",
                                         "Surface",   "Suspension", "kind",
                                         "Side view", "Driving end" };
    struct ht_driveline line = driveline_of(3, (double[]){ 0, 3, 1 }, NULL);
    struct ht_angles result = angles_of(&line);
    for (size_t i = 0; i < 8; i++)
        assert_true(noted(&result, words[i]));
    /* the defaults: 0.2 half of it separate, 0.1, 0.4, 0.5, on two members */
    double variance = 0.04 / 6 + 0.01 / 12 + 0.16 + 0.25;
    assert_close(result.joint[0].angle_rad.u / DEG, sqrt(2 * variance), 1e-12);
    line = driveline_of(3, (double[]){ 0, 3, 1 }, (double[]){ 0, 0, 0 });
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0.15 * DEG, NAN };
    line.read_on = HT_SURFACE_CAP;
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    line.kind[0] = line.kind[1] = HT_JOINT_CARDAN;
    line.driven_from = HT_END_FRONT;
    line.heading_u_rad = 0;
    assert_int_equal(angles_of(&line).notes, 0);
}

/* Derived: the difference of both joints is known to sqrt(2) u. Read as none, a
 * size r is missed by r or more with P(|N(r, 1)| > 2 r or < 0), 5 % at 1.645:
 * the sum of squares lies within 6 deg times 1.645 sqrt(2) u of none. */
static void a_perfect_shaft_is_not_told_from_zero(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(3, (double[]){ 0, 3, 0 }, (double[]){ 0, 0, 0 });
    line.gauge = (struct ht_gauge){ 0, 0, 0.087 * DEG, 0 };
    line.read_on = HT_SURFACE_CAP;
    line.heading_u_rad = 0;
    struct ht_angles result = angles_of(&line);
    assert_close(result.leftover_rad.low, 0, 0);
    assert_close(result.leftover_rad.high / DEG,
                 sqrt(6 * 1.644854 * sqrt(2) * 0.087), 2e-3);
    assert_true(result.leftover_is_zero);
    /* the median of a normal law's size is 0.6745 of its deviation */
    assert_close(result.leftover_rad.value / DEG,
                 sqrt(6 * 0.6745 * sqrt(2) * 0.087), 0.025);
}

/* JCGM 100, 4.2.3: the mean of two looks brings down by root 2 what the looks
 * do not share; placing and surface are shared by both. */
static void a_pair_turned_round_halves_only_what_is_not_shared(void **state)
{
    (void)state;
    struct ht_sheet_slope slope = { .flip_a_rad = 3.4 * DEG,
                                    .flip_b_rad = -2.8 * DEG,
                                    .set_up_rad = NAN };
    struct ht_gauge gauge = { 0.1 * DEG, 0.1 * DEG, 0.15 * DEG, 0 };
    struct ht_reading reading =
        ht_reading_of_slope(&slope, gauge, HT_SURFACE_MACHINED_FLANGE);
    double looks = (0.01 / 3 + 0.01 / 12) / 2;
    double shared = 0.15 * 0.15 + 0.05 * 0.05;
    assert_close(reading.value_rad / DEG, 3.1, 1e-12);
    assert_close(ht_reading_u_rad(&reading) / DEG, sqrt(looks + shared), 1e-12);
}

/* 55 measurements of a shaft that cancels exactly, with and without uncertain
 * headings: at 95 % the zero is kept in 52.2 +- 1.6 of them, 4 standard
 * deviations below that is 46. Five of a 3 / 1 deg shaft, whose leftover stands
 * 9 standard deviations off, are never taken for zero. */
static void zero_is_kept_as_often_as_the_level_says(void **state)
{
    (void)state;
    struct random_source source = { 106 };
    for (int headings = 0; headings < 2; headings++) {
        int kept = 0, wrongly = 0;
        for (int run = 0; run < 60; run++) {
            double far = run % 12 ? 0 : 2;
            struct ht_driveline line = exact_of(3, (double[]){ 0, 3, far });
            line.gauge.set_up_rad = 0.15 * DEG;
            line.heading_u_rad = headings * 0.15 * DEG;
            for (size_t i = 0; i < 3; i++) {
                readings[i] += 0.15 * DEG * random_normal(&source);
                line.heading_rad[i] =
                    line.heading_u_rad * random_normal(&source);
            }
            bool zero = angles_of(&line).leftover_is_zero;
            kept += far == 0 && zero;
            wrongly += far > 0 && zero;
        }
        assert_in_range(kept, 46, 55);
        assert_int_equal(wrongly, 0);
    }
}

/* A gauge that shows the same every time: the reading counts as one without
 * scatter, whatever the last digit of a mean does, and the line is judged as
 * that of single readings (JCGM 100, 4.2.3: s = 0). */
static void equal_repeats_scatter_by_nothing(void **state)
{
    (void)state;
    double repeat[20], slopes[3];
    for (int tenths = -300; tenths <= 300; tenths += 7)
        for (size_t n = 2; n <= 20; n += 3) {
            for (size_t i = 0; i < n; i++)
                repeat[i] = tenths / 10.0 * DEG;
            for (int i = 0; i < 3; i++)
                slopes[i] = tenths / 10.0 + (double[]){ 0, 2, -0.13 }[i];
            struct ht_driveline line = driveline_of(3, slopes, NULL);
            line.gauge = (struct ht_gauge){ 0.2 * DEG, 0.1 * DEG, 0.4 * DEG,
                                            0.5 };
            struct ht_angles single = angles_of(&line);
            line.slope[0].readings_rad = (struct ht_numbers){ repeat, n };
            struct ht_reading reading = ht_reading_of_slope(
                &line.slope[0], line.gauge, HT_SURFACE_CAP);
            assert_true(reading.scatter_rad == 0);
            assert_true(isinf(ht_reading_dof(&reading)));
            struct ht_angles result = angles_of(&line);
            assert_close(result.leftover_rad.value / DEG,
                         single.leftover_rad.value / DEG, 0.02);
            assert_close(result.leftover_rad.high / DEG,
                         single.leftover_rad.high / DEG, 0.05);
        }
    /* and one that scatters by a last digit only */
    double nearly[] = { 3.13 * DEG, 3.13 * DEG, 3.13 * DEG * (1 + 1e-15) };
    struct ht_driveline line = driveline_of(3, (double[]){ 3.13, 5.13, 3 },
                                            NULL);
    line.gauge = (struct ht_gauge){ 0.2 * DEG, 0.1 * DEG, 0.4 * DEG, 0.5 };
    line.slope[0].readings_rad = (struct ht_numbers){ nearly, 3 };
    assert_true(angles_of(&line).leftover_rad.high / DEG < 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_budget_of_one_joint_is_that_of_the_guide),
        cmocka_unit_test(a_shared_reading_cancels_or_doubles_in_a_difference),
        cmocka_unit_test(
            a_common_zero_error_cancels_unless_one_reading_is_turned_round),
        cmocka_unit_test(every_default_is_said_and_none_that_was_given),
        cmocka_unit_test(a_perfect_shaft_is_not_told_from_zero),
        cmocka_unit_test(a_pair_turned_round_halves_only_what_is_not_shared),
        cmocka_unit_test(zero_is_kept_as_often_as_the_level_says),
        cmocka_unit_test(equal_repeats_scatter_by_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
