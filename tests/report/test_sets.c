/* Several drivelines and several sets of readings, in every output. */
#include "worked.h"

#include "halfturn/json.h"
#include "report/json_lines.h"
#include "report/sets.h"
#include "report/texts.h"
#include "report/travel.h"

#include <math.h>
#include <stdio.h>

static const char *angles_text(void)
{
    text.length = 0;
    assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
    return ht_text_get(&text);
}

static const char *angles_json(void)
{
    text.length = 0;
    assert_int_equal(ht_report_json(&text, workup, HT_BLOCK_ANGLES, NULL),
                     HT_OK);
    return ht_text_get(&text);
}

static const char *page(void)
{
    struct ht_report_names names = { "case.yaml", NULL };
    text.length = 0;
    assert_int_equal(ht_report_html(&text, workup, &names, NULL), HT_OK);
    return ht_text_get(&text);
}

static size_t count(const char *whole, const char *piece)
{
    size_t found = 0;
    for (const char *p = whole; (p = strstr(p, piece)); p++)
        found++;
    return found;
}

static void has(const char *whole, const char *piece)
{
    if (!strstr(whole, piece))
        fail_msg("'%s' is not in:\n%s", piece, whole);
}

/* As one line: where a sentence is broken is not the matter here. */
static const char *angles_flat(void)
{
    static char flat[40000];
    size_t n = 0;
    for (const char *p = angles_text(); *p && n + 1 < sizeof flat; p++)
        if (*p != '\n' && !(*p == ' ' && n && flat[n - 1] == ' '))
            flat[n++] = *p;
        else if (n && flat[n - 1] != ' ')
            flat[n++] = ' ';
    flat[n] = '\0';
    return flat;
}

#define VEHICLE                                                                \
    "halfturn: 1\nvehicle: {class: light_truck, tyre: 265/70R17, drive: all, " \
    "axle_ratio: 4.1, top_speed_km_h: 120}\nlimits: light_truck\n"
#define GAUGE                                                                  \
    "gauge: {accuracy_deg: 0.05, step_deg: 0.05, set_up_deg: 0.1}, read_on: "  \
    "cap, suspension: wheels_on_ground, headings_deg: [0, 0, 0], "
#define REAR "{name: rear shaft, to: rear axle, members: [box, tube, pinion]}"
#define FRONT                                                                  \
    "{name: front shaft, to: front axle, engaged: no, members: [pinion, tube, "\
    "box]}"

/* The first is within, the second 6 degrees. */
static const char two_lines[] =
    VEHICLE "driveline: [" REAR ", " FRONT "]\nangles:\n"
            "  - {driveline: rear shaft, " GAUGE "slopes_deg: [2, 4, 2]}\n"
            "  - {driveline: front shaft, " GAUGE "slopes_deg: [2, 8, 2]}\n";

static const char one_line[] =
    VEHICLE "driveline: [" REAR "]\nangles:\n"
            "  - {name: one, " GAUGE "slopes_deg: [2, 4, 2]}\n";

static void one_set_of_one_driveline_is_told_as_ever(void **state)
{
    (void)state;
    work(one_line);
    assert_null(strstr(angles_text(), "set to go by"));
    assert_null(strstr(angles_text(), "rear shaft"));
    assert_null(strstr(angles_json(), "\"drivelines\""));
    assert_null(strstr(angles_json(), "\"angle_sets\""));
    assert_null(strstr(angles_json(), "\"travel\""));
    assert_null(strstr(page(), "set to go by"));
    assert_null(answering_set(workup));
}

static void the_answer_is_about_the_worst_driveline_and_names_it(void **state)
{
    (void)state;
    work(two_lines);
    assert_string_equal(answering_set(workup)->driveline, "front shaft");
    has(angles_text(), "2 joints bend too far.\n"
                       "Angles of front shaft, the worst of the sets to go "
                       "by.");
    has(angles_text(), "Rear shaft. The set to go by.");
    has(angles_text(), "Front shaft. The set to go by.");
    /* the same slopes twice as steep: nine times the shake, both printed */
    assert_int_equal(count(angles_text(), "of the shaft:"), 2);
    has(angles_text(), "The driveline 'front shaft' was not engaged");
}

static void the_page_draws_every_set(void **state)
{
    (void)state;
    work(two_lines);
    assert_int_equal(count(page(), "The set to go by.</h3>"), 2);
    has(page(), "<h3>Front shaft. The set to go by.</h3>");
    has(page(), "front shaft, the worst of the sets to go by");
    /* a side view each, narrow and wide */
    assert_int_equal(count(page(), "aria-label=\"Side view"), 4);
}

static void json_lists_drivelines_and_sets_with_the_keys_of_one(void **state)
{
    (void)state;
    work(two_lines);
    has(angles_json(), "\"drivelines\": [");
    assert_int_equal(count(angles_json(), "\"side_view_only\""), 5);
    assert_int_equal(count(angles_json(), "\"turns_per_wheel_turn\": "
                                          "4.0999999999999996"),
                     2);
    has(angles_json(), "\"engaged\": \"no\"");
    /* 120 km/h over 2.44854 m times 4.1: 3348.9 rev/min */
    has(angles_json(), "\"shaft_rpm\": 3348.9");
    assert_int_equal(count(angles_json(), "\"decides\": true"), 2);
    assert_null(strstr(angles_json(), "\"travel\""));
}

/* ---- ride heights ------------------------------------------------------- */

static const char heights[] =
    VEHICLE
    "driveline: [" REAR "]\nangles:\n"
    "  - {name: before, when: before, " GAUGE "slopes_deg: [2, 11, 2]}\n"
    "  - {name: high, when: after, height_mm: 480, " GAUGE
    "slopes_deg: [2, 7, 3]}\n"
    "  - {name: normal, when: after, height_mm: 400, " GAUGE
    "slopes_deg: [2, 4, 2]}\n"
    "  - {name: low, when: after, height_mm: 350, " GAUGE
    "slopes_deg: [2, 2.5, 1]}\n";

static void over_the_travel_lowest_and_highest_are_found(void **state)
{
    (void)state;
    struct travel travel;
    static const double lowest[] = { 0.5, 1.5 }, highest[] = { 5, 4 };
    static const char *const where[] = { "low", "low" };
    work(heights);
    assert_true(workup->lines[2].decides);
    assert_true(travel_from(&travel, workup, &workup->lines[2]));
    assert_int_equal(travel.heights, 3); /* not the one before the work */
    assert_string_equal(travel.at[0]->set, "low");
    assert_string_equal(travel.at[2]->set, "high");
    for (size_t j = 0; j < 2; j++) {
        struct travel_range range = travel_range(&travel, j);
        assert_close(range.lowest_rad * 180 / 3.14159265358979, lowest[j],
                     1e-9);
        assert_close(range.highest_rad * 180 / 3.14159265358979, highest[j],
                     1e-9);
        assert_string_equal(range.lowest->set, where[j]);
        assert_string_equal(range.highest->set, "high");
    }
    /* 5 and 4 leave 3, 0.5 and 1.5 leave 1.4, 2 and 2 next to nothing */
    assert_string_equal(travel_range(&travel, 2).highest->set, "high");
    assert_string_equal(travel_range(&travel, 2).lowest->set, "normal");
}

static void the_travel_stands_as_a_table(void **state)
{
    (void)state;
    work(heights);
    has(angles_text(), "Angles and leftover over the travel, without their");
    has(angles_flat(), "The verdicts to go by are those at normal, 400 mm.");
    has(angles_text(), "  Ride height     Joint 1  Joint 2  Left over\n"
                       "  low, 350 mm       0.50°    1.50°");
    has(angles_text(), "  normal, 400 mm    2.00°    2.00°");
    has(angles_text(), "  high, 480 mm      5.00°    4.00°");
    has(angles_text(), "  lowest            0.50°    1.50°");
    has(angles_text(), "  highest           5.00°    4.00°");
    has(page(), "<h3>Over the travel</h3>");
    has(page(), "<table class=\"travel\">");
    has(page(), "<th>normal, 400\302\240mm</th><td>2.00°</td><td>2.00°</td>");
    has(angles_json(), "\"travel\": [");
    has(angles_json(), "\"highest_set\": 2");
    has(angles_json(), "\"lowest_set\": 4");
}

/* Eight joints do not fit beside each other. */
static void many_joints_take_several_tables(void **state)
{
    (void)state;
    work("halfturn: 1\nangles:\n"
         "  - {name: laden, suspension: wheels_on_ground, slopes_deg: [1, 2, "
         "3, 4, 5, 6, 7, 8, 9]}\n"
         "  - {suspension: wheels_on_ground, slopes_deg: [1, 3, 4, 5, 6, 7, 8, "
         "9, 8]}\n");
    struct travel travel;
    assert_true(travel_from(&travel, workup, &workup->lines[0]));
    assert_int_equal(travel_columns(&travel, 0), 5);
    assert_int_equal(travel_columns(&travel, 4), 6);
    has(angles_text(), "Joint 5  Joint 6  Joint 7  Joint 8  Left over");
    has(angles_text(), "  set 2 ");
    for (const char *p = angles_text(); *p;) {
        size_t length = strcspn(p, "\n"), columns = 0;
        for (size_t i = 0; i < length; i++)
            columns += ((unsigned char)p[i] & 0xC0) != 0x80;
        if (columns > 80)
            fail_msg("%.*s", (int)length, p);
        p += length + (p[length] == '\n');
    }
}

/* ---- limits ------------------------------------------------------------- */

static void many_limits_take_one_line_with_strictest_and_loosest(void **state)
{
    (void)state;
    work("halfturn: 1\ndriveline: {members: [box, tube, pinion]}\n"
         "vehicle: {tyre: 265/70R17, drive: rear, axle_ratio: 4.1, "
         "top_speed_km_h: 120}\n"
         "angles: {" GAUGE "slopes_deg: [2, 6, 3.2]}\n");
    /* 4 and 2.8 degrees: 1.2 apart, surely over 0.5 and within 1.5; the sets
     * that compare two joints are seven */
    has(angles_text(), "Joints 1 and 2 differ: 1.20° ");
    has(angles_flat(), "2 of 7 sets say over. Strictest: at most 0.5° (car), "
                       "over. Loosest: at most 1.5° (heavy truck b), within.");
    assert_int_equal(count(angles_text(), "Joints 1 and 2 differ"), 1);
    assert_int_equal(count(angles_text(), "Shake passed to the axle: "), 2);
    has(angles_flat(), "at most 400 in all of 9 sets: ");
    has(angles_flat(), "A joint's largest angle. Strictest: 3.0° "
                       "(light truck). "
                       "Loosest: 5.0° (heavy truck b).");
    /* the list is whole in JSON */
    assert_int_equal(count(angles_json(), "\"joints 1 and 2 differ\""), 7);
}

/* ---- what cannot be told ------------------------------------------------ */

static void notes_and_doubts_name_the_set_they_are_of(void **state)
{
    (void)state;
    work(VEHICLE "driveline: [" REAR ", " FRONT "]\nangles:\n"
                 "  - {driveline: rear shaft, suspension: hanging, slopes_deg: "
                 "[2, 4, 2]}\n"
                 "  - {driveline: front shaft, " GAUGE
                 "slopes_deg: [2, 4.95, 2]}\n");
    has(angles_text(), "No verdict on rear shaft.");
    has(angles_text(), "Side view only: rear shaft.");
    has(angles_text(), "Joint 1 of front shaft against its 3.0° limit");
    has(angles_text(), "Rear shaft: Gauge accuracy not stated");
    /* said of both: once, without a name */
    has(angles_text(), "  - Joint kind not stated: Cardan joints taken.");
    work("halfturn: 1\nangles:\n"
         "  - {name: a, " GAUGE "slopes_deg: [2, 5.6, 2]}\n"
         "  - {name: b, " GAUGE "slopes_deg: [2, 5.6, 2]}\n");
    has(angles_text(), "Joint 1 of a. The published sets disagree: out of");
}

static void a_drivelines_name_stands_in_for_one_that_is_none(void **state)
{
    (void)state;
    struct ht_text name = { 0 };
    work(one_line);
    assert_string_equal(driveline_name(&name, workup, 0), "rear shaft");
    assert_string_equal(driveline_name(&name, workup, 3), "driveline 4");
    ht_text_free(&name);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)
        TEST(one_set_of_one_driveline_is_told_as_ever),
        TEST(the_answer_is_about_the_worst_driveline_and_names_it),
        TEST(the_page_draws_every_set),
        TEST(json_lists_drivelines_and_sets_with_the_keys_of_one),
        TEST(over_the_travel_lowest_and_highest_are_found),
        TEST(the_travel_stands_as_a_table),
        TEST(many_joints_take_several_tables),
        TEST(many_limits_take_one_line_with_strictest_and_loosest),
        TEST(notes_and_doubts_name_the_set_they_are_of),
        TEST(a_drivelines_name_stands_in_for_one_that_is_none),
#undef TEST
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
