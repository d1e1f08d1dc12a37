/* What the angles do, as text, page and JSON: whole sheets worked up. */
#include "close.h"

#include "halfturn/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD                                                                   \
    "halfturn: 1\nvehicle: {class: van, tyre: 235/65R16, drive: rear, "        \
    "axle_ratio: 4.1, top_speed_km_h: 120, torque_n_m: 900}\n"                 \
    "limits: light_truck\n"
#define SET                                                                    \
    "suspension: wheels_on_ground, gauge: {accuracy_deg: 0.05, step_deg: "     \
    "0.05, set_up_deg: 0.05}, read_on: cap"

struct case_of {
    struct ht_sheet sheet;
    struct ht_workup *workup;
    struct ht_text out;
};

static void open_case(struct case_of *it, const char *yaml)
{
    struct ht_error err = { 0 };
    const struct ht_workup_options options = { .causes = true };
    *it = (struct case_of){ .workup = calloc(1, sizeof *it->workup) };
    if (ht_sheet_read_text(&it->sheet, "case", yaml, strlen(yaml), NULL,
                           &err) != HT_OK ||
        ht_workup_run(it->workup, &it->sheet, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static void close_case(struct case_of *it)
{
    ht_text_free(&it->out);
    ht_workup_free(it->workup);
    free(it->workup);
    ht_sheet_free(&it->sheet);
}

/* Lines joined by single blanks, so that a wrapped sentence is found. */
static char *joined(const char *text)
{
    char *copy = malloc(strlen(text) + 1), *to = copy;
    for (const char *p = text; *p; p++)
        if (*p != ' ' && *p != '\n')
            *to++ = *p;
        else if (to > copy && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return copy;
}

static void assert_said(const char *yaml, const char *const *wanted)
{
    struct case_of it;
    struct ht_error err;
    open_case(&it, yaml);
    assert_int_equal(ht_report_angles_text(&it.out, it.workup, &err), HT_OK);
    char *text = joined(it.out.bytes);
    for (; *wanted; wanted++)
        if (!strstr(text, *wanted))
            fail_msg("not said: %s\n%s", *wanted, it.out.bytes);
    free(text);
    close_case(&it);
}

/* 3 and 3 degrees in planes 90 apart: tangent of 3 degrees times half of 900
 * is 23.6 N m. 60 x 2 x 1300 mm of steel: 5876 rev/min by the beam; 120 km/h
 * are some 3800 of the shaft. */
static void a_skew_shaft_is_told_its_clocking_and_its_critical_speed(void **s)
{
    (void)s;
    static const char *const wanted[] = {
        "What the angles do",
        "First limit met at",
        "With all of 900 N m going this way, joint 1 is bent most: by 24 N m "
        "steadily and 24 N m twice a turn",
        "Joints 1 and 2: skew, their planes 90\302\260 apart.",
        "of line the joints would leave 0.",
        "balance changes",
        "Shaft: critical speed 5876",
        "Half of it is reached",
        "These are bare tubes.",
        "Steel taken where no material is named.",
        "Hardest bearing, of gearbox:",
        NULL
    };
    assert_said(HEAD "driveline: {members: [gearbox, shaft, pinion], joints: "
                     "[cardan, cardan], tubes: [{joint_to_joint_mm: 1300, "
                     "outer_mm: 60, wall_mm: 2}], bearing_spacings_mm: "
                     "{gearbox: [200, 150]}}\n"
                     "angles: {" SET ", slopes_deg: [0, 3, 3], headings_deg: "
                     "[0, 0, 3]}\n",
                wanted);
}

/* The same shaft bent to the right and to the left: mirrored answers. 4.5
 * teeth would part the planes by 90 degrees; 4 leave 3 sqrt(2 sin 10). */
static void a_spline_is_told_its_teeth(void **s)
{
    (void)s;
#define BENT(heading)                                                          \
    HEAD "driveline: {members: [gearbox, shaft, pinion], joints: "             \
         "[cardan, cardan], spline_teeth: 18}\n"                               \
         "angles: {" SET ", slopes_deg: [0, 3, 3], headings_deg: "             \
         "[0, 0, " heading "]}\n"
    static const char *const right[] = {
        "Shaft: its rear yoke moved by 4 of 18 teeth, clockwise as seen from "
        "behind, would leave 1.8\302\260, not 4.2\302\260.", NULL
    };
    static const char *const left[] = {
        "Shaft: its rear yoke moved by 4 of 18 teeth, counter-clockwise as "
        "seen from behind, would leave 1.8\302\260, not 4.2\302\260.", NULL
    };
    assert_said(BENT("3"), right);
    assert_said(BENT("-3"), left);
#undef BENT
}

static void a_double_joint_off_centre_and_a_centre_bearing_are_told(void **s)
{
    (void)s;
    static const char *const wanted[] = {
        "Double joint 1, 0.5 mm off centre, can leave 2.",
        "the whole line then up to ",
        "(derived)",
        "Its crosses are taken as 80 mm apart",
        "Joints 2 and 3: parallel.",
        "Centre bearing of front:",
        "Taken as standing at the shaft's rear "
        "joint.",
        "Front: critical speed",
        "Too near: the top speed takes it "
        "to ",
        NULL
    };
    assert_said(HEAD "driveline: {members: [gearbox, front, rear, pinion], "
                     "joints: [double_cardan, cardan, cardan], tubes: "
                     "[{joint_to_joint_mm: 1900, outer_mm: 60, wall_mm: 2, "
                     "material: steel}, {joint_to_joint_mm: 1200, outer_mm: "
                     "60, wall_mm: 2, material: glass}], centring_error_mm: "
                     "0.5}\nangles: {" SET ", slopes_deg: [0, 8, 5, 8], "
                     "headings_deg: [0, 0, 0, 0]}\n",
                wanted);
}

static void without_a_speed_the_critical_speed_is_in_rev_min(void **s)
{
    (void)s;
    static const char *const wanted[] = { "Shaft: critical speed 4",
                                          "rev/min, half of it 2",
                                          "Joints 1 and 2: intersecting.",
                                          NULL };
    assert_said("halfturn: 1\ndriveline: {members: [gearbox, shaft, pinion], "
                "joints: [cardan, cardan], tubes: [{joint_to_joint_mm: 1500, "
                "outer_mm: 60, wall_mm: 2}]}\n"
                "angles: {" SET ", slopes_deg: [0, 3, 6], headings_deg: "
                "[0, 0, 0]}\n",
                wanted);
}

static void a_limit_that_is_not_met_is_said_to_be_far(void **s)
{
    (void)s;
    static const char *const wanted[] = {
        "No limit on shake is met up to 120 km/h. The first, ",
        "Joints 1 and 2: one is straight.", NULL
    };
    assert_said(HEAD "driveline: {members: [gearbox, shaft, pinion], joints: "
                     "[cardan, cardan]}\nangles: {" SET ", slopes_deg: [0, "
                     "0.1, 1.1], headings_deg: [0, 0, 0]}\n",
                wanted);
}

/* ---- several lines ------------------------------------------------------ */

#define TWO                                                                    \
    HEAD "driveline:\n"                                                        \
         "  - {name: rear, members: [a, b, c], joints: [cardan, cardan]}\n"    \
         "  - {name: front, members: [d, e, f], joints: [cardan, cardan], "    \
         "engaged: no}\n"                                                      \
         "angles:\n"                                                           \
         "  - {driveline: rear, " SET ", slopes_deg: [0, 3, 1]}\n"             \
         "  - {driveline: front, " SET ", slopes_deg: [0, 5, 1]}\n"

static void without_headings_planes_are_those_of_the_side_view(void **s)
{
    (void)s;
    static const char *const plain[] = {
        "Joints 1 and 2: parallel as seen from the side.", NULL
    };
    assert_said(TWO, plain);
    static const char *const other[] = {
        "Joints 1 and 2: intersecting as seen from the side.", NULL
    };
    assert_said(HEAD "driveline: {members: [a, b, c], joints: [cardan, "
                     "cardan]}\nangles: {" SET ", slopes_deg: [0, 3, 6]}\n",
                other);
}

/* The side view leaves open what its number alone would have decided: no
 * number is shown then, and one where the chance itself is open. */
static void a_verdict_open_for_the_side_view_shows_no_chance(void **s)
{
    (void)s;
    static const char *const plain[] = {
        "3.0\302\260 can\342\200\231t tell Left over",
        "at most 1000 (light truck): can\342\200\231t tell from the side "
        "alone.",
        " in 100 that it is over.", NULL
    };
    assert_said(HEAD "driveline: {members: [a, b, c], joints: [cardan, "
                     "cardan]}\nangles: {" SET ", joints_deg: [0.6, -1.6]}\n",
                plain);
}

/* A line that is not engaged carries no torque; each has its own members. */
static void every_line_has_effects_of_its_own(void **s)
{
    (void)s;
    struct case_of it;
    open_case(&it, TWO);
    assert_int_equal(it.workup->line_count, 2);
    const struct ht_effects *effects = it.workup->effects;
    assert_non_null(effects);
    assert_string_equal(effects[0].member[1], "b");
    assert_string_equal(effects[1].member[1], "e");
    assert_close(effects[0].torque_n_m, 900, 1e-9);
    assert_int_equal(effects[0].loads.joints, 2);
    assert_int_equal(effects[1].loads.joints, 0);
    assert_close(effects[1].leftover_now_rad,
                 it.workup->lines[1].angles.leftover_read_rad, 1e-9);
    close_case(&it);
}

static size_t count_of(const char *text, const char *word)
{
    size_t count = 0;
    for (const char *p = text; (p = strstr(p, word)); p++)
        count++;
    return count;
}

/* The long tables stand in the angles' JSON alone; the page has the lines. */
static void tables_are_in_the_json_of_angles_and_lines_on_the_page(void **s)
{
    (void)s;
    struct case_of it;
    struct ht_error err;
    const struct ht_report_names names = { "case", NULL };
    open_case(&it, TWO);
    assert_int_equal(ht_report_json(&it.out, it.workup, HT_BLOCK_ANGLES, &err),
                     HT_OK);
    assert_int_equal(count_of(it.out.bytes, "\"effects\": {"), 3);
    assert_int_equal(count_of(it.out.bytes, "\"turn_held\": {"), 3);
    it.out.length = 0;
    assert_int_equal(ht_report_json(&it.out, it.workup, HT_BLOCK_RANK, &err),
                     HT_OK);
    assert_int_equal(count_of(it.out.bytes, "\"turn_held\""), 0);
    it.out.length = 0;
    assert_int_equal(ht_report_html(&it.out, it.workup, &names, &err), HT_OK);
    assert_int_equal(count_of(it.out.bytes, "What the angles do"), 1);
    close_case(&it);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            a_skew_shaft_is_told_its_clocking_and_its_critical_speed),
        cmocka_unit_test(a_spline_is_told_its_teeth),
        cmocka_unit_test(
            a_double_joint_off_centre_and_a_centre_bearing_are_told),
        cmocka_unit_test(without_a_speed_the_critical_speed_is_in_rev_min),
        cmocka_unit_test(a_limit_that_is_not_met_is_said_to_be_far),
        cmocka_unit_test(without_headings_planes_are_those_of_the_side_view),
        cmocka_unit_test(a_verdict_open_for_the_side_view_shows_no_chance),
        cmocka_unit_test(every_line_has_effects_of_its_own),
        cmocka_unit_test(
            tables_are_in_the_json_of_angles_and_lines_on_the_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
