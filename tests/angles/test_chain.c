/* The exact pin chain: against its closed form, against a reference that
 * shares no formula with it, and against worked values. */
#include "chain_of.h"
#include "close.h"
#include "random.h"

#include <complex.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define DEG (3.14159265358979323846 / 180)

static double leftover_deg(const struct ht_chain *chain)
{
    return ht_chain_exact(chain).leftover_rad / DEG;
}

/* Derived: composition of the exact angle maps of two joints at 3 and 2 deg;
 * h2 = 3.81023276e-4 rad. 1e-5 deg and 1e-12 rad: the last digits given. */
static void two_joints_leave_the_composed_maps_second_harmonic(void **state)
{
    (void)state;
    struct ht_chain chain = chain_of(3, (double[]){ 0, 3, 1 }, NULL);
    assert_close(leftover_deg(&chain), 2.236522, 1e-5);
    assert_close(ht_chain_exact(&chain).harmonic_rad[0], 3.81023276e-4, 1e-12);
}

/* Derived: an independent pin chain, 2, 3 and 4 deg, yokes in line or a
 * quarter turn off; values printed to 1e-6, tolerance 2e-6. The four kinds of
 * two-piece shaft: Meritor maintenance manual 5. */
static void
two_piece_shafts_of_four_kinds_leave_the_composed_angles(void **state)
{
    (void)state;
    static const double rows[][3] = { { 0, 0, 3.317161 },
                                      { 90, 0, 1.734251 },
                                      { 0, 90, 4.581910 },
                                      { 90, 90, 5.382863 } };
    for (size_t i = 0; i < 4; i++) {
        struct ht_chain chain = chain_of(4, (double[]){ 0, 2, 5, 9 }, NULL);
        chain.yoke_rad[1] = rows[i][0] * DEG;
        chain.yoke_rad[2] = rows[i][1] * DEG;
        assert_close(leftover_deg(&chain), rows[i][2], 2e-6);
    }
}

/* A chain with every bend a hundredth, its leftover a hundredfold. */
static double small_leftover_deg(struct ht_chain chain)
{
    for (size_t i = 0; i < chain.members; i++) {
        chain.slope_rad[i] /= 100;
        chain.heading_rad[i] /= 100;
    }
    return 100 * leftover_deg(&chain);
}

/* sqrt of the sum of signed squares (ELBE technical pages, resulting angle),
 * with planes and clocking as phasors (derived). The chain comes to it as the
 * bends shrink: what is left at a hundredth is below 6e-8 relative, double
 * precision 1e-15 / 8e-8; with half of the
 * last digit printed 8e-7 deg holds all three. */
static void small_bends_come_to_the_published_sum_of_squares(void **state)
{
    (void)state;
    static const struct {
        size_t members;
        double slope[4], heading[4], yoke[4], leftover;
    } rows[] = {
        { 3, { 0, 3, 1 }, { 0 }, { 0 }, 2.236067977 },
        { 4, { 0, 2, 5, 9 }, { 0 }, { 0, 0, 0 }, 3.316624790 },
        { 4, { 0, 2, 5, 9 }, { 0 }, { 0, 90, 0 }, 1.732050808 },
        { 4, { 0, 2, 5, 9 }, { 0 }, { 0, 0, 90 }, 4.582575695 },
        { 4, { 0, 2, 5, 9 }, { 0 }, { 0, 90, 90 }, 5.385164807 },
        { 3, { -3, -5, -2.5 }, { 0, 1, 0.5 }, { 0 }, 1.831420750 },
        { 3, { 0, -3, -5 }, { 0, 0, 2.2360679775 }, { 0 }, 3.662841501 },
        { 3, { 0, 3, 0 }, { 0 }, { 0, 3, 0 }, 0.970591167 },
        { 3, { 0, 3, 0 }, { 0 }, { 0, 10, 0 }, 1.767956 },
        { 3, { 0, 3, 0 }, { 0 }, { 0, 90, 0 }, 4.242641 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_chain chain =
            chain_of(rows[i].members, rows[i].slope, rows[i].heading);
        for (size_t m = 0; m < rows[i].members; m++)
            chain.yoke_rad[m] = rows[i].yoke[m] * DEG;
        assert_close(small_leftover_deg(chain), rows[i].leftover, 8e-7);
    }
}

/* Derived: the same independent chain with headings; tolerance 2e-6. */
static void compound_bends_leave_the_angle_of_the_pin_chain(void **state)
{
    (void)state;
    struct ht_chain chain =
        chain_of(3, (double[]){ -3, -5, -2.5 }, (double[]){ 0, 1, 0.5 });
    assert_close(leftover_deg(&chain), 1.831026, 2e-6);
    chain = chain_of(3, (double[]){ 0, -3, -5 }, (double[]){ 0, 0, 2.236 });
    assert_close(leftover_deg(&chain), 3.655776, 2e-6);
}

/* Derived: yokes of a 3 / 3 deg shaft welded off line; tolerance 2e-6. */
static void yokes_off_line_leave_the_angle_of_the_pin_chain(void **state)
{
    (void)state;
    static const double rows[][2] = {
        { 3, 0.970790 }, { 5, 1.252755 }, { 10, 1.768220 }, { 90, 4.241671 }
    };
    for (size_t i = 0; i < 4; i++) {
        struct ht_chain chain = chain_of(3, (double[]){ 0, 3, 0 }, NULL);
        chain.yoke_rad[1] = rows[i][0] * DEG;
        assert_close(leftover_deg(&chain), rows[i][1], 2e-6);
    }
}

/* Elevation and heading (-3, 0), (-6, 4): derived, 4.989766 to 1e-5; the
 * square root of the summed squares is 5. */
static void a_compound_working_angle_comes_from_the_directions(void **state)
{
    (void)state;
    assert_close(ht_working_angle_rad(-3 * DEG, 0, -6 * DEG, 4 * DEG) / DEG,
                 4.989766, 1e-5);
    assert_close(ht_working_angle_rad(0, 0, 10 * DEG, 10 * DEG) / DEG,
                 14.106044, 1e-5);
}

/* ---- a slow reference in long double -------------------------------------
 * Each yoke is turned by a rotation matrix about its own shaft until the
 * driven pins stand square to the driving pins (bisection on the scalar
 * product). No cross product of pins, no closed form of the map. */

typedef long double real;
static const real pi_l = 3.141592653589793238462643383279502884L;

struct frame {
    real axis[3], a[3], b[3];
};

static real dot_l(const real *u, const real *v)
{
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
}

/* R = Rz(-heading) Ry(..) of the level frame: axis rearward, a left. */
static struct frame frame_of(real slope, real heading)
{
    real cs = cosl(slope), ss = sinl(slope);
    real ch = cosl(heading), sh = sinl(heading);
    return (struct frame){ { -cs * ch, cs * sh, -ss },
                           { sh, ch, 0 },
                           { ss * ch, -ss * sh, -cs } };
}

static void pin_at(const struct frame *frame, real turn, real *pin)
{
    for (int i = 0; i < 3; i++)
        pin[i] = cosl(turn) * frame->a[i] + sinl(turn) * frame->b[i];
}

/* The rotation near `guess` at which the driven pins are square to `pin`. */
static real square_to(const struct frame *frame, const real *pin, real guess)
{
    real low = guess - pi_l / 4, high = guess + pi_l / 4, driven[3];
    pin_at(frame, low, driven);
    real at_low = dot_l(driven, pin);
    for (int i = 0; i < 80; i++) {
        real middle = (low + high) / 2;
        pin_at(frame, middle, driven);
        if (dot_l(driven, pin) * at_low > 0)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

static long double complex reference_h2(const struct ht_chain *chain,
                                        size_t steps)
{
    size_t n = chain->members;
    struct frame frame[HT_MEMBERS_MAX];
    long double complex sum = 0;
    real first = 0;
    for (size_t m = 0; m < n; m++)
        frame[m] =
            frame_of((real)chain->slope_rad[m], (real)chain->heading_rad[m]);
    for (size_t k = 0; k < steps; k++) {
        real input = 2 * pi_l * (real)k / (real)steps, turn = input, total = 0;
        for (size_t j = 0; j + 1 < n; j++) {
            size_t from = chain->from_rear ? n - 1 - j : j;
            size_t to = chain->from_rear ? from - 1 : from + 1;
            real pin[3];
            pin_at(&frame[from], turn, pin);
            turn = square_to(&frame[to], pin, turn - pi_l / 2);
            if (j + 2 < n)
                turn += (chain->from_rear ? -1 : 1) * (real)chain->yoke_rad[to];
        }
        total = remainderl(turn - input, 2 * pi_l);
        first = k == 0 ? total : first;
        sum += remainderl(total - first, 2 * pi_l) *
               cexpl(-2 * input * (long double complex)I);
    }
    return 2 * sum / (real)steps;
}

static struct ht_chain random_chain(struct random_source *source,
                                    double most_deg, bool headings, bool yokes)
{
    struct ht_chain chain = { 0 };
    chain.members = 2 + random_bits(source) % 8;
    chain.from_rear = random_bits(source) % 2;
    double slope = random_uniform(source, -5, 5), heading = 0;
    for (size_t i = 0; i < chain.members; i++) {
        chain.slope_rad[i] = slope * DEG;
        chain.heading_rad[i] = heading * DEG;
        if (yokes)
            chain.yoke_rad[i] = random_uniform(source, -180, 180) * DEG;
        double size = random_uniform(source, 0, most_deg);
        double way = headings ? random_uniform(source, 0, 360 * DEG)
                              : (random_bits(source) % 2 ? 0 : 180 * DEG);
        slope += size * cos(way);
        heading += size * sin(way);
    }
    return chain;
}

/* Double precision through at most 8 joints of 30 operations each: 1e-13
 * stands 400 half bits above 1. */
static void the_chain_agrees_with_a_long_double_reference(void **state)
{
    (void)state;
    struct random_source source = { 101 };
    for (int i = 0; i < 60; i++) {
        struct ht_chain chain = random_chain(&source, 25, true, true);
        long double complex h2 = reference_h2(&chain, 90);
        double got = ht_chain_exact(&chain).harmonic_rad[0];
        assert_close(got, (double)cabsl(h2), 1e-13);
    }
}

static double sum_of_q(const struct ht_chain *chain)
{
    double sum = 0;
    for (size_t j = 0; j + 1 < chain->members; j++) {
        double t = tan(ht_working_angle_rad(
                           chain->slope_rad[j], chain->heading_rad[j],
                           chain->slope_rad[j + 1], chain->heading_rad[j + 1]) /
                       2);
        sum += t * t;
    }
    return sum;
}

/* Derived: in a plane the cross terms of composed maps are of third order,
 * Q^3 with Q the sum of tan^2(bend/2); joints up to 8 deg. 1e-15: the number
 * format. */
static void closed_form_and_chain_agree_to_third_order_in_a_plane(void **state)
{
    (void)state;
    struct random_source source = { 102 };
    for (int i = 0; i < 3000; i++) {
        struct ht_chain chain = random_chain(&source, 8, false, i % 2);
        double q = sum_of_q(&chain);
        double h2 = ht_phasor_size(ht_chain_second(&chain));
        double sum = ht_phasor_size(ht_chain_closed_form(&chain));
        assert_close(h2, sum, q * q * q + 1e-15);
    }
}

/* Derived: with headings the transverse frames do not carry over exactly; 2 %
 * of Q holds for joints up to 8 deg. */
static void
closed_form_and_chain_agree_to_two_percent_with_headings(void **state)
{
    (void)state;
    struct random_source source = { 103 };
    for (int i = 0; i < 3000; i++) {
        struct ht_chain chain = random_chain(&source, 8, true, true);
        double h2 = ht_phasor_size(ht_chain_second(&chain));
        double sum = ht_phasor_size(ht_chain_closed_form(&chain));
        assert_close(h2, sum, 0.02 * sum_of_q(&chain));
    }
}

/* The same from the exact chain, cut at every section: members up to it from
 * the front, members from it on from the rear. Joints to 8 deg in a plane:
 * third order in Q. */
static void the_worst_section_is_that_of_the_chain_cut_there(void **state)
{
    (void)state;
    struct random_source source = { 105 };
    for (int i = 0; i < 300; i++) {
        struct ht_chain chain = random_chain(&source, 8, false, true);
        double worst = 0, q = sum_of_q(&chain);
        chain.from_rear = false;
        for (size_t m = 1; m + 1 < chain.members; m++) {
            struct ht_chain front = chain, rear = chain;
            front.members = m + 1;
            rear.members = chain.members - m;
            rear.from_rear = true;
            for (size_t k = 0; k < rear.members; k++) {
                rear.slope_rad[k] = chain.slope_rad[m + k];
                rear.heading_rad[k] = chain.heading_rad[m + k];
                rear.yoke_rad[k] = chain.yoke_rad[m + k];
            }
            worst = fmax(worst, ht_phasor_size(ht_chain_second(&front)));
            worst = fmax(worst, ht_phasor_size(ht_chain_second(&rear)));
        }
        assert_close(ht_chain_worst_section(&chain), worst, q * q * q + 1e-15);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_joints_leave_the_composed_maps_second_harmonic),
        cmocka_unit_test(
            two_piece_shafts_of_four_kinds_leave_the_composed_angles),
        cmocka_unit_test(small_bends_come_to_the_published_sum_of_squares),
        cmocka_unit_test(compound_bends_leave_the_angle_of_the_pin_chain),
        cmocka_unit_test(yokes_off_line_leave_the_angle_of_the_pin_chain),
        cmocka_unit_test(a_compound_working_angle_comes_from_the_directions),
        cmocka_unit_test(the_chain_agrees_with_a_long_double_reference),
        cmocka_unit_test(closed_form_and_chain_agree_to_third_order_in_a_plane),
        cmocka_unit_test(
            closed_form_and_chain_agree_to_two_percent_with_headings),
        cmocka_unit_test(the_worst_section_is_that_of_the_chain_cut_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
