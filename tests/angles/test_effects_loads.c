/* Couples and supports over one turn. */
#include "close.h"
#include "random_line.h"

#include <string.h>

static const double no_length[HT_MEMBERS_MAX] = { NAN, NAN, NAN, NAN, NAN,
                                                  NAN, NAN, NAN, NAN };

static void hold_nothing(struct ht_bearings *bearings)
{
    for (size_t m = 0; m < HT_MEMBERS_MAX; m++)
        bearings[m] = (struct ht_bearings){ NAN, NAN, NAN };
}

/* T tan(b)/2 steady and at 2x on the driving member, exactly (Klein, bearing
 * forces; 43.744332 for 1000 N m at 5 degrees). The driven member's couple,
 * T sin(b) at its peak, turns with it. */
static void one_joint_has_its_closed_form_couples(void **state)
{
    (void)state;
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct ht_chain chain = { .members = 2, .slope_rad = { 0, 5 * DEG } };
    struct ht_load load = { &chain, 1000, no_length, bearings };
    struct ht_loads loads;
    hold_nothing(bearings);
    ht_loads_compute(&loads, &load);
    assert_close(loads.joint[0].front_n_m.steady, 43.744332, 5e-7);
    assert_close(loads.joint[0].front_n_m.twice, 43.744332, 5e-7);
    assert_close(loads.joint[0].front_n_m.peak, 87.488664, 5e-7);
    assert_close(loads.joint[0].rear_n_m.peak, 87.155743, 5e-7);
    assert_close(loads.joint[0].torque_swing, 0, 1e-15);
    assert_int_equal(loads.supports, 0);
}

/* With several joints the torque into each swings by s and its rotation by
 * half of that: the closed form is within 3 s of T tan(b). */
static void the_closed_form_couples_hold_within_the_torques_swing(void **state)
{
    (void)state;
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct random_source source = { 4301 };
    double largest = 0;
    hold_nothing(bearings);
    for (int i = 0; i < 300; i++) {
        struct ht_chain chain = random_line(&source, 8);
        struct ht_load load = { &chain, 900, no_length, bearings };
        struct ht_loads loads;
        ht_loads_compute(&loads, &load);
        for (size_t j = 0; j < loads.joints; j++) {
            const struct ht_joint_load *joint = &loads.joint[j];
            struct ht_joint_couples plain =
                ht_joint_couples(bend(&chain, j), 900);
            const struct ht_swing *driving =
                chain.from_rear ? &joint->rear_n_m : &joint->front_n_m;
            double most = 3 * joint->torque_swing * plain.driving_peak_n_m;
            assert_close(driving->steady, plain.steady_n_m, most + 1e-9);
            assert_close(driving->twice, plain.twice_n_m, most + 1e-9);
            largest = fmax(largest, joint->torque_swing);
        }
    }
    assert_true(largest > 0.02); /* or nothing was tried */
}

/* A joint that halves its bend passes a steady couple, T tan(b/2), on either
 * side (derived; Seherr-Thoss, Schmelz and Aucktor, from memory). */
static void a_constant_velocity_joint_has_a_steady_couple(void **state)
{
    (void)state;
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct ht_chain chain = { .members = 2,
                              .slope_rad = { 0, 8 * DEG },
                              .kind = { HT_JOINT_CONSTANT_VELOCITY } };
    struct ht_load load = { &chain, 500, no_length, bearings };
    struct ht_loads loads;
    hold_nothing(bearings);
    ht_loads_compute(&loads, &load);
    assert_close(loads.joint[0].front_n_m.steady, 500 * tan(4 * DEG), 1e-10);
    assert_close(loads.joint[0].rear_n_m.steady, 500 * tan(4 * DEG), 1e-10);
    assert_close(loads.joint[0].front_n_m.twice, 0, 1e-10);
}

/* A two-piece shaft: gearbox and pinion on two bearings, front shaft on a
 * centre bearing. */
static void two_piece(struct ht_load *load, double *length,
                      struct ht_bearings *bearings)
{
    memcpy(length, no_length, sizeof no_length);
    hold_nothing(bearings);
    length[1] = 0.75;
    length[2] = 1.3;
    bearings[0] = (struct ht_bearings){ 0.2, 0.15, NAN };
    bearings[1].centre_m = 0.7;
    bearings[3] = (struct ht_bearings){ 0.12, 0.09, NAN };
    load->length_m = length;
    load->bearings = bearings;
}

/* 1200 N m, 0.5 and 3 degrees bending the same way, 0.7 m: 104.80 N at most
 * (derived), and nearly so, as both couples peak at once. The rear shaft is
 * so long and straight that it brings none. */
static void a_centre_bearing_bears_up_to_its_bound(void **state)
{
    (void)state;
    double length[HT_MEMBERS_MAX];
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct ht_chain chain = {
        .members = 4, .slope_rad = { 0, 0.5 * DEG, 3.5 * DEG, 3.5 * DEG }
    };
    struct ht_load load = { .chain = &chain, .torque_n_m = 1200 };
    struct ht_loads loads;
    two_piece(&load, length, bearings);
    length[2] = 1e6;
    ht_loads_compute(&loads, &load);
    assert_int_equal(loads.supports, 5);
    assert_int_equal(loads.support[2].place, HT_SUPPORT_CENTRE);
    double peak = loads.support[2].force_n.peak;
    double bound = ht_centre_bearing_bound(1200, 0.5 * DEG, 3 * DEG, 0.7);
    assert_close(bound, 104.80, 0.005);
    assert_true(peak <= bound && peak > 0.999 * bound);
    /* half of it steady, half at 2x */
    assert_close(loads.support[2].force_n.twice, bound / 2, 0.01 * bound);
    assert_close(loads.support[2].force_n.steady, bound / 2, 0.01 * bound);
}

static void no_centre_bearing_bears_more_than_its_bound(void **state)
{
    (void)state;
    struct random_source source = { 4302 };
    size_t seen = 0;
    for (int i = 0; i < 300; i++) {
        struct ht_chain chain = random_line(&source, 8);
        double length[HT_MEMBERS_MAX];
        struct ht_bearings bearings[HT_MEMBERS_MAX];
        struct ht_loads loads;
        struct ht_load load = { &chain, 900, length, bearings };
        hold_nothing(bearings);
        for (size_t m = 0; m < chain.members; m++) {
            length[m] = random_uniform(&source, 0.5, 1.6);
            if (m > 0 && m + 2 < chain.members)
                bearings[m].centre_m = length[m] * 0.9;
        }
        ht_loads_compute(&loads, &load);
        for (size_t s = 0; s < loads.supports; s++, seen++)
            assert_true(loads.support[s].force_n.peak <=
                        loads.support[s].bound_n);
    }
    assert_true(seen > 300);
}

/* Forces balance: bearings of one line together bear nothing. What is dropped
 * along the members' own axes is the bends' squares. */
static void all_bearings_together_bear_nothing(void **state)
{
    (void)state;
    double length[HT_MEMBERS_MAX], force[HT_SUPPORTS_MAX + 2][3];
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct ht_chain chain = { .members = 4,
                              .slope_rad = { 2 * DEG, 4 * DEG, 7 * DEG,
                                             3 * DEG },
                              .heading_rad = { 0, 1 * DEG, -1 * DEG, 0 } };
    struct ht_load load = { .chain = &chain, .torque_n_m = 900 };
    two_piece(&load, length, bearings);
    for (double at = 0; at < 3; at += 0.2) {
        double sum[3] = { 0 }, size = 0;
        ht_supports_at(force, &load, at);
        for (int s = 0; s < 5; s++)
            for (int i = 0; i < 3; i++) {
                sum[i] += force[s][i];
                size += fabs(force[s][i]);
            }
        for (int i = 0; i < 3; i++)
            assert_close(sum[i], 0, 0.01 * size);
        assert_true(size > 50);
    }
}

static void what_cannot_be_solved_has_no_supports(void **state)
{
    (void)state;
    double length[HT_MEMBERS_MAX];
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    struct ht_chain chain = { .members = 4, .slope_rad = { 0, 0.05, 0, 0.04 } };
    struct ht_load load = { .chain = &chain, .torque_n_m = 900 };
    struct ht_loads loads;
    two_piece(&load, length, bearings);
    length[2] = NAN;
    ht_loads_compute(&loads, &load);
    assert_int_equal(loads.supports, 0);
    two_piece(&load, length, bearings);
    bearings[2].centre_m = 1.2; /* no section left that is free */
    ht_loads_compute(&loads, &load);
    assert_int_equal(loads.supports, 0);
    two_piece(&load, length, bearings);
    bearings[1].centre_m = NAN; /* two of them */
    ht_loads_compute(&loads, &load);
    assert_int_equal(loads.supports, 0);
    assert_true(loads.joint[0].front_n_m.twice > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_joint_has_its_closed_form_couples),
        cmocka_unit_test(the_closed_form_couples_hold_within_the_torques_swing),
        cmocka_unit_test(a_constant_velocity_joint_has_a_steady_couple),
        cmocka_unit_test(a_centre_bearing_bears_up_to_its_bound),
        cmocka_unit_test(no_centre_bearing_bears_more_than_its_bound),
        cmocka_unit_test(all_bearings_together_bear_nothing),
        cmocka_unit_test(what_cannot_be_solved_has_no_supports),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
