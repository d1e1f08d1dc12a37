#include "close.h"

#include "halfturn/practice.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

static struct ht_practice_request quiet(void)
{
    return (struct ht_practice_request){ .seed = 5,
                                         .rate_hz = 200,
                                         .circumference_m = 2,
                                         .start_m_s = 20,
                                         .reference_m_s = 20,
                                         .legs = 1,
                                         .leg = { { 20, 0, 40 } },
                                         .log_step_s = 1 };
}

static struct ht_practice made_of(const struct ht_practice_request *request)
{
    struct ht_practice made;
    struct ht_error err = { 0 };
    if (ht_practice_make(&made, request, &err) != HT_OK)
        fail_msg("%s", err.text);
    return made;
}

/* 2 |mean x exp(-i 2 pi f t)| from one time to another. */
static double amplitude(const struct ht_practice *made, int axis, double hz,
                        double from_s, double to_s)
{
    double real = 0, imaginary = 0, count = 0;
    for (size_t i = (size_t)(from_s * made->rate_hz);
         i < (size_t)(to_s * made->rate_hz); i++) {
        double angle = 2 * HT_PI * hz * (double)i / made->rate_hz;
        real += (double)made->samples[axis][i] * cos(angle);
        imaginary += (double)made->samples[axis][i] * sin(angle);
        count++;
    }
    return 2 * hypot(real, imaginary) / count;
}

/* 20 m/s over 2 m: 10 wheel turns a second, 37.3 of a shaft of ratio 3.73,
 * 74.6 Hz for twice a turn. 40 s hold whole periods of all; 1e-5: float. */
static void a_line_stands_at_its_frequency_with_its_level(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    assert_int_equal(
        ht_practice_add_cause(&request, "angle-mismatch", 0.2, 3.73, NAN, NULL),
        HT_OK);
    struct ht_practice made = made_of(&request);
    double sum = 0;
    for (int axis = 0; axis < 3; axis++)
        sum += pow(amplitude(&made, axis, 74.6, 0, 40), 2);
    assert_close(sqrt(sum), 0.2, 1e-5);
    assert_close(amplitude(&made, 2, 37.3, 0, 40), 0, 1e-5);
    ht_practice_free(&made);
}

/* Force ~ speed squared: half the speed, a quarter of the level. */
static void unbalance_grows_with_speed_squared(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.legs = 2;
    request.leg[1] = (struct ht_practice_leg){ 10, 10, 40 };
    assert_int_equal(
        ht_practice_add_cause(&request, "wheel-unbalance", 0.4, NAN, NAN, NULL),
        HT_OK);
    struct ht_practice made = made_of(&request);
    double fast = amplitude(&made, 2, 10, 0, 40);
    double slow = amplitude(&made, 2, 5, 50, 90);
    assert_close(fast / slow, 4, 1e-4);
    ht_practice_free(&made);
}

/* A mode of damping ratio z passes 1 / (2 z) at its own frequency, and r^2
 * times the force well below it: textbook accelerance of one degree of
 * freedom. At r = 0.5, |H| = 0.25 / sqrt(0.75^2 + (2 z 0.5)^2). */
static void a_mode_lets_its_own_frequency_through_best(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.legs = 2;
    request.leg[1] = (struct ht_practice_leg){ 10, 10, 40 };
    request.forces = 1;
    request.force[0] =
        (struct ht_practice_force){ 1, 1, 1, 0, 0, 10, 0.1, { 0, 0, 1 } };
    struct ht_practice made = made_of(&request);
    double below = 0.25 / sqrt(0.75 * 0.75 + 0.1 * 0.1);
    assert_close(amplitude(&made, 2, 10, 0, 40), 1, 1e-5);
    assert_close(amplitude(&made, 2, 5, 50, 90), below / 5, 1e-5);
    ht_practice_free(&made);
}

static void a_tilted_sensor_feels_gravity_on_two_axes(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.pitch_rad = 0.1;
    struct ht_practice made = made_of(&request);
    assert_close(made.samples[0][100], -9.80665 * sin(0.1), 1e-5);
    assert_close(made.samples[1][100], 0, 1e-5);
    assert_close(made.samples[2][100], 9.80665 * cos(0.1), 1e-5);
    ht_practice_free(&made);
}

/* Speed gained = what the forward axis sums to: 10 m/s; 1e-3 for the sum's
 * step of 5 ms and float samples. */
static void the_forward_axis_sums_to_the_speed_gained(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.legs = 2;
    request.leg[1] = (struct ht_practice_leg){ 30, 15, 20 };
    struct ht_practice made = made_of(&request);
    double gained = 0;
    for (size_t i = 0; i < made.frames; i++)
        gained += (double)made.samples[0][i] / made.rate_hz;
    assert_close(gained, 10, 1e-3);
    ht_practice_free(&made);
}

static void the_log_is_late_and_stepped(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.legs = 2;
    request.leg[0] = (struct ht_practice_leg){ 20, 0, 0 };
    request.leg[1] = (struct ht_practice_leg){ 30, 20, 20 };
    request.log_lag_s = 2;
    request.log_step_m_s = 0.5;
    struct ht_practice made = made_of(&request);
    /* half-way through the leg, at 10 s, the speed is 25; the log says so 2 s
     * later */
    assert_close(made.log_time_s[12], 12, 0);
    assert_close(made.log_speed_m_s[12], 25, 1e-9);
    for (size_t i = 0; i < made.log_rows; i++)
        assert_close(fmod(made.log_speed_m_s[i], 0.5), 0, 1e-12);
    ht_practice_free(&made);
}

static void
noise_has_the_asked_rms_and_the_same_seed_the_same_bytes(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.road_noise_m_s2 = 0.2;
    request.leg[0].hold_s = 400;
    struct ht_practice first = made_of(&request), second = made_of(&request);
    assert_memory_equal(first.samples[1], second.samples[1],
                        first.frames * sizeof(float));
    double square = 0;
    for (size_t i = 0; i < first.frames; i++)
        square += pow((double)first.samples[1][i], 2) / (double)first.frames;
    /* 400 s of noise about 15 Hz wide: some 6000 independent values, 1 %
     * standard error of the rms; 4 of them */
    assert_close_relative(sqrt(square), 0.2, 0.04);
    request.seed = 6;
    struct ht_practice other = made_of(&request);
    assert_memory_not_equal(first.samples[1], other.samples[1],
                            first.frames * sizeof(float));
    ht_practice_free(&first);
    ht_practice_free(&second);
    ht_practice_free(&other);
}

static void what_cannot_be_made_is_refused(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    struct ht_error err = { 0 };
    assert_int_equal(ht_practice_add_cause(&request, "gremlins", 1, 3, 3, &err),
                     HT_BAD_USE);
    assert_non_null(strstr(err.text, "gremlins"));
    assert_int_equal(
        ht_practice_add_cause(&request, "shaft-unbalance", 1, NAN, 3, &err),
        HT_BAD_USE);
    assert_non_null(strstr(err.text, "shakes with the propeller shaft"));
    assert_int_equal(
        ht_practice_add_cause(&request, "engine-misfire", 1, 3, NAN, &err),
        HT_BAD_USE);
    assert_non_null(strstr(err.text, "shakes with the engine"));
    request.forces = HT_PRACTICE_FORCES_MAX;
    assert_int_equal(
        ht_practice_add_cause(&request, "wheel-unbalance", 1, 3, 3, &err),
        HT_TOO_BIG);
    assert_non_null(strstr(err.text, "one too many"));
}

static void refuse(const struct ht_practice_request *request,
                   enum ht_status status, const char *piece)
{
    struct ht_error err = { 0 };
    struct ht_practice made;
    assert_int_equal(ht_practice_make(&made, request, &err), status);
    if (!strstr(err.text, piece))
        fail_msg("\"%s\" is not in: %s", piece, err.text);
    ht_practice_free(&made);
}

static void a_request_that_is_off_is_refused_with_what_was_found(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.legs = 0;
    refuse(&request, HT_BAD_USE, "asked for 0 legs");
    request = quiet();
    request.forces = HT_PRACTICE_FORCES_MAX + 1;
    refuse(&request, HT_BAD_USE, "asked for 25 forces");
    request = quiet();
    request.rate_hz = 19;
    refuse(&request, HT_BAD_USE, "with 19 samples a second");
    request = quiet();
    request.log_step_s = 0;
    refuse(&request, HT_BAD_USE, "Here stand 2 m, 20 m/s and 0 s.");
    request = quiet();
    request.leg[0].hold_s = 1e9;
    refuse(&request, HT_TOO_BIG, "would last 1000000000 s");
}

static size_t allowed;
static bool permit(size_t bytes)
{
    (void)bytes;
    return allowed-- > 0;
}

static void running_out_of_memory_leaves_nothing_behind(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    for (size_t n = 0; n < 5; n++) {
        struct ht_practice made;
        allowed = n;
        ht_memory_permit = permit;
        enum ht_status status = ht_practice_make(&made, &request, NULL);
        ht_memory_permit = NULL;
        assert_int_equal(status, HT_NO_MEMORY);
        assert_null(made.memory);
    }
}

static void the_table_has_a_header_and_a_row_a_frame(void **state)
{
    (void)state;
    struct ht_practice_request request = quiet();
    request.leg[0].hold_s = 2;
    struct ht_practice made = made_of(&request);
    struct ht_text table = { 0 }, log = { 0 };
    ht_practice_write_table(&table, &made);
    ht_practice_write_log(&log, &made);
    assert_non_null(strstr(ht_text_get(&table),
                           "time_s,x_m_s2,y_m_s2,z_m_s2\n0.0000,0.000,"));
    size_t lines = 0;
    for (const char *c = ht_text_get(&table); *c; c++)
        lines += *c == '\n';
    assert_int_equal(lines, made.frames + 1);
    assert_string_equal(ht_text_get(&log),
                        "time_s,speed_kmh\n0.0,72.0\n1.0,72.0\n2.0,72.0\n");
    ht_text_free(&table);
    ht_text_free(&log);
    ht_practice_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_stands_at_its_frequency_with_its_level),
        cmocka_unit_test(unbalance_grows_with_speed_squared),
        cmocka_unit_test(a_mode_lets_its_own_frequency_through_best),
        cmocka_unit_test(a_tilted_sensor_feels_gravity_on_two_axes),
        cmocka_unit_test(the_forward_axis_sums_to_the_speed_gained),
        cmocka_unit_test(the_log_is_late_and_stepped),
        cmocka_unit_test(
            noise_has_the_asked_rms_and_the_same_seed_the_same_bytes),
        cmocka_unit_test(what_cannot_be_made_is_refused),
        cmocka_unit_test(
            a_request_that_is_off_is_refused_with_what_was_found),
        cmocka_unit_test(running_out_of_memory_leaves_nothing_behind),
        cmocka_unit_test(the_table_has_a_header_and_a_row_a_frame),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
