/* Scale and lag of a short drive, by the phase of all its orders at once. */
#include "close.h"
#include "random.h"

#include "speed/coherent.h"

#include <math.h>
#include <stdlib.h>

enum { RATE = 100, SECONDS = 80, FRAMES = RATE * SECONDS, AXES = 3 };
static const double TURN = 6.283185307179586;
static const double TURNS_PER_M = 0.5, LAG_S = 0.4;

static double speed_at(double t)
{
    return 18 + 5 * sin(TURN * t / 37);
}

static double distance_at(double t)
{
    return 18 * t - 5 * 37 / TURN * (cos(TURN * t / 37) - 1);
}

/* 1x, 2x, 3x wheel deep in white noise; the log is late: what it says at
 * t + lag was driven at t. */
static void fill(float *x, struct random_source *random, double amplitude)
{
    for (int i = 0; i < FRAMES; i++) {
        double turns = TURNS_PER_M * distance_at((double)i / RATE);
        double sum = random_normal(random);
        for (int order = 1; order <= 3; order++)
            sum += amplitude * cos(TURN * order * turns + order);
        x[i] = (float)sum;
    }
}

static void make_log(struct ht_speed_log *log)
{
    log->rows = (SECONDS + 4) * 4;
    log->time_s = calloc(log->rows, sizeof *log->time_s);
    log->speed_m_s = calloc(log->rows, sizeof *log->speed_m_s);
    for (size_t i = 0; i < log->rows; i++) {
        log->time_s[i] = (double)i / 4 - 1;
        log->speed_m_s[i] = speed_at(log->time_s[i] - LAG_S);
    }
}

static void align(struct ht_fit *fit, uint64_t seed)
{
    static float samples[AXES][FRAMES];
    float *channel[AXES];
    struct random_source random = { seed };
    const double amplitude = 0.11; /* of noise with deviation 1 */
    for (int c = 0; c < AXES; c++) {
        channel[c] = samples[c];
        fill(samples[c], &random, amplitude);
    }
    struct ht_work work = { .rate_hz = RATE, .frames = FRAMES,
                            .channels = AXES, .factor = 1,
                            .channel = channel };
    struct ht_lines lines = { .line = { { 1, HT_FAMILY_WHEEL },
                                        { 2, HT_FAMILY_WHEEL },
                                        { 3, HT_FAMILY_WHEEL } },
                              .count = 3 };
    bool use[HT_LINES_MAX] = { false };
    struct ht_speed_log log = { 0 };
    struct ht_speed_path path;
    make_log(&log);
    assert_int_equal(ht_path_create(&path, &log, NULL), HT_OK);
    assert_true(ht_coherent_align(fit, &work, &path, &lines, use));
    ht_path_free(&path);
    free(log.time_s);
    free(log.speed_m_s);
}

/* 0.03 % and 0.03 s: a step of the grid (0.011 %, 0.008 s) and the noise. */
static void scale_and_lag_are_found_from_a_start_that_is_off(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 6; seed++) {
        struct ht_fit fit = { .turns_per_m = TURNS_PER_M * 1.0008,
                              .lag_s = LAG_S - 0.06,
                              .turns_per_m_u = 7e-4, .lag_u_s = 0.05 };
        align(&fit, seed);
        print_message("seed %d: scale off %+.4f %%, lag off %+.4f s\n",
                      (int)seed, 100 * (fit.turns_per_m / TURNS_PER_M - 1),
                      fit.lag_s - LAG_S);
        assert_close_relative(fit.turns_per_m, TURNS_PER_M, 3e-4);
        assert_close(fit.lag_s, LAG_S, 0.03);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scale_and_lag_are_found_from_a_start_that_is_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
