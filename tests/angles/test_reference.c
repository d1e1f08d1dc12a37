/* Ten thousand lines against a slow reference in long double. */
#include "close.h"
#include "random_line.h"

#include <complex.h>

enum { LINES = 10000, STRIDE = 2, POINTS = HT_TURN_STEPS / 2 / STRIDE };

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ten_thousand_lines_agree_with_the_reference_to_1e_12),
        cmocka_unit_test(the_curve_holds_the_chains_own_harmonics),
        cmocka_unit_test(acceleration_is_the_speeds_derivative),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
