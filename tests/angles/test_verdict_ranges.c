/* A verdict names the range that the thing itself has. */
#include "driveline_case.h"

static void is_of(const struct ht_limit_verdict *verdict,
                  const struct ht_estimate *estimate)
{
    assert_true(verdict->value == estimate->value);
    assert_true(verdict->u == estimate->u);
    assert_true(verdict->low == estimate->low);
    assert_true(verdict->high == estimate->high);
}

static void what_is_held_against_a_limit_keeps_its_own_range(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(4, (double[]){ 2, 2.2, 5, 2 }, (double[]){ 0, 0, 0, 0 });
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    struct ht_angles result;
    struct ht_error err;
    struct ht_angles_options options = { .limit_set = "light_truck",
                                         .shaft_rad_s = 300, .speed_m_s = 30 };
    const struct ht_limit_set own = { .leftover_max_rad = 2 * DEG,
                                      .joint_max_rad = NAN,
                                      .joint_min_rad = NAN,
                                      .difference_max_rad = NAN,
                                      .axle_rad_s2 = NAN, .shaft_rad_s2 = NAN,
                                      .double_joint_max_rad = NAN,
                                      .odd_max_rad = NAN,
                                      .alone_max_rad = NAN };
    options.own = &own;
    assert_int_equal(ht_angles_compute(&result, &line, &options, &err), HT_OK);
    const struct ht_accelerations *shake = &result.accelerations;
    is_of(find(&result, "joint 1", false), &result.joint[0].angle_rad);
    is_of(find(&result, "joint 3", true), &result.joint[2].angle_rad);
    is_of(find(&result, "leftover angle", false), &result.leftover_rad);
    is_of(find(&result, "shake passed to the axle", false), &shake->axle);
    is_of(find(&result, "the shaft's own shake pulled from the front", false),
          &shake->pulled);
    is_of(find(&result, "the shaft's own shake held from the rear", false),
          &shake->held);
    is_of(find(&result, "shake of the worst shaft section", false),
          &result.section_rad_s2);
}

/* 1.96 standard deviations either way of a difference far from nothing; of
 * none: 0 to 1.645, beyond which one measurement in twenty would show less. */
static void a_difference_has_the_range_of_a_size(void **state)
{
    (void)state;
    struct ht_driveline line =
        driveline_of(3, (double[]){ 0, 6, 2 }, (double[]){ 0, 0, 0 });
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    line.gauge = (struct ht_gauge){ 0.1 * DEG, 0.1 * DEG, 0.1 * DEG, NAN };
    line.read_on = HT_SURFACE_CAP;
    struct ht_angles result = judged(&line, "light_truck");
    const struct ht_limit_verdict *v =
        find(&result, "joints 1 and 2 differ", false);
    assert_close(v->value / DEG, 2, 1e-12);
    assert_close_relative((v->high - v->value) / v->u, 1.959964, 2e-3);
    assert_close_relative((v->value - v->low) / v->u, 1.959964, 2e-3);
    line = driveline_of(3, (double[]){ 0, 6, 0 }, (double[]){ 0, 0, 0 });
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    result = judged(&line, "light_truck");
    v = find(&result, "joints 1 and 2 differ", false);
    assert_true(v->value < 1e-12 && v->low == 0);
    assert_close_relative(v->high / v->u, 1.644854, 2e-3);
}

/* A typed 6.5 degrees is 6.5 in both places, whichever joints are even ones. */
static void a_single_cardan_joint_leaves_its_own_angle(void **state)
{
    (void)state;
    struct ht_angles_options options = { .limit_set = "light_truck",
                                         .shaft_rad_s = 300, .speed_m_s = 30 };
    for (size_t members = 2; members < 5; members++)
        for (int bend = 0; bend < 2; bend++) {
            struct ht_driveline line = driveline_of(
                members, (double[]){ 0, bend * 6.5, bend * 6.5, bend * 6.5 },
                (double[]){ 0, 0, 0, 0 });
            struct ht_angles result;
            struct ht_error err;
            for (size_t j = 1; j + 1 < members; j++)
                line.kind[j] = HT_JOINT_CONSTANT_VELOCITY;
            assert_int_equal(ht_angles_compute(&result, &line, &options, &err),
                             HT_OK);
            const struct ht_estimate *joint = &result.joint[0].angle_rad;
            assert_memory_equal(&result.leftover_rad, joint, sizeof *joint);
            assert_int_equal(result.leftover_is_zero, bend == 0);
            assert_memory_equal(&result.accelerations.axle,
                                &result.accelerations.pulled, sizeof *joint);
            if (members == 4)
                assert_memory_equal(&result.section_rad_s2,
                                    &result.accelerations.pulled,
                                    sizeof *joint);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_held_against_a_limit_keeps_its_own_range),
        cmocka_unit_test(a_difference_has_the_range_of_a_size),
        cmocka_unit_test(a_single_cardan_joint_leaves_its_own_angle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
