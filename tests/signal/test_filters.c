/* Windows, decimation, interpolation, solving. */
#include "close.h"
#include "random.h"

#include "common/memory.h"
#include "signal/decimate.h"
#include "signal/solve.h"
#include "signal/window.h"

#include <math.h>
#include <stdlib.h>

static const double TURN = 6.283185307179586;

/* Harris 1978, table 1: Hann coherent gain 0.50, ENBW 1.50 (half the last
 * digit printed there). Flat top: ISO 18431-2, ENBW 3.77. */
static void windows_match_the_published_table(void **state)
{
    (void)state;
    double w[256];
    struct ht_window_gain hann = ht_window_fill(HT_WINDOW_HANN, w, 256);
    assert_close(hann.amplitude, 0.50, 0.005);
    assert_close(hann.noise_bins, 1.50, 0.005);
    struct ht_window_gain flat = ht_window_fill(HT_WINDOW_FLAT_TOP, w, 256);
    assert_close(flat.noise_bins, 3.77, 0.005);
    struct ht_window_gain rect = ht_window_fill(HT_WINDOW_RECT, w, 256);
    assert_close(rect.amplitude, 1, 1e-15);
    assert_close(rect.noise_bins, 1, 1e-15);
}

struct output {
    float *samples;
    size_t room, count;
};

/* A cosine of `share` of the output's Nyquist rate through the decimator in
 * blocks of odd sizes. */
static struct output decimate_cosine(size_t factor, double share, size_t n)
{
    struct output out = { 0 };
    struct ht_decimator *decimator = ht_decimator_create(factor, 0.8);
    float block[1000];
    double cycles = share / 2 / (double)factor;
    for (size_t at = 0, size = 1; at < n; size = size * 7 % 997 + 1) {
        size_t take = size < n - at ? size : n - at;
        for (size_t i = 0; i < take; i++)
            block[i] = (float)cos(TURN * cycles * (double)(at + i));
        assert_true(ht_decimator_push(decimator, block, take, &out.samples,
                                      &out.room, &out.count));
        at += take;
    }
    assert_true(ht_decimator_finish(decimator, &out.samples, &out.room,
                                    &out.count));
    ht_decimator_free(decimator);
    return out;
}

static const size_t factors[] = { 1, 2, 3, 12, 16, 24, 23, 48 };
enum { FACTORS = sizeof factors / sizeof factors[0], OUT = 600 };

static void decimation_keeps_the_band_flat_and_in_time(void **state)
{
    (void)state;
    for (size_t f = 0; f < FACTORS; f++) {
        for (double share = 0.02; share < 0.8; share += 0.111) {
            size_t n = factors[f] * OUT - factors[f] / 2;
            struct output out = decimate_cosine(factors[f], share, n);
            assert_int_equal(out.count, OUT);
            for (size_t k = OUT / 4; k < 3 * OUT / 4; k++)
                /* 0.1 %: what the header promises; no shift in time */
                assert_close((double)out.samples[k],
                             cos(TURN * share / 2 * (double)k), 1e-3);
            ht_release(out.samples);
        }
    }
}

static void what_would_alias_into_the_band_is_80_db_down(void **state)
{
    (void)state;
    for (size_t f = 1; f < FACTORS; f++) {
        for (double share = 1.21; share < (double)factors[f]; share += 0.37) {
            size_t n = factors[f] * OUT;
            struct output out = decimate_cosine(factors[f], share, n);
            double alias = fabs(share - 2 * round(share / 2));
            for (size_t k = OUT / 4; alias <= 0.8 && k < 3 * OUT / 4; k++)
                assert_close((double)out.samples[k], 0, 1e-4);
            ht_release(out.samples);
        }
    }
}

static void banded_systems_are_solved(void **state)
{
    (void)state;
    enum { N = 50 };
    double band[N][2], x[N], b[N];
    for (int i = 0; i < N; i++) {
        x[i] = sin(i);
        band[i][0] = 4;
        band[i][1] = -1;
    }
    for (int i = 0; i < N; i++)
        b[i] = 4 * x[i] - (i > 0 ? x[i - 1] : 0) -
               (i < N - 1 ? x[i + 1] : 0);
    assert_true(ht_solve_banded(&band[0][0], 1, b, N, 1));
    for (int i = 0; i < N; i++)
        assert_close(b[i], x[i], 1e-14);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(windows_match_the_published_table),
        cmocka_unit_test(decimation_keeps_the_band_flat_and_in_time),
        cmocka_unit_test(what_would_alias_into_the_band_is_80_db_down),
        cmocka_unit_test(banded_systems_are_solved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
