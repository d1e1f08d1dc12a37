/* Where the joints go when something is put under them. */
#include "close.h"

#include "angles/chain.h"
#include "halfturn/repair.h"
#include "random.h"

#include <math.h>

#define DEG (3.14159265358979323846 / 180)

static struct ht_joint_centres line_of(size_t members, const double *length_m)
{
    struct ht_joint_centres c = { .line = { .members = members } };
    for (size_t i = 0; i < HT_LENGTHS; i++)
        c.length_m[i] = NAN;
    for (size_t m = 1; m + 1 < members; m++)
        c.length_m[m] = length_m[m - 1];
    c.length_m[HT_LENGTH_JOINT_TO_AXLE] = 0.25;
    c.length_m[HT_LENGTH_MOUNT_SPACING] = 0.9;
    c.length_m[HT_LENGTH_MOUNT_TO_JOINT] = 0.25;
    c.length_m[HT_LENGTH_SUPPORT_TO_JOINT] = 0.08;
    return c;
}

/* By triangles on paper: 250 mm * sin 2 = 8.72 mm, over 1200 mm 0.416; the
 * box asin(10/900) = 0.637, its joint 10 * 1150/900 = 12.78 mm, over 1200 mm
 * 0.610. 0.005 and 0.05: half of the last digit of 0.42, 0.64, 0.61 and 8.7. */
static void a_wedge_and_a_plate_turn_their_shaft_too(void **state)
{
    (void)state;
    struct ht_joint_centres c = line_of(3, (double[]){ 1.2 });
    struct ht_shim_work wedge = { .place = HT_SHIM_AXLE, .turn_rad = 2 * DEG };
    struct ht_shim_work plate = { .place = HT_SHIM_GEARBOX, .lift_m = 0.010 };
    struct ht_chain moved;
    ht_centres_move(&moved, &c, &wedge, 1);
    assert_close(moved.slope_rad[2] / DEG, 2, 1e-12);
    assert_close(moved.slope_rad[1] / DEG, -0.42, 0.005);
    assert_close(1000 * 1.2 * sin(-moved.slope_rad[1]), 8.7, 0.05);
    assert_close(moved.slope_rad[0], 0, 0);
    ht_centres_move(&moved, &c, &plate, 1);
    assert_close(moved.slope_rad[0] / DEG, -0.64, 0.005);
    assert_close(moved.slope_rad[1] / DEG, 0.61, 0.005);
    assert_close(moved.slope_rad[2], 0, 0);
}

static void nothing_done_leaves_the_line_as_it_was(void **state)
{
    (void)state;
    struct ht_joint_centres c = line_of(4, (double[]){ 1.1, 1.3 });
    struct ht_chain moved;
    for (size_t m = 0; m < 4; m++) {
        c.line.slope_rad[m] = (double)m * DEG;
        c.line.heading_rad[m] = (m % 2 ? 1 : -1) * DEG;
    }
    ht_centres_move(&moved, &c, NULL, 0);
    for (size_t m = 0; m < 4; m++) {
        assert_close(moved.slope_rad[m], c.line.slope_rad[m], 1e-15);
        assert_close(moved.heading_rad[m], c.line.heading_rad[m], 1e-15);
    }
}

struct point {
    double x[3];
};

static struct point along(struct point from, const struct ht_chain *line,
                          size_t member, double length)
{
    double d[3];
    ht_member_direction(line->slope_rad[member], line->heading_rad[member], d);
    for (int i = 0; i < 3; i++)
        from.x[i] += length * d[i];
    return from;
}

/* How far a point lies off the straight line through a joint along a member. */
static double off_line(struct point joint, const struct ht_chain *line,
                       size_t member, struct point point)
{
    double d[3], along_m = 0, off = 0;
    ht_member_direction(line->slope_rad[member], line->heading_rad[member], d);
    for (int i = 0; i < 3; i++)
        along_m += d[i] * (point.x[i] - joint.x[i]);
    for (int i = 0; i < 3; i++)
        off += pow(point.x[i] - joint.x[i] - along_m * d[i], 2);
    return sqrt(off);
}

/* What holds on the floor of the shop, checked on the coordinates: the box
 * turns about its front mounts, each support goes straight up, the pinion
 * turns about the wheels' axis, and every shaft runs through its points. */
static void shafts_run_through_joints_and_supports_wherever_they_went(
    void **state)
{
    (void)state;
    struct random_source draw = { 20261129 };
    for (int trial = 0; trial < 200; trial++) {
        struct ht_joint_centres c = line_of(5, (double[]){ 0.9, 1.0, 1.4 });
        const double *length = c.length_m;
        struct ht_shim_work work[4] = {
            { .place = HT_SHIM_AXLE,
              .turn_rad = random_uniform(&draw, -4, 4) * DEG },
            { .place = HT_SHIM_GEARBOX,
              .lift_m = random_uniform(&draw, -0.015, 0.015) },
            { .place = HT_SHIM_SUPPORT, .member = 1,
              .lift_m = random_uniform(&draw, -0.015, 0.015) },
            { .place = HT_SHIM_SUPPORT, .member = 2,
              .lift_m = random_uniform(&draw, -0.015, 0.015) },
        };
        struct ht_chain moved;
        for (size_t m = 0; m < 5; m++) {
            c.line.slope_rad[m] = random_uniform(&draw, -3, 5) * DEG;
            c.line.heading_rad[m] = random_uniform(&draw, -2, 2) * DEG;
        }
        ht_centres_move(&moved, &c, work, 4);
        double lever = length[HT_LENGTH_MOUNT_SPACING] +
                       length[HT_LENGTH_MOUNT_TO_JOINT];
        struct point before = along((struct point){ { 0 } }, &c.line, 0, lever);
        struct point after = along((struct point){ { 0 } }, &moved, 0, lever);
        for (size_t m = 1; m <= 2; m++) { /* on their supports */
            double reach = length[m] - length[HT_LENGTH_SUPPORT_TO_JOINT];
            struct point support = along(before, &c.line, m, reach);
            support.x[2] += work[1 + m].lift_m;
            assert_true(off_line(after, &moved, m, support) < 1e-14);
            before = along(before, &c.line, m, length[m]);
            after = along(after, &moved, m, length[m]);
        }
        struct point axle = along(along(before, &c.line, 3, length[3]),
                                  &c.line, 4, length[HT_LENGTH_JOINT_TO_AXLE]);
        struct point joint =
            along(axle, &moved, 4, -length[HT_LENGTH_JOINT_TO_AXLE]);
        assert_true(off_line(after, &moved, 3, joint) < 1e-14);
        assert_close(moved.slope_rad[4],
                     c.line.slope_rad[4] + work[0].turn_rad, 1e-15);
    }
}

/* The same vehicle the other way round: what lay behind lies ahead. */
static void a_front_axle_is_the_mirror_of_a_rear_axle(void **state)
{
    (void)state;
    struct ht_joint_centres rear = line_of(4, (double[]){ 1.1, 1.3 });
    struct ht_joint_centres front = line_of(4, (double[]){ 1.3, 1.1 });
    const double slope[] = { 1, 2, 5, 3 };
    struct ht_shim_work work[2] = {
        { .place = HT_SHIM_AXLE, .turn_rad = 2 * DEG },
        { .place = HT_SHIM_SUPPORT, .member = 1, .lift_m = 0.012 },
    };
    struct ht_chain a, b;
    front.axle_in_front = true;
    for (size_t m = 0; m < 4; m++) {
        rear.line.slope_rad[m] = slope[m] * DEG;
        front.line.slope_rad[3 - m] = -slope[m] * DEG;
    }
    ht_centres_move(&a, &rear, work, 2);
    work[0].turn_rad *= -1;
    work[1].member = 2;
    ht_centres_move(&b, &front, work, 2);
    for (size_t m = 0; m < 4; m++)
        assert_close(b.slope_rad[3 - m], -a.slope_rad[m], 1e-14);
}

static void one_tooth_turns_the_clocking_and_nothing_else(void **state)
{
    (void)state;
    struct ht_joint_centres c = line_of(4, (double[]){ 1.1, 1.3 });
    struct ht_shim_work work = { .place = HT_SHIM_SPLINE, .member = 2,
                                 .turn_rad = 12 * DEG };
    struct ht_chain moved;
    c.line.slope_rad[1] = 3 * DEG;
    ht_centres_move(&moved, &c, &work, 1);
    assert_close(moved.yoke_rad[2] / DEG, 12, 1e-12);
    for (size_t m = 0; m < 4; m++)
        assert_close(moved.slope_rad[m], c.line.slope_rad[m], 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wedge_and_a_plate_turn_their_shaft_too),
        cmocka_unit_test(nothing_done_leaves_the_line_as_it_was),
        cmocka_unit_test(
            shafts_run_through_joints_and_supports_wherever_they_went),
        cmocka_unit_test(a_front_axle_is_the_mirror_of_a_rear_axle),
        cmocka_unit_test(one_tooth_turns_the_clocking_and_nothing_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
