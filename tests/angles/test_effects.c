/* What a line does: double joints, planes, clocking, loads, speeds. */
#include "chain_of.h"
#include "close.h"
#include "random_line.h"

#include <stdlib.h>

static double second_of(const struct ht_chain *chain)
{
    return ht_chain_exact(chain).harmonic_rad[0];
}

/* ---- one turn ------------------------------------------------------------ */

/* The first joint's driven shaft is one joint's closed form: peaks by parabola
 * at 2 degrees, 2e-6 of them (measured 4e-7, margin 5). */
static void the_member_behind_the_first_joint_turns_as_one_joint(void **state)
{
    (void)state;
    static struct ht_turn turn;
    struct ht_chain chain = chain_of(4, (double[]){ 0, 8, 3, 9 }, NULL);
    for (int end = 0; end < 2; end++) {
        chain.from_rear = end == 1;
        ht_chain_turn(&turn, &chain);
        double bend_rad = (end ? 6 : 8) * DEG;
        const struct ht_turn_curve *curve = &turn.member[end ? 2 : 1];
        assert_close_relative(curve->error_peak_rad,
                              ht_joint_peak_error_rad(bend_rad), 2e-6);
        assert_close_relative(curve->ratio_high, 1 / cos(bend_rad), 1e-7);
        assert_close_relative(curve->ratio_low, cos(bend_rad), 1e-7);
        assert_close_relative(curve->acceleration_peak,
                              ht_joint_peak_acceleration(bend_rad).factor,
                              2e-6);
        for (unsigned n = 1; n <= 3; n++)
            assert_close(curve->harmonic_rad[n - 1],
                         ht_joint_harmonic_rad(bend_rad, n), 1e-14);
        assert_close(turn.member[end ? 3 : 0].error_peak_rad, 0, 1e-15);
    }
}

static void joints_that_keep_the_speed_end_a_chain(void **state)
{
    (void)state;
    static struct ht_turn turn;
    static const enum ht_joint_kind even[] = { HT_JOINT_DOUBLE_CARDAN,
                                               HT_JOINT_CONSTANT_VELOCITY,
                                               HT_JOINT_RUBBER_DISC };
    for (int i = 0; i < 3; i++) {
        struct ht_chain chain = chain_of(4, (double[]){ 0, 3, 9, 6 }, NULL);
        chain.kind[1] = even[i];
        ht_chain_turn(&turn, &chain);
        for (int n = 0; n < 3; n++)
            assert_close(turn.member[2].harmonic_rad[n],
                         turn.member[1].harmonic_rad[n], 1e-15);
        /* 3 and 3 in line across it: nothing is left. Accuracy: format */
        assert_close(turn.member[3].harmonic_rad[0], 0, 1e-15);
    }
}

/* ---- double joint -------------------------------------------------------- */

static void a_centred_double_joint_leaves_nothing(void **state)
{
    (void)state;
    struct ht_double_joint joint = ht_double_joint(12 * DEG, 0, 0.08);
    assert_close(joint.front_rad, 6 * DEG, 1e-15);
    assert_close(joint.rear_rad, 6 * DEG, 1e-15);
    assert_close(joint.second_rad, 0, 1e-15);
}

/* Derived: h2 = tan^2 of one half bend's half less the other's, near bend
 * times error over crosses, over 2. Third order in Q, 2e-5 here. */
static void a_centring_error_leaves_bend_times_tilt(void **state)
{
    (void)state;
    for (double bend_deg = 2; bend_deg <= 20; bend_deg += 3) {
        double b = bend_deg * DEG, tilt = 0.0005 / 0.08;
        struct ht_double_joint joint = ht_double_joint(b, 0.0005, 0.08);
        double halves =
            pow(tan(joint.front_rad / 2), 2) - pow(tan(joint.rear_rad / 2), 2);
        double q = pow(tan(joint.front_rad / 2), 2);
        assert_close(joint.front_rad + joint.rear_rad, b, 1e-15);
        assert_close(joint.front_rad - b / 2, tilt, 0.02 * tilt);
        assert_close(joint.second_rad, halves, q * q * q + 1e-15);
        assert_close_relative(joint.second_rad, b * tilt / 2, 0.05);
    }
    assert_close(ht_double_joint(0, 0.0005, 0.08).second_rad, 0, 1e-15);
}

/* ---- planes -------------------------------------------------------------- */

static void neighbouring_joints_are_parallel_intersecting_or_skew(void **state)
{
    (void)state;
    /* slopes, headings, layout, angle between the planes */
    static const struct {
        double slope[3], heading[3];
        enum ht_layout layout;
        double planes_deg;
    } rows[] = {
        { { 0, 4, 0 }, { 0 }, HT_LAYOUT_PARALLEL, 0 },
        { { 0, 4, 8 }, { 0 }, HT_LAYOUT_INTERSECTING, 0 },
        { { 0, 4, 1 }, { 0 }, HT_LAYOUT_PARALLEL, 0 },
        { { 0, 0, 0 }, { 0, 3, 6 }, HT_LAYOUT_INTERSECTING, 0 },
        { { 0, 0.1, 4 }, { 0 }, HT_LAYOUT_STRAIGHT, NAN },
        /* published for small angles: a tenth of the pair's 3 degrees */
        { { 0, -0.3, -0.5 }, { 0, 0, 0.22360680 }, HT_LAYOUT_SKEW, 48.189685 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ht_chain chain = chain_of(3, rows[i].slope, rows[i].heading);
        struct ht_pair_layout pair = ht_layout_of(&chain, 1);
        assert_int_equal(pair.layout, rows[i].layout);
        assert_int_equal(isnan(pair.planes_rad), isnan(rows[i].planes_deg));
        if (!isnan(pair.planes_rad))
            assert_close(pair.planes_rad / DEG, rows[i].planes_deg, 2e-3);
        assert_close(pair.front_rad, bend(&chain, 0), 1e-15);
        assert_close(pair.rear_rad, bend(&chain, 1), 1e-15);
    }
}

/* ---- clocking ------------------------------------------------------------ */

/* Equal bends cancel when the shaft is clocked by the angle between their
 * planes (derived; third order in q). What is left
 * is of third order in q. */
static void a_shaft_clocked_to_its_planes_cancels(void **state)
{
    (void)state;
    struct ht_chain chain =
        chain_of(3, (double[]){ 0, -3, -5 }, (double[]){ 0, 0, 2.236 });
    struct ht_clocking best = ht_clock_section(&chain, 1, 0);
    assert_close(fabs(best.yoke_rad[1]), ht_layout_of(&chain, 1).planes_rad,
                 1e-6);
    chain.yoke_rad[1] = best.yoke_rad[1];
    assert_close(second_of(&chain), best.second_rad, 1e-12);
    chain = chain_of(3, (double[]){ 0, 3, 3 }, (double[]){ 0, 0, 3 });
    best = ht_clock_section(&chain, 1, 0);
    assert_close(best.second_rad, 0, 0.01 * sum_of_q(&chain));
}

static double least_by_steps(struct ht_chain chain, size_t section,
                             unsigned steps, double turn)
{
    double least = INFINITY, from = chain.yoke_rad[section];
    for (unsigned k = 0; k < steps; k++) {
        chain.yoke_rad[section] = from + turn * k / steps;
        least = fmin(least, second_of(&chain));
    }
    return least;
}

/* Half a turn in quarter degrees: the least of these is above the best by the
 * slope over an eighth of a degree, 2 q 0.0022 at most. */
static void no_angle_of_one_section_leaves_less(void **state)
{
    (void)state;
    struct random_source source = { 4201 };
    for (int i = 0; i < 12; i++) {
        struct ht_chain chain = random_line(&source, 10);
        for (size_t m = 1; m + 1 < chain.members && m < 3; m++) {
            struct ht_clocking best = ht_clock_section(&chain, m, 0);
            double least = least_by_steps(chain, m, 720, 180 * DEG);
            assert_true(best.second_rad <= least + 1e-12);
            assert_true(best.second_rad >=
                        least - 2 * 0.0022 * sum_of_q(&chain));
        }
    }
}

static void no_tooth_of_the_spline_leaves_less(void **state)
{
    (void)state;
    struct random_source source = { 4202 };
    for (int i = 0; i < 12; i++) {
        struct ht_chain chain = random_line(&source, 10);
        unsigned teeth = 16 + (unsigned)(random_bits(&source) % 20);
        for (size_t m = 1; m + 1 < chain.members && m < 3; m++) {
            struct ht_clocking best = ht_clock_section(&chain, m, teeth);
            double least = least_by_steps(chain, m, teeth, 360 * DEG);
            assert_close(best.second_rad, least, 2e-12);
            struct ht_chain turned = chain;
            turned.yoke_rad[m] += (double)best.teeth[m] * 360 * DEG / teeth;
            assert_close(second_of(&turned), best.second_rad, 1e-12);
            assert_true(labs(best.teeth[m]) <= (long)(teeth / 2));
        }
    }
}

/* Derived: phasors of free direction leave what the largest has over all the
 * others together, or nothing; 2 % of Q is the closed form's bound. */
static void all_sections_together_leave_what_one_joint_has_over(void **state)
{
    (void)state;
    struct random_source source = { 4203 };
    for (int i = 0; i < 40; i++) {
        struct ht_chain chain = random_line(&source, 8);
        double q = sum_of_q(&chain), largest = 0;
        for (size_t j = 0; j + 1 < chain.members; j++)
            largest = fmax(largest, pow(tan(bend(&chain, j) / 2), 2));
        struct ht_clocking best = ht_clock_all(&chain, 0);
        assert_close(best.second_rad, fmax(0, 2 * largest - q), 0.02 * q);
        assert_true(best.second_rad <= second_of(&chain) + 1e-12);
    }
}

static void two_sections_on_splines_are_searched_through(void **state)
{
    (void)state;
    struct ht_chain chain =
        chain_of(4, (double[]){ 0, 2, 6, 3 }, (double[]){ 0, 1, 0, 2 });
    struct ht_clocking best = ht_clock_all(&chain, 18);
    double least = INFINITY;
    for (int a = 0; a < 18; a++)
        for (int b = 0; b < 18; b++) {
            chain.yoke_rad[1] = a * 20 * DEG;
            chain.yoke_rad[2] = b * 20 * DEG;
            least = fmin(least, second_of(&chain));
        }
    assert_close(best.second_rad, least, 2e-12);
}

/* Three equal joints in line: no single section gains, all of them cancel. */
static void three_equal_joints_can_cancel_by_thirds(void **state)
{
    (void)state;
    struct ht_chain chain = chain_of(4, (double[]){ 0, 3, 0, 3 }, NULL);
    struct ht_clocking alone = ht_clock_section(&chain, 1, 0);
    assert_close(alone.leftover_rad / DEG, 3, 0.01);
    assert_true(ht_clock_all(&chain, 0).leftover_rad / DEG < 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_member_behind_the_first_joint_turns_as_one_joint),
        cmocka_unit_test(joints_that_keep_the_speed_end_a_chain),
        cmocka_unit_test(a_centred_double_joint_leaves_nothing),
        cmocka_unit_test(a_centring_error_leaves_bend_times_tilt),
        cmocka_unit_test(neighbouring_joints_are_parallel_intersecting_or_skew),
        cmocka_unit_test(a_shaft_clocked_to_its_planes_cancels),
        cmocka_unit_test(no_angle_of_one_section_leaves_less),
        cmocka_unit_test(no_tooth_of_the_spline_leaves_less),
        cmocka_unit_test(all_sections_together_leave_what_one_joint_has_over),
        cmocka_unit_test(two_sections_on_splines_are_searched_through),
        cmocka_unit_test(three_equal_joints_can_cancel_by_thirds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
