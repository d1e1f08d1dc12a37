/* What a summary makes of several limits, and of several drivelines. */
#include "worked.h"

#include "report/judged.h"

static const char *told(void)
{
    text.length = 0;
    assert_int_equal(ht_report_angles_text(&text, workup, NULL), HT_OK);
    return ht_text_get(&text);
}

static const char *page(void)
{
    struct ht_report_names names = { "case.yaml", NULL };
    text.length = 0;
    assert_int_equal(ht_report_html(&text, workup, &names, NULL), HT_OK);
    return ht_text_get(&text);
}

static void has(const char *whole, const char *piece)
{
    if (!strstr(whole, piece))
        fail_msg("'%s' is not in:\n%s", piece, whole);
}

static void lacks(const char *whole, const char *piece)
{
    if (strstr(whole, piece))
        fail_msg("'%s' is in:\n%s", piece, whole);
}

#define HEAD                                                                   \
    "halfturn: 1\nvehicle: {class: light_truck, tyre: 265/70R17, drive: all, " \
    "axle_ratio: 4.1, top_speed_km_h: 60}\n"
#define READ                                                                   \
    "gauge: {accuracy_deg: 0.05, step_deg: 0.05, set_up_deg: 0.1}, read_on: "  \
    "cap, headings_deg: [0, 0, 0], "
#define ON_WHEELS "suspension: wheels_on_ground, "

/* One of the published sets has a minimum and no maximum. */
static void sets_without_a_maximum_do_not_count_where_it_is_exceeded(
    void **state)
{
    (void)state;
    work(HEAD "angles: {" ON_WHEELS READ "slopes_deg: [0, 14, 0]}\n");
    struct judged judged = judged_joint(&workup->angles, 1);
    assert_int_equal(judged.verdict, HT_VERDICT_OVER);
    assert_true(judged.sets > 4 && judged.sets_bad == judged.sets);
    has(told(), "2 joints bend too far.");
    has(told(), "out in 7 of 7 sets  over");
    lacks(told(), "sets disagree");
    work(HEAD "angles: {" ON_WHEELS READ "slopes_deg: [0, 4, 0]}\n");
    judged = judged_joint(&workup->angles, 1);
    assert_int_equal(judged.verdict, HT_VERDICT_OPEN);
    assert_true(judged.sets == 7 && judged.sets_bad < 7);
    /* too little in every set that has a minimum */
    work(HEAD "angles: {" ON_WHEELS READ "slopes_deg: [0, 0, 0]}\n");
    judged = judged_joint(&workup->angles, 1);
    assert_int_equal(judged.verdict, HT_VERDICT_UNDER);
    assert_int_equal(judged.sets, judged.sets_bad);
    has(told(), "bends too little.");
}

static void the_makers_figure_stands_for_that_of_a_named_set(void **state)
{
    (void)state;
    work(HEAD "limits: {name: light_truck, joint_max_deg: 2}\n"
              "angles: {" ON_WHEELS READ "slopes_deg: [0, 2.6, 0]}\n");
    struct judged judged = judged_joint(&workup->angles, 1);
    assert_int_equal(judged.verdict, HT_VERDICT_OVER);
    assert_int_equal(judged.sets, 1);
    has(told(), "2 joints bend too far.");
    has(told(), "over the 2.0\302\260 that is allowed");
    has(told(), "0.5\302\260 to 2.0\302\260  over");
    has(told(), "A joint may bend from 0.5\302\260 (light truck) to "
                "2.0\302\260 (sheet).");
    has(page(), "A joint may bend from 0.5\302\260 (light truck) to "
                "2.0\302\260 (sheet).");
    work(HEAD "limits: light_truck\n"
              "angles: {" ON_WHEELS READ "slopes_deg: [0, 2.6, 0]}\n");
    lacks(told(), "A joint may bend from");
}

static void a_shake_over_its_limit_is_not_within(void **state)
{
    (void)state;
    work(HEAD "limits: {joint_max_deg: 10, shaft_rad_s2: 20}\n"
              "angles: {" ON_WHEELS READ "slopes_deg: [0, 4, 0]}\n");
    has(told(), "These angles shake it too hard.");
    lacks(told(), "within the limits");
}

#define LINES                                                                  \
    "limits: light_truck\ndriveline: [{name: rear shaft, to: rear axle, "      \
    "members: [box, tube, pinion]}, {name: front shaft, to: front axle, "      \
    "members: [pinion, tube, box]}]\nangles:\n"                                \
    "  - {driveline: rear shaft, " ON_WHEELS READ "slopes_deg: [2, 4, 2]}\n"

static void a_hanging_driveline_is_never_within_the_limits(void **state)
{
    (void)state;
    static const char *const stood[] = {
        LINES "  - {driveline: front shaft, suspension: hanging, " READ
              "slopes_deg: [2, 4, 2]}\n",
        LINES "  - {driveline: front shaft, " READ "slopes_deg: [2, 4, 2]}\n",
    };
    for (size_t i = 0; i < 2; i++) {
        work(HEAD);
        char *body = calloc(1, strlen(HEAD) + strlen(stood[i]) + 1);
        assert_non_null(body);
        strcpy(body, HEAD);
        strcat(body, stood[i]);
        work(body);
        free(body);
        has(told(), "Not every driveline could be judged.");
        lacks(told(), "within the limits");
        has(page(), "No verdict on front shaft");
    }
}

static void the_page_says_which_line_does_what(void **state)
{
    (void)state;
    work(HEAD LINES "  - {driveline: front shaft, " ON_WHEELS READ
                    "slopes_deg: [2, 4.2, 2]}\n");
    const char *does = strstr(page(), "<h2>What the angles do</h2>");
    assert_non_null(does);
    const char *rear = strstr(does, "<h3>Rear shaft</h3>");
    const char *front = strstr(does, "<h3>Front shaft</h3>");
    assert_true(rear && front && rear < front);
    has(told(), "The joint angles are within the limits.");
}

/* The verdict breaks before a name is cut. */
static void names_are_whole_where_there_is_room(void **state)
{
    (void)state;
    work(HEAD "limits: light_truck\ndriveline: {members: [gearbox, front "
              "shaft, rear shaft, pinion]}\nangles: {" ON_WHEELS
              "read_on: cap, gauge: {accuracy_deg: 0.05, set_up_deg: 0.1}, "
              "slopes_deg: [0, 1, 4, 1], headings_deg: [0, 0, 0, 0]}\n");
    has(told(), "  2  front shaft / rear shaft  ");
    has(told(), "can\342\200\231t tell,\n");
    lacks(told(), "\342\200\246");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            sets_without_a_maximum_do_not_count_where_it_is_exceeded),
        cmocka_unit_test(the_makers_figure_stands_for_that_of_a_named_set),
        cmocka_unit_test(a_shake_over_its_limit_is_not_within),
        cmocka_unit_test(a_hanging_driveline_is_never_within_the_limits),
        cmocka_unit_test(the_page_says_which_line_does_what),
        cmocka_unit_test(names_are_whole_where_there_is_room),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
