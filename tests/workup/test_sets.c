/* Several drivelines, several sets of readings: whose speed, which decides,
 * what is said. */
#include "close.h"

#include "halfturn/workup.h"
#include "workup/texts.h"

#include <math.h>
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
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    free(workup);
    return 0;
}

static enum ht_status run(const char *text)
{
    struct ht_workup_options options = { .causes = true };
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    err = (struct ht_error){ 0 };
    if (ht_sheet_read_text(&sheet, "test", text, strlen(text), NULL, &err) !=
        HT_OK)
        fail_msg("%s", err.text);
    return ht_workup_run(workup, &sheet, &options, &err);
}

static void work(const char *text)
{
    if (run(text) != HT_OK)
        fail_msg("%s", err.text);
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

static double bend_deg(size_t line, size_t joint)
{
    return workup->lines[line].angles.joint[joint].angle_rad.value * 180 /
           3.14159265358979;
}

#define VEHICLE                                                                \
    "halfturn: 1\nvehicle: {class: light_truck, tyre: 265/70R17, drive: all, " \
    "axle_ratio: 4.1, hub_ratio: 2, top_speed_km_h: 120, transfer: {high: 1, " \
    "low: 2.7, in: low}}\n"
#define TWO_LINES                                                              \
    VEHICLE                                                                    \
    "driveline:\n"                                                             \
    "  - {name: rear, from: transfer case, to: rear axle, members: [a, b, "    \
    "c]}\n"                                                                    \
    "  - {name: front, from: transfer case, to: front axle, members: [a, b, "  \
    "c, d], turns_per_wheel_turn: 8.1}\n"

/* The tyre rolls 2.44854 m (3.05 times 802.8 mm); 120 km/h is 33.3333 m/s. */
static const double wheel_rad_s = 2 * 3.14159265358979 * (120 / 3.6) / 2.44854;

static void each_set_belongs_to_the_driveline_it_names(void **state)
{
    (void)state;
    work(TWO_LINES "angles:\n"
                   "  - {driveline: front, slopes_deg: [1, 4, 6, 5]}\n"
                   "  - {name: rear, slopes_deg: [2, 5, 1]}\n"
                   "  - {driveline: rear, name: front, slopes_deg: [2, 9, "
                   "1]}\n");
    assert_int_equal(workup->line_count, 3);
    assert_int_equal(workup->lines[0].driveline_index, 1);
    assert_int_equal(workup->lines[0].angles.joints, 3);
    assert_string_equal(workup->lines[0].driveline, "front");
    assert_null(workup->lines[0].set);
    assert_int_equal(workup->lines[1].driveline_index, 0); /* by its name */
    assert_int_equal(workup->lines[2].driveline_index, 0);
    assert_close(bend_deg(0, 0), 3, 1e-9);
    assert_close(bend_deg(1, 1), 4, 1e-9);
    assert_close(bend_deg(2, 0), 7, 1e-9);
    /* the single form is the first */
    assert_memory_equal(&workup->angles, &workup->lines[0].angles,
                        sizeof workup->angles);
}

static void each_driveline_turns_at_its_own_speed(void **state)
{
    (void)state;
    work(TWO_LINES
         "  - {name: link, from: gearbox, to: Transfer case, members: [a, b, "
         "c]}\n"
         "  - {name: half, from: front axle, to: left front wheel, members: "
         "[a, b, c]}\n"
         "angles:\n"
         "  - {driveline: rear, slopes_deg: [2, 5, 1]}\n"
         "  - {driveline: front, slopes_deg: [1, 4, 6, 5]}\n"
         "  - {driveline: link, slopes_deg: [2, 5, 1]}\n"
         "  - {driveline: half, slopes_deg: [2, 5, 1]}\n");
    /* axle times hub; said; times the low range; the hub's */
    static const double turns[] = { 8.2, 8.1, 8.2 * 2.7, 2 };
    for (size_t i = 0; i < 4; i++) {
        assert_close(workup->lines[i].shaft_turns, turns[i], 1e-12);
        assert_close_relative(
            workup->lines[i].angles.accelerations.shaft_rad_s,
            turns[i] * wheel_rad_s, 1e-12);
    }
    /* shake goes with the speed's square: rear against link */
    assert_close_relative(
        workup->lines[2].angles.accelerations.pulled.value /
            workup->lines[0].angles.accelerations.pulled.value,
        2.7 * 2.7, 1e-12);
}

static const struct ht_line_angles *decider(size_t driveline)
{
    const struct ht_line_angles *found = NULL;
    for (size_t i = 0; i < workup->line_count; i++)
        if (workup->lines[i].decides &&
            workup->lines[i].driveline_index == driveline) {
            assert_null(found);
            found = &workup->lines[i];
        }
    return found;
}

static void the_newest_set_at_the_normal_height_decides(void **state)
{
    (void)state;
    static const struct {
        const char *sets;
        size_t decides;
    } cases[] = {
        { "{name: a}, {name: b}", 0 },
        { "{name: a}, {name: b, normal_height: yes}", 1 },
        { "{name: a}, {name: normal ride height}", 1 },
        { "{name: a, when: before}, {name: b, when: after}", 1 },
        { "{name: b, when: after}, {name: a, when: before}", 0 },
        { "{name: a}, {name: b, when: before}", 0 },
        { "{name: a, when: before}, {name: b}", 1 },
        { "{when: before}, {when: after}, {when: after}", 2 },
        { "{when: after, date: 2026-11-20}, {when: after, date: 2026-11-19}",
          0 },
        { "{when: before, normal_height: yes}, {when: after, normal_height: "
          "yes}, {name: up, when: after}", 1 },
        { "{when: shim 1, normal_height: yes}, {when: shim 2}", 1 },
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        char text[2000] = VEHICLE "driveline: {members: [a, b, c]}\nangles: [";
        for (const char *p = cases[c].sets; *p; p++) {
            char piece[40] = { *p, '\0' };
            if (*p == '}')
                (void)snprintf(piece, sizeof piece, ", slopes_deg: [2, 5, 1]}");
            strcat(text, piece);
        }
        strcat(text, "]\n");
        work(text);
        for (size_t i = 0; i < workup->line_count; i++)
            if (workup->lines[i].decides != (i == cases[c].decides))
                fail_msg("%s: set %zu", cases[c].sets, i);
    }
}

static void each_driveline_has_its_own_set_to_go_by(void **state)
{
    (void)state;
    work(TWO_LINES "angles:\n"
                   "  - {driveline: rear, when: before, slopes_deg: [2, 5, "
                   "1]}\n"
                   "  - {driveline: front, slopes_deg: [1, 4, 6, 5]}\n"
                   "  - {driveline: rear, when: after, slopes_deg: [2, 4, "
                   "1]}\n");
    assert_int_equal(decider(0)->set_index, 2);
    assert_int_equal(decider(1)->set_index, 1);
}

static void what_was_taken_and_what_was_not_read_is_said(void **state)
{
    (void)state;
    work(TWO_LINES "angles: {slopes_deg: [2, 5, 1]}\n");
    assert_true(holds(ASSUMED, WORKUP_FIRST_LINE_TAKEN, (size_t)1, "rear"));
    assert_true(holds(MISSING, WORKUP_LINE_NOT_READ, "front"));
    work(VEHICLE "driveline: {members: [a, b, c], engaged: no}\nangles:\n"
                 "  - {name: empty, height_mm: 420}\n"
                 "  - {slopes_deg: [2, 5, 1]}\n"
                 "  - {slopes_deg: [2, 6, 1]}\n");
    assert_true(holds(MISSING, WORKUP_SET_EMPTY, (size_t)1));
    assert_true(holds(ASSUMED, WORKUP_NOT_ENGAGED));
    assert_true(holds(ASSUMED, WORKUP_NORMAL_SET_TAKEN, (size_t)2));
    assert_int_equal(workup->line_count, 2);
    assert_int_equal(workup->lines[0].set_index, 1);
    work(VEHICLE "driveline: {name: front, members: [a, b, c], engaged: no}\n"
                 "angles:\n"
                 "  - {name: laden, slopes_deg: [2, 5, 1]}\n"
                 "  - {name: empty, slopes_deg: [2, 6, 1]}\n");
    assert_true(holds(ASSUMED, WORKUP_LINE_NOT_ENGAGED, "front"));
    assert_true(holds(ASSUMED, WORKUP_NORMAL_TAKEN, "laden"));
}

static void a_set_that_makes_no_sense_is_named(void **state)
{
    (void)state;
    assert_int_equal(run(VEHICLE "driveline: {members: [a, b, c]}\nangles:\n"
                                 "  - {slopes_deg: [2, 5, 1]}\n"
                                 "  - {slopes_deg: [2, 40, -20]}\n"),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "Set 2 under angles. Joint 2 comes out"));
    assert_false(workup->has_angles);
    assert_int_equal(workup->line_count, 0);
}

/* A kept result is whole without the sheet that it was made from. */
static void kept_sets_keep_their_names(void **state)
{
    (void)state;
    static const char text[] =
        TWO_LINES "angles:\n"
                  "  - {driveline: rear, name: laden, when: before, "
                  "slopes_deg: [2, 5, 1]}\n"
                  "  - {driveline: front, slopes_deg: [1, 4, 6, 5]}\n";
    struct ht_keeper *keeper = ht_keeper_create(1u << 24);
    struct ht_workup_options options = { .keeper = keeper };
    assert_non_null(keeper);
    for (int turn = 0; turn < 2; turn++) {
        ht_workup_free(workup);
        ht_sheet_free(&sheet);
        assert_int_equal(ht_sheet_read_text(&sheet, "test", text, strlen(text),
                                            NULL, &err),
                         HT_OK);
        assert_int_equal(ht_workup_run(workup, &sheet, &options, &err), HT_OK);
        assert_int_equal(workup->stage[HT_STAGE_ANGLES].origin,
                         turn ? HT_KEPT : HT_MADE);
        assert_string_equal(workup->lines[0].set, "laden");
        assert_string_equal(workup->lines[0].when, "before");
        assert_string_equal(workup->lines[1].driveline, "front");
    }
    /* what lies behind the value is counted */
    assert_true(ht_keeper_figures(keeper).bytes >
                2 * sizeof(struct ht_line_angles));
    ht_keeper_free(keeper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)
        TEST(each_set_belongs_to_the_driveline_it_names),
        TEST(each_driveline_turns_at_its_own_speed),
        TEST(the_newest_set_at_the_normal_height_decides),
        TEST(each_driveline_has_its_own_set_to_go_by),
        TEST(what_was_taken_and_what_was_not_read_is_said),
        TEST(a_set_that_makes_no_sense_is_named),
        TEST(kept_sets_keep_their_names),
#undef TEST
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
