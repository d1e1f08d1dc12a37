/* An order brought to rest keeps its amplitude and phase; turning it to a
 * better angle is what reading it along that angle gives. */
#include "close.h"

#include "speed/rest.h"

#include "common/memory.h"

#include <math.h>
#include <stdlib.h>

enum { RATE = 400, SECONDS = 60, FRAMES = RATE * SECONDS };
static const double TURN = 6.283185307179586;
static const double ORDER = 7.46, LEVEL = 0.3, PHASE = 0.8;

struct bench {
    struct ht_work work;
    struct ht_wheel wheel;
    float *samples;
};

static double true_hz(double t)
{
    return 9 + 3 * sin(TURN * t / 30);
}

static double true_turns(double t)
{
    return 9 * t - 3 * 30 / TURN * (cos(TURN * t / 30) - 1);
}

/* A wheel whose speed is off by a share that comes and goes. */
static void set_wheel(struct ht_wheel *wheel, double off)
{
    for (size_t i = 0; i < wheel->points; i++) {
        double t = (double)i / wheel->rate_hz;
        wheel->hz[i] = true_hz(t) * (1 + off * sin(TURN * t / 12));
    }
    ht_wheel_integrate(wheel);
    for (size_t i = 0; i < wheel->points && off == 0; i++)
        wheel->turns[i] = true_turns((double)i / wheel->rate_hz);
}

static void set_up(struct bench *b, struct ht_speed_path *path)
{
    static const struct ht_log_doubt doubt = { 0.1, 0.01, 0.1 };
    *b = (struct bench){ .work = { .rate_hz = RATE, .frames = FRAMES,
                                   .channels = 1, .factor = 1 } };
    b->samples = calloc(FRAMES, sizeof *b->samples);
    b->work.channel = &b->samples;
    for (size_t i = 0; i < FRAMES; i++)
        b->samples[i] = (float)(
            LEVEL * cos(TURN * ORDER * true_turns((double)i / RATE) + PHASE));
    assert_int_equal(ht_path_steady(path, 20, -1, SECONDS + 1, NULL), HT_OK);
    assert_int_equal(ht_wheel_create(&b->wheel, &b->work, path, 0.5, 0,
                                     &doubt, NULL), HT_OK);
}

static void tear_down(struct bench *b, struct ht_speed_path *path)
{
    ht_wheel_free(&b->wheel);
    ht_path_free(path);
    free(b->samples);
}

/* 2e-3: the mirror image at twice the order's frequency, 67 Hz or more from
 * rest, passes a quadratic spline of 20 values a second by less than
 * (1 / (pi 67 / 20))^3 = 0.9e-3. 0.008 rad: inside a step
 * the phase is a line where the wheel gathers 0.63 turns/s^2, a mean of 2 pi
 * 7.46 * 0.63 * 0.05^2 / 12 rad off, and the mirror image again. */
static void an_order_at_rest_keeps_amplitude_and_phase(void **state)
{
    (void)state;
    struct bench b;
    struct ht_speed_path path;
    struct ht_rest rest;
    const struct ht_lines lines = { { { ORDER, HT_FAMILY_SHAFT } }, 1 };
    const bool use[] = { true };
    set_up(&b, &path);
    set_wheel(&b.wheel, 0);
    assert_true(ht_rest_create(&rest, &b.wheel, &b.work, &lines, use));
    assert_int_equal(rest.lines, 1);
    for (size_t i = 3; i + 3 < rest.points; i++) {
        double size = hypot((double)rest.re[i], (double)rest.im[i]);
        double phase = atan2((double)rest.im[i], (double)rest.re[i]);
        assert_close_relative(2 * size, LEVEL, 2e-3);
        assert_close(phase, PHASE, 0.008);
    }
    ht_rest_free(&rest);
    tear_down(&b, &path);
}

/* Read along an angle that is wrong by up to 0.14 turns of the wheel (one
 * turn of the order), then turned. 5e-3: at the wrong angle the order moves
 * at up to 0.45 Hz, where the spline loses 1 - sinc^3(0.45 / 20) = 2.5e-4, and
 * the value of a step stands for its middle: a phase of 2 pi 0.45 / 20 bends
 * by less than a hundredth of itself over it. */
static void turning_is_reading_along_the_better_angle(void **state)
{
    (void)state;
    struct bench b;
    struct ht_speed_path path;
    struct ht_rest wrong, right;
    const struct ht_lines lines = { { { ORDER, HT_FAMILY_SHAFT } }, 1 };
    const bool use[] = { true };
    set_up(&b, &path);
    set_wheel(&b.wheel, 0.005);
    assert_true(ht_rest_create(&wrong, &b.wheel, &b.work, &lines, use));
    set_wheel(&b.wheel, 0);
    assert_true(ht_rest_create(&right, &b.wheel, &b.work, &lines, use));
    size_t n = wrong.points;
    struct ht_turned turned = { .cosine = calloc(4 * n, sizeof(float)) };
    turned.sine = turned.cosine + n;
    turned.re = turned.sine + n;
    turned.im = turned.re + n;
    ht_rest_aim(&wrong, 0, &b.wheel, &turned);
    ht_rest_turn(&wrong, 0, 0, &turned);
    double most = 0, apart = 0;
    for (size_t i = 3; i + 3 < n; i++) {
        most = fmax(most, hypot((double)(turned.re[i] - right.re[i]),
                                (double)(turned.im[i] - right.im[i])));
        apart = fmax(apart, hypot((double)(wrong.re[i] - right.re[i]),
                                  (double)(wrong.im[i] - right.im[i])));
    }
    assert_true(apart > LEVEL / 2); /* there was something to turn */
    assert_close(most, 0, 5e-3 * LEVEL / 2);
    free(turned.cosine);
    ht_rest_free(&wrong);
    ht_rest_free(&right);
    tear_down(&b, &path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_order_at_rest_keeps_amplitude_and_phase),
        cmocka_unit_test(turning_is_reading_along_the_better_angle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
