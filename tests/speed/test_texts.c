/* The sentences of the room's table, said where they are meant and whole. */
#include "made_van.h"
#include "refused.h"
#include "scratch.h"

#include "speed/log.h"
#include "speed/say.h"
#include "speed/texts.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static struct ht_speed_log speed_log;
static struct ht_error err;

static bool same(const char *text, const char *row, va_list words)
{
    char whole[600];
    ht_say_list(whole, sizeof whole, row, words);
    return strcmp(text, whole) == 0;
}

/* The reason is the row with these words in its places, not cut. */
static void assert_says(const char *text, const char *row, ...)
{
    va_list words;
    va_start(words, row);
    if (!same(text, row, words))
        fail_msg("\"%s\" is not \"%s\"", text, row);
    va_end(words);
}

/* ---- the log ------------------------------------------------------------ */

static enum ht_status read_log(const char *text,
                               const struct ht_sheet_speed *how)
{
    static const struct ht_sheet_speed nothing_said;
    err = (struct ht_error){ 0 };
    return ht_speed_log_read(&speed_log, scratch_text("log.csv", text),
                             how ? how : &nothing_said, &err);
}

static bool is_noted(const char *row, ...)
{
    bool noted = false;
    for (size_t i = 0; i < speed_log.notes; i++) {
        va_list words;
        va_start(words, row);
        noted = noted || same(speed_log.note[i], row, words);
        va_end(words);
    }
    return noted;
}

static void a_log_that_is_refused_says_what_to_write(void **state)
{
    (void)state;
    const char *path = scratch_path("log.csv");
    assert_refused(read_log("time_s,speed_kmh\n0,50\n", NULL),
                   SPEED_LOG_NO_TABLE, path, (size_t)1, (size_t)2);
    assert_refused(read_log("time_s,speed_kmh\n0,50\n1,51\n2,\n3,52\n", NULL),
                   SPEED_LOG_FEW_ROWS, path, (size_t)3, 4);
    assert_refused(read_log("time_s,,height\n0,5,6\n1,5,6\n2,5,6\n3,5,6\n",
                            NULL),
                   SPEED_LOG_NO_COLUMN, path,
                   "time_s, " SPEED_LOG_UNNAMED ", height");
    assert_refused(read_log("time_s,speed\n0,50\n1,51\n2,52\n3,53\n", NULL),
                   SPEED_LOG_UNIT_UNKNOWN, path, "speed");
    assert_refused(read_log("time_s,speed_kmh\n0,50\n1,51\n\n0.5,52\n3,53\n",
                            NULL),
                   SPEED_LOG_TIME_FALLS, path, (size_t)5, "0.500");
    assert_refused(read_log("time_s,speed_kmh\n0,50\n1,320\n2,52\n3,53\n",
                            NULL),
                   SPEED_LOG_NO_ROAD_SPEED, path, (size_t)3, "320");
}

static void rows_left_out_are_counted_in_one_and_in_many(void **state)
{
    (void)state;
    assert_int_equal(read_log("time_s,speed_kmh\n0,50\n1,\n2,51\n2,52\n3,53\n"
                              "4,99\n5,53\n6,54\n", NULL), HT_OK);
    assert_true(is_noted(SPEED_LOG_ROW_EMPTY));
    assert_true(is_noted(SPEED_LOG_ROW_REPEATS));
    assert_true(is_noted(SPEED_LOG_ROW_JUMPS));
    assert_true(is_noted(SPEED_LOG_STEPS, "1.0"));
    ht_speed_log_free(&speed_log);
    assert_int_equal(read_log("time_s,speed_kmh\n0,50\n1,\n1.5,\n2,51.3\n"
                              "2,52\n2,52\n3,53.2\n4,99\n5,53\n6,98\n"
                              "7,54.1\n17,54.2\n", NULL), HT_OK);
    assert_true(is_noted(SPEED_LOG_ROWS_EMPTY, (size_t)2));
    assert_true(is_noted(SPEED_LOG_ROWS_REPEAT, (size_t)2));
    assert_true(is_noted(SPEED_LOG_ROWS_JUMP, (size_t)2));
    assert_true(is_noted(SPEED_LOG_HOLE, "10"));
    ht_speed_log_free(&speed_log);
}

static void the_unit_that_times_are_taken_in_is_said(void **state)
{
    (void)state;
    static const struct {
        double first, step;
        const char *said;
    } rows[] = {
        { 0, 1, SPEED_LOG_IN_S },
        { 1.7e12, 1e3, SPEED_LOG_IN_MS },
        { 1.7e15, 1e6, SPEED_LOG_IN_US },
        { 1.7e18, 1e9, SPEED_LOG_IN_NS },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400] = "time,speed_kmh\n";
        for (int k = 0; k < 4; k++) {
            size_t used = strlen(text);
            (void)snprintf(text + used, sizeof text - used, "%.0f,%d\n",
                           rows[i].first + k * rows[i].step, 50 + k);
        }
        assert_int_equal(read_log(text, NULL), HT_OK);
        assert_true(is_noted(rows[i].said));
        ht_speed_log_free(&speed_log);
    }
}

/* ---- the drive ---------------------------------------------------------- */

static struct made_drive drive;

/* 60 s of the van; without lines when it has none. */
static struct ht_turns drive_of(struct made_plan plan, double circumference_m,
                                bool with_log, double steady_m_s)
{
    struct ht_rotation rotation = rear_drive(circumference_m);
    struct ht_turns turns;
    made_create(&drive, &plan);
    find(&turns, &drive, &rotation, with_log, steady_m_s);
    made_free(&drive);
    return turns;
}

static struct made_plan short_van(bool lines)
{
    struct made_plan plan = van();
    plan.length_s = 60;
    if (!lines)
        memset(plan.order, 0, sizeof plan.order);
    return plan;
}

static bool turns_note(const struct ht_turns *turns, const char *row)
{
    for (size_t i = 0; i < turns->notes; i++)
        if (strcmp(turns->note[i], row) == 0)
            return true;
    return false;
}

static void what_is_missing_for_a_speed_is_asked_for(void **state)
{
    (void)state;
    struct made_plan plan = short_van(false);
    struct ht_turns turns = drive_of(plan, 2.05, false, NAN);
    assert_says(turns.reason, SPEED_NOT_KNOWN);
    turns = drive_of(plan, NAN, false, 25);
    assert_says(turns.reason, SPEED_STEADY_NO_TYRE);
    plan.length_s = 4;
    turns = drive_of(plan, 2.05, true, NAN);
    assert_says(turns.reason, SPEED_RECORDING_SHORT, 4.0, 10.0);
    plan = short_van(false);
    plan.log_rate_hz = 0.05;
    turns = drive_of(plan, 2.05, true, NAN);
    assert_says(turns.reason, SPEED_LOG_ROWS_FEW, (size_t)3);
}

static void a_steady_speed_without_lines_is_kept_in_doubt(void **state)
{
    (void)state;
    struct made_plan plan = short_van(false);
    plan.low_m_s = plan.high_m_s = 25;
    struct ht_turns turns = drive_of(plan, 2.05, false, 25);
    assert_int_equal(turns.state, HT_SPEED_AMBIGUOUS);
    assert_says(turns.reason, SPEED_STEADY_UNSEEN);
    assert_true(turns_note(&turns, SPEED_STEADY_ALONE));
    ht_turns_free(&turns);
}

static void a_log_without_lines_stands_alone_or_is_refused(void **state)
{
    (void)state;
    struct made_plan plan = short_van(false);
    struct ht_turns turns = drive_of(plan, 2.05, true, NAN);
    assert_true(turns_note(&turns, SPEED_LOG_ALONE));
    ht_turns_free(&turns);
    turns = drive_of(plan, NAN, true, NAN);
    assert_int_equal(turns.state, HT_SPEED_REFUSED);
    assert_says(turns.reason, SPEED_NOTHING_FOLLOWS_NO_TYRE);
    ht_turns_free(&turns);
}

static double number_in(const char *text, const char *after)
{
    const char *at = strstr(text, after);
    return at ? strtod(at + strlen(after), NULL) : NAN;
}

/* Late by 0.6 s, and 2 % or 6 % more than the tyre says. */
static void what_was_found_of_the_log_is_noted(void **state)
{
    (void)state;
    static const char *const begins[] = {
        "One wheel turn is ", "The log is late by ", "The log's speed is "
    };
    static const double wanted[] = { 2.05 * 1.06, 0.6, 6 };
    struct made_plan plan = short_van(true);
    plan.log_scale = 1.06;
    struct ht_turns turns = drive_of(plan, 2.05, true, NAN);
    assert_int_equal(turns.state, HT_SPEED_ACCEPTED);
    for (size_t k = 0; k < 3; k++) {
        double found = NAN;
        for (size_t i = 0; i < turns.notes; i++)
            if (strncmp(turns.note[i], begins[k], strlen(begins[k])) == 0)
                found = number_in(turns.note[i], begins[k]);
        /* 5 %: more than the last digit that is printed of each */
        assert_close(found, wanted[k], 0.05 * wanted[k]);
    }
    assert_true(turns_note(&turns, SPEED_GEAR_UNKNOWN));
    ht_turns_free(&turns);
    plan.lag_s = -0.6;
    plan.log_scale = 0.95;
    turns = drive_of(plan, 2.05, true, NAN);
    bool early = false, low = false;
    for (size_t i = 0; i < turns.notes; i++) {
        early = early || strstr(turns.note[i], "The log runs ahead by 0.6");
        low = low || strstr(turns.note[i], "% lower than the tyre says");
    }
    assert_true(early && low);
    ht_turns_free(&turns);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_that_is_refused_says_what_to_write),
        cmocka_unit_test(rows_left_out_are_counted_in_one_and_in_many),
        cmocka_unit_test(the_unit_that_times_are_taken_in_is_said),
        cmocka_unit_test(what_is_missing_for_a_speed_is_asked_for),
        cmocka_unit_test(a_steady_speed_without_lines_is_kept_in_doubt),
        cmocka_unit_test(a_log_without_lines_stands_alone_or_is_refused),
        cmocka_unit_test(what_was_found_of_the_log_is_noted),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
