#include "made_van.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void a_recording_without_lines_keeps_the_log_and_says_so(void **state)
{
    (void)state;
    struct made_plan plan = van();
    memset(plan.order, 0, sizeof plan.order);
    plan.log_scale = 1;
    plan.lag_s = 0;
    struct made_drive drive;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_turns t;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_ACCEPTED);
    assert_int_equal(t.source, HT_SPEED_LOG);
    assert_false(t.circumference_found);
    assert_non_null(strstr(t.note[0], "no line that follows this log"));
    struct quality q = judge(&t, &drive, 2.05);
    /* The doubt must not be smaller than the truth. */
    assert_true(q.claimed_sd > q.turns_sd);
    ht_turns_free(&t);
    rotation = rear_drive(NAN);
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "Give the tyre size"));
    ht_turns_free(&t);
    made_free(&drive);
}

static void turn_round(struct ht_speed_log *log)
{
    for (size_t i = 0; i < log->rows / 2; i++) {
        size_t j = log->rows - 1 - i;
        double v = log->speed_m_s[i];
        log->speed_m_s[i] = log->speed_m_s[j];
        log->speed_m_s[j] = v;
    }
}

/* Half a sweep, so that the reversed log rises where the drive slows. */
static void the_log_of_another_drive_is_refused(void **state)
{
    (void)state;
    struct made_plan plan = van();
    plan.period_s = 240;
    struct made_drive drive;
    made_create(&drive, &plan);
    turn_round(&drive.log);
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_turns t;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "another drive"));
    assert_int_equal(t.points, 0);
    ht_turns_free(&t);
    made_free(&drive);
}

/* 10 Hz: the wheel turns 7 to 15 times a second in this drive. A log whose
 * lowest speed is 4 m/s would let it pass: 1.95 turns of 4.5. */
static void a_recording_too_slow_for_the_speed_is_refused_as_that(void **state)
{
    (void)state;
    struct made_plan plan = van();
    plan.rate_hz = 10;
    plan.fixed_hz = 3;
    struct made_drive drive;
    made_create(&drive, &plan);
    for (int tyre = 0; tyre < 2; tyre++) {
        struct ht_rotation rotation = rear_drive(tyre ? 2.05 : NAN);
        struct ht_turns t;
        find(&t, &drive, &rotation, true, NAN);
        if (tyre) {
            assert_int_equal(t.state, HT_SPEED_REFUSED);
            assert_non_null(strstr(t.reason, "The recording holds 10.0 values "
                                             "a second, too few"));
        }
        ht_turns_free(&t);
        find(&t, &drive, &rotation, false, 25);
        assert_int_equal(t.state, HT_SPEED_REFUSED);
        assert_non_null(strstr(t.reason, tyre ? "90 km/h, the wheel turns 12.2"
                                              : "tyre size"));
        ht_turns_free(&t);
    }
    drive.log.speed_m_s[3] = 4;
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_turns t;
    find(&t, &drive, &rotation, true, NAN);
    assert_null(strstr(t.reason, "too few"));
    ht_turns_free(&t);
    made_free(&drive);
}

static void
a_log_of_another_day_is_refused_and_of_this_one_laid_over(void **state)
{
    (void)state;
    struct made_plan plan = van();
    struct made_drive drive;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_turns t;
    for (size_t i = 0; i < drive.log.rows; i++)
        drive.log.time_s[i] += 1.7e9;
    drive.recording.start_s = 1.7e9 + 86400;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "another drive"));
    ht_turns_free(&t);
    drive.recording.start_s = 1.7e9;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_ACCEPTED);
    assert_close(t.lag_s, 0.6, 0.1);
    assert_close(t.start_s, 1.7e9, 0);
    ht_turns_free(&t);
    drive.recording.start_s = 0; /* only the log carries a date */
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_ACCEPTED);
    /* Starts laid on each other: the log began 1.5 s before the recording. */
    assert_close(t.lag_s, 0.6 + 1.5, 0.1);
    assert_non_null(strstr(t.note[0], "laid on each other"));
    ht_turns_free(&t);
    made_free(&drive);
}

static void standing_short_and_uncovered_drives_end_in_a_sentence(void **state)
{
    (void)state;
    struct made_plan plan = van();
    plan.length_s = 40;
    struct made_drive drive;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_turns t;
    size_t rows = drive.log.rows;
    drive.log.rows = 7;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "covers only"));
    drive.log.rows = rows;
    for (size_t i = 0; i < rows; i++)
        drive.log.speed_m_s[i] = 0;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "stands still"));
    drive.recording.frames = 2000;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "at least 10 s"));
    made_free(&drive);
}

static void without_log_and_speed_it_says_what_is_wanted(void **state)
{
    (void)state;
    struct made_plan plan = van();
    plan.length_s = 20;
    struct made_drive drive;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.08);
    struct ht_turns t;
    find(&t, &drive, &rotation, false, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_int_equal(t.source, HT_SPEED_NONE);
    assert_non_null(strstr(t.reason, "steady_km_h"));
    assert_int_equal(t.points, 0);
    ht_turns_free(&t);
    made_free(&drive);
}

/* A row whose clock jumped by ten years: it must end, in a sentence. */
static void a_log_of_ten_years_does_not_take_the_memory(void **state)
{
    (void)state;
    struct made_plan plan = van();
    plan.length_s = 30;
    struct made_drive drive;
    made_create(&drive, &plan);
    drive.log.time_s[drive.log.rows - 1] += 3e8;
    struct ht_rotation rotation = rear_drive(NAN);
    struct ht_turns t;
    find(&t, &drive, &rotation, true, NAN);
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_non_null(strstr(t.reason, "its clock jumps"));
    ht_turns_free(&t);
    made_free(&drive);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_of_ten_years_does_not_take_the_memory),
        cmocka_unit_test(a_recording_without_lines_keeps_the_log_and_says_so),
        cmocka_unit_test(the_log_of_another_drive_is_refused),
        cmocka_unit_test(
            a_recording_too_slow_for_the_speed_is_refused_as_that),
        cmocka_unit_test(
            a_log_of_another_day_is_refused_and_of_this_one_laid_over),
        cmocka_unit_test(standing_short_and_uncovered_drives_end_in_a_sentence),
        cmocka_unit_test(without_log_and_speed_it_says_what_is_wanted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
