/* Properties and outside references that test_filters.c does not hold:
 * windows by table, offsets at the ends, near-singular systems, curves. */
#include "close.h"
#include "random.h"

#include "common/memory.h"
#include "signal/decimate.h"
#include "signal/dot.h"
#include "signal/solve.h"
#include "signal/window.h"

#include <math.h>
#include <string.h>

static const double TURN = 6.283185307179586;

/* Kaiser-Bessel, alpha = beta / pi: coherent gain and noise bandwidth. Harris,
 * Proc. IEEE 66 (1978), table 1, quoted from memory; half the last digit. */
static void kaiser_matches_the_published_table(void **state)
{
    (void)state;
    static const double table[][3] = { { 2.0, 0.49, 1.50 },
                                       { 2.5, 0.44, 1.65 },
                                       { 3.0, 0.40, 1.80 },
                                       { 3.5, 0.37, 1.93 } };
    for (size_t r = 0; r < 4; r++) {
        double sum = 0, squares = 0;
        for (int i = 0; i < 4096; i++) {
            double w = ht_kaiser(i / 2048.0 - 1, table[r][0] * TURN / 2);
            sum += w;
            squares += w * w;
        }
        assert_close(sum / 4096, table[r][1], 0.005);
        assert_close(4096 * squares / sum / sum, table[r][2], 0.005);
    }
}

static double line_height(const double *w, size_t n, double bins, double gain)
{
    double re = 0, im = 0;
    for (size_t i = 0; i < n; i++) {
        double turn = TURN * 37 * (double)i / (double)n;
        double x = cos(TURN * bins * (double)i / (double)n + 1) * w[i];
        re += x * cos(turn);
        im += x * sin(turn);
    }
    return 2 * hypot(re, im) / (double)n / gain;
}

/* Centred: 1e-12, rounding of 1000 products. Between two bins: scallop loss
 * of Harris 1978, table 1: 3.92, 1.42 dB; flat top 0.01 dB. The image of the
 * line at 74.5 bins away adds up to 0.3 % (0.03 dB) for the rectangle. */
static void a_sine_reads_its_amplitude_with_every_window(void **state)
{
    (void)state;
    static const double loss_db[HT_WINDOWS] = { [HT_WINDOW_RECT] = 3.92,
                                                [HT_WINDOW_HANN] = 1.42,
                                                [HT_WINDOW_FLAT_TOP] = 0.01 };
    double w[1000];
    for (int kind = 0; kind < HT_WINDOWS; kind++) {
        double gain = ht_window_fill((enum ht_window)kind, w, 1000).amplitude;
        assert_close(line_height(w, 1000, 37, gain), 1, 1e-12);
        double loss = -20 * log10(line_height(w, 1000, 37.5, gain));
        assert_close(loss, loss_db[kind], kind == HT_WINDOW_RECT ? 0.07
                                                                 : 0.006);
    }
}

struct output {
    float *samples;
    size_t room, count;
};

static struct output decimated(const float *in, size_t n, size_t factor)
{
    struct output out = { 0 };
    struct ht_decimator *decimator = ht_decimator_create(factor, 0.8);
    assert_non_null(decimator);
    for (size_t at = 0, size = 1; at < n; size = size * 7 % 997 + 1) {
        size_t take = size < n - at ? size : n - at;
        assert_true(ht_decimator_push(decimator, in + at, take, &out.samples,
                                      &out.room, &out.count));
        at += take;
    }
    assert_true(ht_decimator_finish(decimator, &out.samples, &out.room,
                                    &out.count));
    ht_decimator_free(decimator);
    return out;
}

/* Gravity in an acceleration file: a step at an edge would be a knock of
 * 9.8 m/s2. 5e-6: half a bit of a float (3e-7 at 9.8) a few times over. */
static void a_steady_offset_makes_no_step_at_the_ends(void **state)
{
    (void)state;
    static const size_t factors[] = { 1, 2, 7, 12, 24, 48 };
    static float in[5000];
    for (size_t i = 0; i < 5000; i++)
        in[i] = 9.80665F;
    for (size_t f = 0; f < sizeof factors / sizeof factors[0]; f++)
        for (size_t n = 1; n < 5000; n = n * 3 + 1) {
            struct output out = decimated(in, n, factors[f]);
            assert_int_equal(out.count, (n + factors[f] - 1) / factors[f]);
            for (size_t k = 0; k < out.count; k++)
                assert_close((double)out.samples[k], 9.80665, 5e-6);
            ht_release(out.samples);
        }
}

/* One block or many: the same bytes. */
static void the_size_of_blocks_changes_nothing(void **state)
{
    (void)state;
    struct random_source random = { 11 };
    static float in[9000];
    for (size_t i = 0; i < 9000; i++)
        in[i] = (float)random_normal(&random);
    struct output many = decimated(in, 9000, 12), one = { 0 };
    struct ht_decimator *decimator = ht_decimator_create(12, 0.8);
    assert_true(ht_decimator_push(decimator, in, 9000, &one.samples, &one.room,
                                  &one.count));
    assert_true(ht_decimator_finish(decimator, &one.samples, &one.room,
                                    &one.count));
    ht_decimator_free(decimator);
    assert_int_equal(one.count, many.count);
    assert_memory_equal(one.samples, many.samples,
                        one.count * sizeof *one.samples);
    ht_release(one.samples);
    ht_release(many.samples);
}

static void an_indefinite_band_has_no_solution(void **state)
{
    (void)state;
    double indefinite[4] = { 1, 2, 1, 0 }, b[2] = { 1, 2 };
    assert_false(ht_solve_banded(indefinite, 1, b, 2, 1));
}

/* n roundings of half a bit of the sum of absolute products. */
static void dot_products_are_right_at_every_length(void **state)
{
    (void)state;
    struct random_source random = { 7 };
    for (size_t n = 0; n < 70; n++) {
        double size = 0;
        float a[70], b[70];
        long double exact = 0;
        for (size_t i = 0; i < n; i++) {
            a[i] = (float)random_normal(&random);
            b[i] = (float)random_normal(&random);
            exact += (long double)a[i] * (long double)b[i];
            size += fabs((double)a[i] * (double)b[i]);
        }
        assert_close((double)ht_dot_f(a, b, n), (double)exact,
                     6e-8 * 70 * size);
    }
}

static size_t left;
static bool permit(size_t bytes)
{
    (void)bytes;
    return left-- > 0;
}

static void a_decimator_without_memory_is_null(void **state)
{
    (void)state;
    struct ht_decimator *made = NULL;
    size_t refused = 0;
    for (size_t allowed = 0; !made; allowed++) {
        left = allowed;
        ht_memory_permit = permit;
        made = ht_decimator_create(24, 0.8);
        ht_memory_permit = NULL;
        refused += !made;
    }
    assert_true(refused >= 5);
    ht_decimator_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kaiser_matches_the_published_table),
        cmocka_unit_test(a_sine_reads_its_amplitude_with_every_window),
        cmocka_unit_test(a_steady_offset_makes_no_step_at_the_ends),
        cmocka_unit_test(the_size_of_blocks_changes_nothing),
        cmocka_unit_test(an_indefinite_band_has_no_solution),
        cmocka_unit_test(dot_products_are_right_at_every_length),
        cmocka_unit_test(a_decimator_without_memory_is_null),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
