/* The pieces under the orders room, each against an outside value. */
#include "close.h"
#include "made.h"

#include "common/memory.h"
#include "orders/floor.h"
#include "orders/growth.h"
#include "orders/joint.h"
#include "orders/level.h"
#include "orders/spectrum.h"
#include "orders/stretch.h"

static void cosine_and_sine_agree_with_the_c_library(void **state)
{
    (void)state;
    for (int i = -4000; i < 4000; i++) {
        struct ht_phasor p = ht_phasor_of(i * 0.00137);
        double angle = 2 * MADE_PI * i * 0.00137;
        assert_close(p.re, cos(angle), 2e-8); /* the header's promise */
        assert_close(p.im, sin(angle), 2e-8);
    }
}

/* Harris, Proc. IEEE 66 (1978), table 1 for Hann: scallop loss 1.42 dB (half
 * a line off), 6 dB at one line, nothing at two. Half the last digit. */
static void hann_transform_matches_the_published_table(void **state)
{
    (void)state;
    assert_close(20 * log10(ht_joint_hann(0.5)), -1.42, 0.005);
    assert_close(ht_joint_hann(1), 0.5, 1e-12);
    assert_close(ht_joint_hann(2), 0, 1e-12);
    assert_close(ht_joint_hann_squared(0), 1, 1e-12);
    /* overlap correlation of Hann at one line: 2/3 */
    assert_close(ht_joint_hann_squared(1), 2.0 / 3, 1e-12);
}

static bool refuse(size_t bytes)
{
    (void)bytes;
    return false;
}

/* Two reasons to fail, two statuses. */
static void equations_without_a_solution_are_no_want_of_memory(void **state)
{
    (void)state;
    const double same[] = { 3, 3, 8 }, still[] = { 1e-6, 3, 8 };
    struct ht_joint joint;
    assert_int_equal(ht_joint_create(&joint, same, 3, 16), HT_BAD_FILE);
    ht_joint_free(&joint);
    assert_int_equal(ht_joint_create(&joint, still, 3, 16), HT_BAD_FILE);
    ht_joint_free(&joint);
    ht_memory_permit = refuse;
    enum ht_status refused = ht_joint_create(&joint, still, 3, 16);
    ht_memory_permit = NULL;
    assert_int_equal(refused, HT_NO_MEMORY);
    ht_joint_free(&joint);
}

static void joint_fit_parts_lines_one_cycle_apart(void **state)
{
    (void)state;
    const double order[] = { 3, 3.0625, 8 };
    struct ht_joint joint;
    assert_int_equal(ht_joint_create(&joint, order, 3, 16), HT_OK);
    /* x = 0.2 cos(3) + 0.05 sin(3.0625) about the middle: its sums by
     * quadrature of the definition */
    struct ht_phasor sum[3] = { { 0, 0 }, { 0, 0 }, { 0, 0 } };
    enum { N = 20000 };
    for (int i = 0; i < N; i++) {
        double turns = ((i + 0.5) / N - 0.5) * 16;
        double w = 1 + cos(2 * MADE_PI * turns / 16);
        double x = 0.2 * cos(2 * MADE_PI * 3 * turns) +
                   0.05 * sin(2 * MADE_PI * 3.0625 * turns);
        for (int k = 0; k < 3; k++) {
            double angle = 2 * MADE_PI * order[k] * turns;
            sum[k].re += w * x * cos(angle) / N;
            sum[k].im -= w * x * sin(angle) / N;
        }
    }
    ht_joint_solve(&joint, sum, 3);
    assert_close(hypot(sum[0].re, sum[0].im), 0.2, 1e-6);
    assert_close(sum[1].im, -0.05, 1e-6);
    assert_close(hypot(sum[2].re, sum[2].im), 0, 1e-6);
    assert_true(joint.inflation[2 * 3 + 2] < 1.01); /* alone */
    /* one cycle apart: (1 + 1/4 - 2/3) / (3/4)^2 = 28/27 by hand from the
     * two transforms; the mirror images add less than 0.001 */
    assert_close(joint.inflation[2 * 3 + 0], 28.0 / 27, 0.001);
    ht_joint_free(&joint);
}

/* Abramowitz and Stegun, table 6.1: psi(1) = -0.5772156649, psi'(1) =
 * pi^2 / 6, psi(2) = 0.4227843351. */
static void digamma_and_trigamma_match_the_handbook(void **state)
{
    (void)state;
    assert_close(ht_digamma(1), -0.5772156649, 5e-9);
    assert_close(ht_digamma(2), 0.4227843351, 5e-9);
    assert_close(ht_trigamma(1), MADE_PI * MADE_PI / 6, 5e-8);
}

static void spectrum_equals_the_slow_sum_at_uneven_angles(void **state)
{
    (void)state;
    enum { N = 700, LINES = 193 };
    struct ht_spectrum s;
    struct random_source source = { 3 };
    double turns[N], x[N], power[LINES] = { 0 };
    assert_true(ht_spectrum_create(&s, 16, LINES, NULL));
    ht_spectrum_clear(&s);
    for (int i = 0; i < N; i++) {
        turns[i] = 16 * pow((i + 0.5) / N, 1.1);
        x[i] = random_normal(&source);
        struct ht_drop drop = ht_spectrum_place(&s, turns[i]);
        float value = (float)x[i];
        ht_spectrum_add(&s, &drop, &value, 1, 0);
    }
    ht_spectrum_run(&s, 1, power);
    for (int l = 0; l < LINES; l += 8) {
        long double re = 0, im = 0;
        for (int i = 0; i < N; i++) {
            long double angle = 2 * (long double)MADE_PI * l * turns[i] / 16;
            re += x[i] * cosl(angle);
            im += x[i] * sinl(angle);
        }
        /* 1e-5 of the largest sum of N unit samples: the header's promise */
        assert_close(sqrt(power[l]), (double)sqrtl(re * re + im * im),
                     1e-5 * N);
    }
    ht_spectrum_free(&s);
}

static void floor_under_a_slope_is_read_at_the_order(void **state)
{
    (void)state;
    double power[64];
    bool clear[64];
    for (int i = 0; i < 64; i++) {
        power[i] = exp(-0.15 * i + 0.002 * i * i);
        clear[i] = true;
    }
    struct ht_floor_plan plan;
    ht_floor_plan(&plan, 30.3, clear, 63);
    /* many looks: no bias left to speak of (1 / (2 looks)) */
    struct ht_floor f = ht_floor_read(&plan, power, 1e6);
    assert_close_relative(f.power, exp(-0.15 * 30.3 + 0.002 * 30.3 * 30.3),
                          1e-5);
}

static void growth_of_a_square_law_is_two_and_narrow_sweeps_say_nothing(
    void **state)
{
    (void)state;
    struct ht_growth_point p[10];
    for (size_t i = 0; i < 10; i++) {
        double v = (60 + 50 * (double)i / 9) / 3.6;
        p[i] = (struct ht_growth_point){ v, 0.001 * v * v, 0.02 };
    }
    assert_close(ht_growth_fit(p, 10).exponent, 2, 1e-9);
    for (size_t i = 0; i < 10; i++)
        p[i].speed_m_s = (80 + 20 * (double)i / 9) / 3.6;
    assert_true(isnan(ht_growth_fit(p, 10).exponent));
}

/* Sweep 60-110 km/h in 10 bins with 10 % scatter: u(n) = s / (sqrt(M) sd(ln
 * v)) = 0.10 / (sqrt(10) 0.193) = 0.164 for evenly spaced bins; the exponents
 * found must scatter by that and the u given must agree, within the sampling
 * error of 300 trials (sd of an sd: 1 / sqrt(600) = 4 %, three of them). */
static void growth_uncertainty_is_the_scatter_of_repeated_drives(void **state)
{
    (void)state;
    struct random_source source = { 11 };
    double sum = 0, square = 0, told = 0, mean = 0, spread = 0;
    for (int i = 0; i < 10; i++)
        mean += log(60 + 50.0 * i / 9) / 10;
    for (int i = 0; i < 10; i++)
        spread += pow(log(60 + 50.0 * i / 9) - mean, 2);
    for (int trial = 0; trial < 300; trial++) {
        struct ht_growth_point p[10];
        for (size_t i = 0; i < 10; i++) {
            double v = (60 + 50 * (double)i / 9) / 3.6;
            p[i] = (struct ht_growth_point){
                v, v * v * exp(0.1 * random_normal(&source)), 0.1
            };
        }
        struct ht_growth g = ht_growth_fit(p, 10);
        sum += g.exponent;
        square += g.exponent * g.exponent;
        told += g.u / 300;
    }
    double sd = sqrt(square / 300 - sum * sum / 90000);
    assert_close_relative(sd, 0.1 / sqrt(spread), 0.12);
    assert_true(told > 0.9 * sd && told < 1.5 * sd);
}

static void a_drive_of_which_nothing_is_usable_has_finite_speeds(void **state)
{
    (void)state;
    double turns[8], speed[8];
    unsigned char usable[8] = { 0 };
    for (size_t i = 0; i < 8; i++) {
        turns[i] = (double)i;
        speed[i] = 20;
    }
    struct ht_turns t = { .rate_hz = 10, .points = 8, .turns = turns,
                          .speed_m_s = speed, .usable = usable,
                          .circumference_m = 2 };
    struct ht_recording r = { .rate_hz = 100, .frames = 80, .channels = 1 };
    struct ht_stretches found;
    assert_true(ht_stretches_find(&found, &r, &t));
    assert_int_equal(found.count, 0);
    assert_true(isfinite(found.slowest_m_s));
    assert_true(found.slowest_m_s <= found.fastest_m_s);
    ht_stretches_free(&found);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cosine_and_sine_agree_with_the_c_library),
        cmocka_unit_test(hann_transform_matches_the_published_table),
        cmocka_unit_test(equations_without_a_solution_are_no_want_of_memory),
        cmocka_unit_test(joint_fit_parts_lines_one_cycle_apart),
        cmocka_unit_test(digamma_and_trigamma_match_the_handbook),
        cmocka_unit_test(spectrum_equals_the_slow_sum_at_uneven_angles),
        cmocka_unit_test(floor_under_a_slope_is_read_at_the_order),
        cmocka_unit_test(
            growth_of_a_square_law_is_two_and_narrow_sweeps_say_nothing),
        cmocka_unit_test(
            growth_uncertainty_is_the_scatter_of_repeated_drives),
        cmocka_unit_test(
            a_drive_of_which_nothing_is_usable_has_finite_speeds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
