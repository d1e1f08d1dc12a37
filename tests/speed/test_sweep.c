/* The grid of scales and lags, scored in one reading, against one score at a
 * time. */
#include "close.h"
#include "random.h"

#include "speed/sweep.h"

#include "common/memory.h"

#include <math.h>
#include <stdlib.h>

enum { FRAMES = 60, CHANNELS = 2, BINS = 800, RATIOS = 41, LAGS = 5 };
static const double TURN = 6.283185307179586;
static const double BIN_HZ = 0.25, RATIO = 0.5;

struct bench {
    struct ht_frames frames;
    struct ht_lines lines;
    struct ht_comb comb;
    struct ht_speed_path path;
    struct ht_grid grid;
    double time_s[FRAMES];
    float z[FRAMES * CHANNELS * BINS];
};

static struct bench *set_up(void)
{
    struct bench *b = calloc(1, sizeof *b);
    b->frames = (struct ht_frames){
        .length_s = 4, .hop_s = 2, .bin_hz = BIN_HZ, .cell_hz = 0.375,
        .frames = FRAMES, .channels = CHANNELS, .bins = BINS,
        .time_s = b->time_s, .z = b->z,
    };
    b->lines = (struct ht_lines){
        { { 1, HT_FAMILY_WHEEL }, { 2, HT_FAMILY_WHEEL },
          { 3.73, HT_FAMILY_SHAFT }, { 3.9, HT_FAMILY_ENGINE },
          { 14, HT_FAMILY_ENGINE } }, 5 };
    assert_int_equal(ht_path_steady(&b->path, 20, -5, 2 * FRAMES + 5, NULL),
                     HT_OK);
    for (size_t i = 0; i < b->path.points; i++)
        b->path.speed_m_s[i] = 20 + 12 * sin(TURN * (double)i / 400);
    for (size_t k = 0; k < FRAMES; k++)
        b->time_s[k] = 2 * (double)k + 1;
    assert_true(ht_comb_create(&b->comb, &b->frames, &b->lines, &b->path, 0));
    b->grid = (struct ht_grid){ { log(RATIO) - 0.08, log(RATIO) + 0.08, 0.004 },
                                { -0.4, 0.4, 0.2 }, RATIOS, LAGS };
    return b;
}

static void tear_down(struct bench *b)
{
    ht_comb_free(&b->comb);
    ht_path_free(&b->path);
    free(b);
}

static double one_score(const struct bench *b, size_t lag, size_t ratio)
{
    double speed[FRAMES];
    for (size_t k = 0; k < FRAMES; k++)
        speed[k] = ht_path_speed(&b->path, b->time_s[k] - 0.4 +
                                               0.2 * (double)lag);
    double log_ratio = log(RATIO) - 0.08 + 0.004 * (double)ratio;
    return ht_comb_score(&b->comb, speed, exp(log_ratio), NULL);
}

static void assert_scores(const struct bench *b, double share)
{
    double score[RATIOS * LAGS];
    assert_true(ht_sweep(score, &b->grid, &b->comb, &b->path));
    for (size_t lag = 0; lag < LAGS; lag++)
        for (size_t i = 0; i < RATIOS; i++) {
            double wanted = one_score(b, lag, i);
            assert_true(wanted > 100);
            assert_close_relative(score[lag * RATIOS + i], wanted, share);
        }
}

/* Spectra that are flat, each at its own height: then it does not matter
 * where within a cell they are read, and the sums must be those of one score
 * at a time. 1e-5: floats, 20 of them added. With all lines, the highest
 * order leaves the spectra at the grid's edge and the engine hides behind the
 * shaft at low speed: one frame of the 20 in a group may do so a quarter of a
 * step earlier or later. */
static void flat_spectra_score_as_one_at_a_time(void **state)
{
    (void)state;
    struct bench *b = set_up();
    struct random_source random = { 22 };
    for (size_t row = 0; row < FRAMES * CHANNELS; row++) {
        float height = (float)random_uniform(&random, 0.5, 20);
        for (size_t i = 0; i < BINS; i++)
            b->z[row * BINS + i] = height;
    }
    assert_scores(b, 0.05);
    b->lines.count = 3;
    assert_scores(b, 1e-5);
    tear_down(b);
}

/* Lines at the true scale and lag 0, on exponential noise. */
static void the_true_scale_and_lag_score_highest(void **state)
{
    (void)state;
    struct bench *b = set_up();
    struct random_source random = { 23 };
    double score[RATIOS * LAGS];
    for (size_t i = 0; i < FRAMES * CHANNELS * BINS; i++)
        b->z[i] = (float)-log(random_uniform(&random, 1e-9, 1));
    for (size_t row = 0; row < FRAMES * CHANNELS; row++)
        for (size_t l = 0; l < b->lines.count; l++) {
            double hz = RATIO * b->lines.line[l].order *
                        ht_path_speed(&b->path, b->time_s[row / CHANNELS]);
            size_t bin = (size_t)(hz / BIN_HZ + 0.5);
            for (size_t i = bin - 1; i <= bin + 1 && i < BINS; i++)
                b->z[row * BINS + i] += 8;
        }
    assert_true(ht_sweep(score, &b->grid, &b->comb, &b->path));
    size_t best = 0;
    for (size_t i = 1; i < RATIOS * LAGS; i++)
        best = score[i] > score[best] ? i : best;
    assert_int_equal(best / RATIOS, LAGS / 2);
    assert_int_equal(best % RATIOS, RATIOS / 2);
    tear_down(b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flat_spectra_score_as_one_at_a_time),
        cmocka_unit_test(the_true_scale_and_lag_score_highest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
