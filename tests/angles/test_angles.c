/* One driveline from readings to results. */
#include "driveline_case.h"

#include "common/memory.h"

static double mirrored[HT_MEMBERS_MAX];

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

/* Side 2.50 and plan 2.15 deg: printed 3.3 deg (Spicer driveline
 * installation guide); gearbox 1, shaft 2, axle 3 deg: two joints of 1 deg
 * that bend the same way (Meritor maintenance manual 5). Half of the last
 * digit printed. */
static void published_examples_of_working_angles(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(2, (double[]){ 0, 2.5 });
    line.heading_rad[1] = 2.15 * DEG;
    assert_close(angles_of(&line).joint[0].angle_rad.value / DEG, 3.3, 0.05);
    assert_close(angles_of(&line).joint[0].angle_rad.value / DEG, 3.296902,
                 1e-6);
    line = exact_of(3, (double[]){ 1, 2, 3 });
    struct ht_angles result = angles_of(&line);
    assert_close(result.joint[0].angle_rad.value / DEG, 1, 1e-12);
    assert_close(result.joint[1].angle_rad.value / DEG, 1, 1e-12);
    assert_close(result.joint[0].plane_rad, result.joint[1].plane_rad, 1e-12);
}

/* (2w)^2 tan^2(b/2): the 2x part of a joint's acceleration; within 1e-3 of
 * the workshop's w^2 b^2 up to 4 deg (truck driveline guides, from memory). */
static void accelerations_follow_speed_and_angle_squared(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(3, (double[]){ 0, 3, 1 });
    struct ht_angles_options options = no_limits;
    options.shaft_rad_s = 3000 * 3.14159265358979323846 / 30;
    struct ht_angles result;
    assert_int_equal(ht_angles_compute(&result, &line, &options, NULL), HT_OK);
    struct ht_accelerations *shake = &result.accelerations;
    assert_close_relative(shake->pulled.value, 270.580808, 1e-3);
    assert_close_relative(shake->held.value, 270.580808 * 4 / 9, 1e-3);
    assert_close_relative(shake->axle.value, 150.322674, 1e-3);
    double w = options.shaft_rad_s;
    assert_close_relative(shake->axle.value, 4 * w * w * 3.81023276e-4, 1e-8);
    assert_true(isnan(angles_of(&line).accelerations.axle.value));
    assert_true(isnan(result.section_rad_s2.value)); /* pulled, held say it */
}

/* A front joint near zero says nothing about the rear shaft, which the second
 * joint shakes: w^2 (b2^2 - b1^2) with the yokes in line (truck driveline
 * guides' w^2 b^2, from memory; 1e-3 to 4 deg). */
static void the_rear_shaft_of_three_joints_is_judged_too(void **state)
{
    (void)state;
    struct ht_driveline line = exact_of(4, (double[]){ 0, 1, 5, 1 });
    struct ht_angles_options options = no_limits;
    struct ht_angles result;
    options.shaft_rad_s = 330;
    options.limit_set = "car";
    assert_int_equal(ht_angles_compute(&result, &line, &options, NULL), HT_OK);
    double square = 330 * 330 * DEG * DEG;
    assert_close_relative(result.accelerations.pulled.value, square, 1e-3);
    assert_close_relative(result.section_rad_s2.value, 16 * square, 2e-3);
    assert_non_null(find(&result, "shake of the worst shaft section", false));
    assert_int_equal(
        find(&result, "joint 1, the odd one beside the pair", false)->verdict,
        HT_VERDICT_OVER);
}

/* The same vehicle described from the other end, in a mirror, or standing on
 * a sloping floor. */
static void neither_floor_nor_mirror_nor_end_changes_the_leftover(void **state)
{
    (void)state;
    static const double slope[] = { 2, 5, 3.5, 6 }, head[] = { 0, 1, -1, .5 };
    struct ht_driveline line = exact_of(4, slope);
    struct ht_driveline floor = line, mirror = line, turned = line;
    double base, shake_front, shake_rear, lifted[4];
    for (size_t i = 0; i < 4; i++) {
        line.heading_rad[i] = floor.heading_rad[i] = head[i] * DEG;
        mirror.heading_rad[i] = -head[i] * DEG;
        turned.heading_rad[i] = head[3 - i] * DEG;
        turned.slope[i].readings_rad.value = &mirrored[i];
        mirrored[i] = -slope[3 - i] * DEG;
        line.yoke_rad[i] = floor.yoke_rad[i] = 20 * DEG * (double)i;
        mirror.yoke_rad[i] = -line.yoke_rad[i];
        lifted[i] = (slope[i] + 3) * DEG;
        floor.slope[i].readings_rad.value = &lifted[i];
    }
    /* seen from the other end: slopes change sign, headings do not; a
     * section's rear yoke becomes its front yoke and the rearward direction
     * turns over, so the clocking keeps its sign */
    turned.yoke_rad[1] = line.yoke_rad[2];
    turned.yoke_rad[2] = line.yoke_rad[1];
    turned.driven_from = HT_END_REAR;
    struct ht_angles_options options = no_limits;
    options.shaft_rad_s = 100;
    struct ht_angles result;
    ht_angles_compute(&result, &line, &options, NULL);
    base = result.leftover_read_rad;
    shake_front = result.accelerations.pulled.value;
    shake_rear = result.accelerations.held.value;
    ht_angles_compute(&result, &mirror, &options, NULL);
    assert_close(result.leftover_read_rad, base, 1e-12);
    /* adding to the slopes is a turn about y only where headings are small:
     * cos(8) against cos(11 deg) of a heading of 1 deg */
    ht_angles_compute(&result, &floor, &options, NULL);
    assert_close_relative(result.leftover_read_rad, base, 0.01);
    ht_angles_compute(&result, &turned, &options, NULL);
    assert_close(result.leftover_read_rad, base, 1e-12);
    assert_close(result.accelerations.pulled.value, shake_rear, 1e-9);
    assert_close(result.accelerations.held.value, shake_front, 1e-9);
}

static void differences_alone_make_a_plane_chain(void **state)
{
    (void)state;
    struct ht_driveline line = ht_driveline_blank();
    line.members = 4;
    line.by_joint = true;
    line.joint_rad[0] = 0.4 * DEG;
    line.joint_rad[1] = 1.5 * DEG;
    line.joint_rad[2] = -1.6 * DEG;
    struct ht_driveline slopes =
        driveline_of(4, (double[]){ 0, 0.4, 1.9, 0.3 }, NULL);
    struct ht_angles by_joint = angles_of(&line);
    struct ht_angles by_slope = angles_of(&slopes);
    assert_true(by_joint.side_view_only);
    assert_close(by_joint.leftover_read_rad, by_slope.leftover_read_rad, 1e-14);
    for (int j = 0; j < 3; j++)
        assert_close(by_joint.joint[j].angle_rad.value, fabs(line.joint_rad[j]),
                     1e-14);
}

static void the_same_input_gives_the_same_bytes(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(4, (double[]){ 0, 2, 5, 1 }, NULL);
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    static struct ht_angles a, b;
    a = judged(&line, NULL);
    b = judged(&line, NULL);
    assert_memory_equal(&a.leftover_rad, &b.leftover_rad,
                        sizeof a.leftover_rad);
    assert_memory_equal(a.verdict, b.verdict, sizeof a.verdict);
}

static void nonsense_is_refused_with_a_sentence(void **state)
{
    (void)state;
    struct ht_angles result;
    struct ht_error err;
    struct ht_driveline line = driveline_of(3, (double[]){ 0, 60, 0 }, NULL);
    assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "60.0"));
    line = driveline_of(3, (double[]){ 0, 2, 0 }, NULL);
    line.slope[2].readings_rad.count = 0;
    assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "member 3"));
    line.members = 1;
    assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                     HT_BAD_FILE);
    line = driveline_of(3, (double[]){ 0, 2, 0 }, NULL);
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    struct ht_angles_options options = no_limits;
    options.limit_set = "lorry";
    assert_int_equal(ht_angles_compute(&result, &line, &options, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "light_truck"));
    options.limit_set = "ligth_truck";
    assert_int_equal(ht_angles_compute(&result, &line, &options, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "Did you mean \"light_truck\"?"));
    line.gauge.step_rad = -0.1;
    assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "gauge is below 0"));
    line = ht_driveline_blank();
    line.members = 3;
    line.by_joint = true;
    line.joint_rad[0] = 0.1;
    assert_int_equal(ht_angles_compute(&result, &line, &no_limits, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "no angle for joint 2"));
}

static int allowed;

static bool count_down(size_t bytes)
{
    (void)bytes;
    return allowed-- > 0;
}

static void running_out_of_memory_is_said_and_leaves_nothing(void **state)
{
    (void)state;
    struct ht_driveline line = driveline_of(3, (double[]){ 0, 3, 6.3 }, NULL);
    line.suspension = HT_SUSPENSION_WHEELS_ON_GROUND;
    struct ht_limits limits;
    assert_int_equal(ht_limits_read(&limits, NULL, NULL), HT_OK);
    struct ht_angles_options options = no_limits;
    options.limits = &limits;
    struct ht_angles result;
    enum ht_status status = HT_NO_MEMORY;
    int refused = -1;
    while (status != HT_OK) {
        allowed = ++refused;
        assert_true(refused < 100);
        ht_memory_permit = count_down;
        status = ht_angles_compute(&result, &line, &options, NULL);
        ht_memory_permit = NULL;
        if (status != HT_OK) {
            assert_int_equal(status, HT_NO_MEMORY);
            assert_int_equal(result.joints, 0);
        }
    }
    assert_true(refused >= 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_perfect_gauge_gives_the_exact_leftover),
        cmocka_unit_test(published_examples_of_working_angles),
        cmocka_unit_test(accelerations_follow_speed_and_angle_squared),
        cmocka_unit_test(the_rear_shaft_of_three_joints_is_judged_too),
        cmocka_unit_test(neither_floor_nor_mirror_nor_end_changes_the_leftover),
        cmocka_unit_test(differences_alone_make_a_plane_chain),
        cmocka_unit_test(the_same_input_gives_the_same_bytes),
        cmocka_unit_test(nonsense_is_refused_with_a_sentence),
        cmocka_unit_test(running_out_of_memory_is_said_and_leaves_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
