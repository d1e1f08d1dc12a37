/* Ten thousand lines against a slow reference in long double, and what must
 * hold of every line. */
#include "close.h"
#include "random.h"

#include "halfturn/effects.h"

#include <complex.h>
#include <math.h>
#include <string.h>

#define DEG (3.14159265358979323846 / 180)

enum { LINES = 10000, STRIDE = 2, POINTS = HT_TURN_STEPS / 2 / STRIDE };

static struct ht_chain random_line(struct random_source *source,
                                   double most_deg)
{
    struct ht_chain chain = { .members = 2 + random_bits(source) % 8 };
    chain.from_rear = random_bits(source) % 2;
    double slope = random_uniform(source, -5, 5), heading = 0;
    for (size_t m = 0; m < chain.members; m++) {
        chain.slope_rad[m] = slope * DEG;
        chain.heading_rad[m] = heading * DEG;
        chain.yoke_rad[m] = random_uniform(source, -180, 180) * DEG;
        double size = random_uniform(source, 0, most_deg);
        double way = random_uniform(source, 0, 360 * DEG);
        slope += size * cos(way);
        heading += size * sin(way);
    }
    return chain;
}

/* ---- the reference -------------------------------------------------------
 * Each yoke carries a pin in its own frame, turned by sine and cosine. The
 * driven yoke stands where its pin's scalar product with the driving pin is
 * zero: one linear equation in sine and cosine. The speed follows from the
 * same product's derivatives. No cross product, no closed form of the map. */

typedef long double real;
static const real pi_l = 3.141592653589793238462643383279502884L;

struct frame {
    real a[3], b[3]; /* left, down */
};

static real dot_l(const real *u, const real *v)
{
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
}

static struct frame frame_of(real slope, real heading)
{
    real cs = cosl(slope), ss = sinl(slope);
    real ch = cosl(heading), sh = sinl(heading);
    return (struct frame){ { sh, ch, 0 }, { ss * ch, -ss * sh, -cs } };
}

/* The pin where the rotation's cosine and sine are c and s, and how it moves.
 */
static void pin_at(const struct frame *frame, real c, real s, real *pin,
                   real *way)
{
    for (int i = 0; i < 3; i++) {
        pin[i] = c * frame->a[i] + s * frame->b[i];
        way[i] = c * frame->b[i] - s * frame->a[i];
    }
}

struct reference {
    real error[HT_MEMBERS_MAX][POINTS], ratio[HT_MEMBERS_MAX][POINTS];
};

/* Cosine and sine of the rotation of the next member's front yoke, nearest
 * to a quarter turn behind the driving yoke's c and s. */
static void stand_square(const struct frame *to, const real *driving, real *c,
                         real *s)
{
    real x = dot_l(to->b, driving), y = -dot_l(to->a, driving);
    real size = sqrtl(x * x + y * y);
    size = x * *s - y * *c < 0 ? -size : size;
    *c = x / size;
    *s = y / size;
}

static void follow(struct reference *reference, const struct ht_chain *chain,
                   const struct frame *frame, const real *yoke, size_t k)
{
    size_t n = chain->members, at = chain->from_rear ? n - 1 : 0;
    real input = 2 * pi_l * (real)(k * STRIDE) / HT_TURN_STEPS;
    real begin = atan2l(frame[at].b[1], frame[at].a[1]); /* pins to the left */
    real c = cosl(input + begin), s = sinl(input + begin), speed = 1;
    real driving[3], way[3], driven[3], driven_way[3];
    reference->error[at][k] = 0;
    reference->ratio[at][k] = 1;
    for (size_t j = 0; j + 1 < n; j++) {
        size_t to = chain->from_rear ? at - 1 : at + 1;
        pin_at(&frame[at], c, s, driving, way);
        stand_square(&frame[to], driving, &c, &s);
        pin_at(&frame[to], c, s, driven, driven_way);
        speed *= -dot_l(way, driven) / dot_l(driving, driven_way);
        reference->error[to][k] = atan2l(s, c) - input;
        reference->ratio[to][k] = speed;
        if (j + 2 < n) {
            real yc = yoke[2 * to], ys = yoke[2 * to + 1], was = c;
            c = was * yc - s * ys;
            s = s * yc + was * ys;
        }
        at = to;
    }
}

static void reference_of(struct reference *reference,
                         const struct ht_chain *chain)
{
    struct frame frame[HT_MEMBERS_MAX];
    real yoke[2 * HT_MEMBERS_MAX];
    for (size_t m = 0; m < chain->members; m++) {
        real turn = (chain->from_rear ? -1 : 1) * (real)chain->yoke_rad[m];
        frame[m] =
            frame_of((real)chain->slope_rad[m], (real)chain->heading_rad[m]);
        yoke[2 * m] = cosl(turn);
        yoke[2 * m + 1] = sinl(turn);
    }
    for (size_t k = 0; k < POINTS; k++)
        follow(reference, chain, frame, yoke, k);
}

/* Largest difference of the harmonics at 2x, 4x, 6x: half a turn tells them,
 * as every harmonic is even. */
static double harmonics_apart(const struct ht_turn_curve *curve,
                              const real *error, const real *circle)
{
    double most = 0;
    for (size_t n = 1; n <= 3; n++) {
        real re = 0, im = 0;
        for (size_t k = 0; k < POINTS; k++) {
            real off = remainderl(error[k] - error[0], 2 * pi_l);
            re += off * circle[2 * (k * n % POINTS)];
            im += off * circle[2 * (k * n % POINTS) + 1];
        }
        double size = (double)(2 * sqrtl(re * re + im * im) / POINTS);
        most = fmax(most, fabs(size - curve->harmonic_rad[n - 1]));
    }
    return most;
}

static double curves_apart(const struct ht_turn_curve *curve, const real *error,
                           const real *ratio)
{
    double most = 0;
    for (size_t k = 0; k < POINTS; k++) {
        const real turn = 2 * pi_l;
        real got =
            (real)curve->error_rad[k * STRIDE] - (real)curve->error_rad[0];
        real off = remainderl(got - (error[k] - error[0]), turn);
        most = fmax(most, (double)fabsl(off));
        most = fmax(most, fabs((double)(curve->ratio[k * STRIDE] - ratio[k])));
    }
    return most;
}

/* 1e-12, for every member's rotation and speed at 45 rotations and for its
 * three harmonics: double precision through 8 joints of 30 operations each
 * stands a hundred times below. */
static void ten_thousand_lines_agree_with_the_reference_to_1e_12(void **state)
{
    (void)state;
    struct random_source source = { 4101 };
    static struct ht_turn turn;
    static struct reference reference;
    double most = 0;
    real circle[2 * POINTS];
    for (size_t k = 0; k < POINTS; k++) {
        circle[2 * k] = cosl(2 * pi_l * (real)k / POINTS);
        circle[2 * k + 1] = sinl(2 * pi_l * (real)k / POINTS);
    }
    for (int i = 0; i < LINES; i++) {
        struct ht_chain chain = random_line(&source, 25);
        ht_chain_turn(&turn, &chain);
        reference_of(&reference, &chain);
        for (size_t m = 0; m < chain.members; m++) {
            const struct ht_turn_curve *curve = &turn.member[m];
            double apart =
                curves_apart(curve, reference.error[m], reference.ratio[m]);
            apart =
                fmax(apart, harmonics_apart(curve, reference.error[m], circle));
            if (apart > 1e-12)
                print_error("line %d of seed 4101, member %zu\n", i, m);
            assert_close(apart, 0, 1e-12);
            most = fmax(most, apart);
        }
    }
    print_message("largest difference of %d lines: %.2g\n", LINES, most);
}

/* The three ways to the output's second harmonic: whole turn in 720 steps,
 * eight points of half a turn (its aliasing, 14x: tan^14 of half the bends,
 * below 1e-12 up to 8 degrees), and the curve. */
static void the_curve_holds_the_chains_own_harmonics(void **state)
{
    (void)state;
    struct random_source source = { 4102 };
    static struct ht_turn turn;
    for (int i = 0; i < 200; i++) {
        struct ht_chain chain = random_line(&source, 25);
        struct ht_chain_motion motion = ht_chain_exact(&chain);
        ht_chain_turn(&turn, &chain);
        const struct ht_turn_curve *out =
            &turn.member[chain.from_rear ? 0 : chain.members - 1];
        for (int n = 0; n < 3; n++)
            assert_close(out->harmonic_rad[n], motion.harmonic_rad[n], 1e-13);
        /* parabolas at 2 and at half a degree */
        assert_close(out->ratio_high - 1, motion.ripple, 2e-5);
    }
}

/* Derivative of the speed's Fourier series; its highest term, 88x, is below
 * the number format for bends to 20 degrees. 1e-11: format times 88. */
static void acceleration_is_the_speeds_derivative(void **state)
{
    (void)state;
    struct random_source source = { 4103 };
    static struct ht_turn turn;
    for (int i = 0; i < 20; i++) {
        struct ht_chain chain = random_line(&source, 20);
        ht_chain_turn(&turn, &chain);
        for (size_t m = 0; m < chain.members; m++) {
            const struct ht_turn_curve *curve = &turn.member[m];
            double complex sum[45] = { 0 };
            for (int n = 1; n < 45; n++)
                for (int k = 0; k < HT_TURN_STEPS; k++)
                    sum[n] += curve->ratio[k] *
                              cexp(-I * 4 * DEG * (double)(n * k % 90)) * 2 /
                              HT_TURN_STEPS;
            for (int k = 0; k < HT_TURN_STEPS; k += 7) {
                double slope = 0;
                for (int n = 1; n < 45; n++)
                    slope += creal(2.0 * n * I * sum[n] *
                                   cexp(I * 4 * DEG * (double)(n * k % 90)));
                assert_close(curve->acceleration[k], slope, 1e-11);
            }
        }
    }
}

/* ---- what must hold of every line ---------------------------------------- */

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

static double bend(const struct ht_chain *chain, size_t j)
{
    return ht_working_angle_rad(chain->slope_rad[j], chain->heading_rad[j],
                                chain->slope_rad[j + 1],
                                chain->heading_rad[j + 1]);
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
        double q = 0;
        other.from_rear = !chain.from_rear;
        for (size_t j = 0; j + 1 < chain.members; j++)
            q += pow(tan(bend(&chain, j) / 2), 2);
        assert_close(ht_chain_exact(&other).harmonic_rad[0],
                     ht_chain_exact(&chain).harmonic_rad[0],
                     2 * q * q * q + 1e-15);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ten_thousand_lines_agree_with_the_reference_to_1e_12),
        cmocka_unit_test(the_curve_holds_the_chains_own_harmonics),
        cmocka_unit_test(acceleration_is_the_speeds_derivative),
        cmocka_unit_test(a_sloping_floor_changes_nothing),
        cmocka_unit_test(a_mirrored_line_does_the_same),
        cmocka_unit_test(a_line_turned_front_for_rear_does_the_same),
        cmocka_unit_test(driven_from_either_end_a_line_leaves_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
