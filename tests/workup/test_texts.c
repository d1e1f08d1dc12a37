/* The sentences of the room's table, said where they are meant and whole. */
#include "close.h"
#include "scratch.h"

#include "halfturn/workup.h"
#include "workup/texts.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct ht_sheet sheet;
static struct ht_workup *workup;
static struct ht_error err;

static int begin(void **state)
{
    (void)state;
    workup = calloc(1, sizeof *workup);
    return workup ? 0 : -1;
}

static int end(void **state)
{
    (void)state;
    free(workup);
    return 0;
}

/* A case without a drive. */
static void work(const char *text)
{
    struct ht_workup_options options = { .causes = true };
    err = (struct ht_error){ 0 };
    if (ht_sheet_read_text(&sheet, "test", text, strlen(text), NULL, &err) !=
            HT_OK ||
        ht_workup_run(workup, &sheet, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static void clear(void)
{
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
}

static bool holds(char (*list)[240], size_t count, const char *row, ...)
    __attribute__((format(printf, 3, 4)));
static bool holds(char (*list)[240], size_t count, const char *row, ...)
{
    char whole[600];
    va_list words;
    va_start(words, row);
    (void)vsnprintf(whole, sizeof whole, row, words);
    va_end(words);
    for (size_t i = 0; i < count; i++)
        if (strcmp(list[i], whole) == 0)
            return true;
    return false;
}

#define MISSING workup->missing, workup->missing_count
#define ASSUMED workup->assumed, workup->assumed_count

#define LINE                                                                   \
    "halfturn: 1\n"                                                            \
    "driveline: {members: [gearbox, shaft, pinion], joints: [cardan, "         \
    "cardan]}\n"
#define SLOPES                                                                 \
    "angles: {suspension: wheels_on_ground, read_on: cap, "                    \
    "slopes_deg: [2, 4, 2]}\n"

static void what_was_not_measured_is_missing(void **state)
{
    (void)state;
    struct ht_workup_options options = { .drive = true };
    work("halfturn: 1\n");
    assert_true(holds(MISSING, WORKUP_NO_ANGLES));
    ht_workup_free(workup);
    assert_int_equal(ht_workup_run(workup, &sheet, &options, &err), HT_OK);
    assert_true(holds(MISSING, WORKUP_NO_DRIVE));
    clear();
}

static void angles_say_what_their_figures_want(void **state)
{
    (void)state;
    work(LINE SLOPES);
    assert_true(holds(MISSING, WORKUP_NO_SPEED_FOR_ANGLES));
    assert_true(holds(ASSUMED, WORKUP_ALL_SETS_SHOWN));
    clear();
    work(LINE SLOPES "vehicle: {top_speed_km_h: 120}\n");
    assert_true(holds(MISSING, WORKUP_NO_SHAFT_SPEED));
    clear();
    work(LINE SLOPES "vehicle: {tyre: 235/65R16, axle_ratio: 3.73}\n"
                     "complaint: {speed_km_h: [85, 100]}\n");
    assert_true(holds(ASSUMED, WORKUP_COMPLAINT_SPEED_USED));
    clear();
}

static void further_entries_are_counted_and_left(void **state)
{
    (void)state;
    work(LINE "drive:\n"
              "  - {name: one, recording: a.wav}\n"
              "  - {name: two, recording: b.wav}\n");
    assert_true(holds(MISSING, WORKUP_ONLY_FIRST, (size_t)2, "drive"));
    clear();
}

static void a_word_of_the_checks_that_is_not_known_is_named(void **state)
{
    (void)state;
    work("halfturn: 1\nchecks: {seen: [dnet], sound: [qqqqqqqq]}\n");
    assert_true(holds(MISSING, WORKUP_WORD_NEAR, "dnet", "seen", "dent"));
    assert_true(holds(MISSING, WORKUP_WORD_UNKNOWN, "qqqqqqqq", "sound"));
    clear();
}

static void a_tool_that_is_one_slip_away_is_named(void **state)
{
    (void)state;
    work("halfturn: 1\nnext: {tools: [dial_guage, clamps, lamp]}\n");
    assert_true(holds(MISSING, WORKUP_TOOL_NEAR, "dial_guage", "dial_gauge"));
    assert_false(holds(MISSING, WORKUP_TOOL_NEAR, "clamps", "lamp"));
    assert_false(holds(MISSING, WORKUP_TOOL_NEAR, "lamp", "lamp"));
    clear();
}

static void figures_of_the_sheet_are_its_own_set(void **state)
{
    (void)state;
    work(LINE SLOPES "limits: {joint_max_deg: 3}\n");
    assert_true(workup->angles.verdicts > 0);
    assert_string_equal(workup->angles.verdict[0].source, WORKUP_OWN_SOURCE);
    clear();
}

static void a_file_without_bytes_has_no_key(void **state)
{
    (void)state;
    struct ht_key key;
    assert_int_equal(ht_key_of_file(&key, "no/such/drive.wav", &err),
                     HT_CANNOT_READ);
    assert_string_equal(err.text, "no/such/drive.wav cannot be opened: No such "
                                  "file or directory. Is the name right?");
    char folder[400];
    (void)snprintf(folder, sizeof folder, "%s", scratch_text("a", ""));
    *strrchr(folder, '/') = '\0';
    assert_int_equal(ht_key_of_file(&key, folder, &err), HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "cannot be read to its end"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)
        TEST(what_was_not_measured_is_missing),
        TEST(angles_say_what_their_figures_want),
        TEST(further_entries_are_counted_and_left),
        TEST(a_word_of_the_checks_that_is_not_known_is_named),
        TEST(a_tool_that_is_one_slip_away_is_named),
        TEST(figures_of_the_sheet_are_its_own_set),
        TEST(a_file_without_bytes_has_no_key),
#undef TEST
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
