/* What must hold of every line, whatever the numbers. */
#include "close.h"
#include "random_line.h"

static void direction(const struct ht_chain *chain, size_t m, double d[3])
{
    double s = chain->slope_rad[m], h = chain->heading_rad[m];
    d[0] = -cos(s) * cos(h);
    d[1] = cos(s) * sin(h);
    d[2] = -sin(s);
}

/* Pitch, then roll, then yaw of the floor. */
static void on_floor(struct ht_chain *chain, double pitch, double roll,
                     double yaw)
{
    for (size_t m = 0; m < chain->members; m++) {
        double d[3], t;
        direction(chain, m, d);
        t = d[0] * cos(pitch) + d[2] * sin(pitch);
        d[2] = d[2] * cos(pitch) - d[0] * sin(pitch);
        d[0] = t;
        t = d[1] * cos(roll) - d[2] * sin(roll);
        d[2] = d[2] * cos(roll) + d[1] * sin(roll);
        d[1] = t;
        t = d[0] * cos(yaw) - d[1] * sin(yaw);
        d[1] = d[1] * cos(yaw) + d[0] * sin(yaw);
        d[0] = t;
        chain->slope_rad[m] = atan2(-d[2], hypot(d[0], d[1]));
        chain->heading_rad[m] = atan2(d[1], -d[0]);
    }
}

/* Seen from the other end: members in reverse, slopes with the other sign. */
static void turn_round(struct ht_chain *chain)
{
    struct ht_chain was = *chain;
    for (size_t m = 0; m < was.members; m++) {
        size_t other = was.members - 1 - m;
        chain->slope_rad[m] = -was.slope_rad[other];
        chain->heading_rad[m] = was.heading_rad[other];
        chain->yoke_rad[m] = was.yoke_rad[other];
    }
    chain->from_rear = !was.from_rear;
}

static void mirror(struct ht_chain *chain)
{
    for (size_t m = 0; m < chain->members; m++) {
        chain->heading_rad[m] = -chain->heading_rad[m];
        chain->yoke_rad[m] = -chain->yoke_rad[m];
    }
}

static const double length_m[HT_MEMBERS_MAX] = { 1,   1.1, 1.3, 0.9, 1.2,
                                                 1.4, 0.8, 1.0, 1 };
static void loads_of(struct ht_loads *loads, const struct ht_chain *chain,
                     bool reversed)
{
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    double length[HT_MEMBERS_MAX];
    for (size_t m = 0; m < chain->members; m++) {
        size_t as = reversed ? chain->members - 1 - m : m;
        bearings[m] = (struct ht_bearings){ NAN, NAN, NAN };
        length[m] = length_m[as];
        if (as == 0)
            bearings[m] = (struct ht_bearings){ 0.2, 0.15, NAN };
        else if (as + 2 < chain->members)
            bearings[m].centre_m = reversed ? 0.1 : length[m] - 0.1;
    }
    struct ht_load load = { chain, 900, length, bearings };
    ht_loads_compute(loads, &load);
}

/* All that does not depend on where the turn is begun. 1e-12: angles to the
 * number format, newton (metres) to 1e-12 of a thousand. */
static void same(const struct ht_chain *a, const struct ht_chain *b,
                 bool reversed)
{
    static struct ht_turn turn_a, turn_b;
    struct ht_loads load_a, load_b;
    size_t n = a->members;
    ht_chain_turn(&turn_a, a);
    ht_chain_turn(&turn_b, b);
    loads_of(&load_a, a, false);
    loads_of(&load_b, b, reversed);
    for (size_t m = 0; m < n; m++) {
        size_t o = reversed ? n - 1 - m : m;
        for (int i = 0; i < 3; i++)
            assert_close(turn_b.member[o].harmonic_rad[i],
                         turn_a.member[m].harmonic_rad[i], 1e-12);
    }
    for (size_t j = 0; j + 1 < n; j++) {
        size_t o = reversed ? n - 2 - j : j;
        const struct ht_joint_load *la = &load_a.joint[j];
        const struct ht_joint_load *lb = &load_b.joint[o];
        assert_close(bend(b, o), bend(a, j), 1e-12);
        assert_close((reversed ? lb->rear_n_m : lb->front_n_m).steady,
                     la->front_n_m.steady, 1e-9);
        assert_close((reversed ? lb->front_n_m : lb->rear_n_m).twice,
                     la->rear_n_m.twice, 1e-9);
    }
    assert_int_equal(load_a.supports, load_b.supports);
    for (size_t s = 0; s < load_a.supports; s++) {
        const struct ht_swing *fa = &load_a.support[s].force_n, *fb = NULL;
        for (size_t t = 0; t < load_b.supports; t++)
            if (load_b.support[t].place == load_a.support[s].place &&
                load_b.support[t].member ==
                    (reversed ? n - 1 - load_a.support[s].member
                              : load_a.support[s].member))
                fb = &load_b.support[t].force_n;
        assert_non_null(fb);
        assert_close(fb->steady, fa->steady, 1e-8);
        assert_close(fb->twice, fa->twice, 1e-8);
    }
}

static void a_sloping_floor_changes_nothing(void **state)
{
    (void)state;
    struct random_source source = { 4104 };
    for (int i = 0; i < 500; i++) {
        struct ht_chain chain = random_line(&source, 12), tilted = chain;
        on_floor(&tilted, random_uniform(&source, -15, 15) * DEG,
                 random_uniform(&source, -15, 15) * DEG,
                 random_uniform(&source, -30, 30) * DEG);
        same(&chain, &tilted, false);
    }
}

static void a_mirrored_line_does_the_same(void **state)
{
    (void)state;
    struct random_source source = { 4105 };
    for (int i = 0; i < 500; i++) {
        struct ht_chain chain = random_line(&source, 12), other = chain;
        mirror(&other);
        same(&chain, &other, false);
    }
}

static void a_line_turned_front_for_rear_does_the_same(void **state)
{
    (void)state;
    struct random_source source = { 4106 };
    for (int i = 0; i < 500; i++) {
        struct ht_chain chain = random_line(&source, 12), other = chain;
        turn_round(&other);
        same(&chain, &other, true);
    }
}

/* Driven backwards at the output's rotations, the line undoes what it does
 * forwards: both ends' second harmonics are equal to third order in the sum
 * of tan^2 of half the bends. */
static void driven_from_either_end_a_line_leaves_the_same(void **state)
{
    (void)state;
    struct random_source source = { 4107 };
    for (int i = 0; i < 500; i++) {
        struct ht_chain chain = random_line(&source, 8), other = chain;
        double q = sum_of_q(&chain);
        other.from_rear = !chain.from_rear;
        assert_close(ht_chain_exact(&other).harmonic_rad[0],
                     ht_chain_exact(&chain).harmonic_rad[0],
                     2 * q * q * q + 1e-15);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sloping_floor_changes_nothing),
        cmocka_unit_test(a_mirrored_line_does_the_same),
        cmocka_unit_test(a_line_turned_front_for_rear_does_the_same),
        cmocka_unit_test(driven_from_either_end_a_line_leaves_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
