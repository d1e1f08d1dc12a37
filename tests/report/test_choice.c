/* The figure of a shim plan: each block lies where its numbers say. */
#include "close.h"

#include "report/choice.h"
#include "report/figure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double HALF_DIGIT = 0.005; /* two decimals are written */
static const double DEG = 3.14159265358979323846 / 180;

static double attribute(const char *tag, const char *name)
{
    while (strncmp(tag, name, strlen(name)) != 0 || tag[-1] != ' ')
        tag++;
    return strtod(tag + strlen(name) + 2, NULL);
}

/* The rect of that class. */
static const char *rect_of(const struct ht_text *svg, const char *classes)
{
    const char *at = strstr(ht_text_get(svg), classes);
    if (!at)
        fail_msg("%s is not drawn", classes);
    return at;
}

static struct choice one_row(void)
{
    struct choice choice = { .head = "Plan 1", .rows = 1, .top = 2 };
    choice.row[0] = (struct choice_row){
        .name = "Joint 1", .long_name = "Joint 1: 0.5 to 3",
        .now = { 1.5, 0.05, 1.4, 1.6 }, .then = { 0.6, 0.05, 0.5, 0.75 },
        .least = 0.2, .most = 1, .part = 3 * DEG,
        .verdict = HT_VERDICT_WITHIN,
    };
    return choice;
}

/* From 4 px for 0 to 206 px for twice the limit. */
static void blocks_lie_at_their_share_of_the_limit(void **state)
{
    (void)state;
    struct choice choice = one_row();
    struct ht_text svg = { 0 };
    draw_choice(&svg, &choice, FIGURE_NARROW);
    const char *then = rect_of(&svg, "<rect class=\"block\"");
    assert_close(attribute(then, "x"), 4 + 101 * 0.5, HALF_DIGIT);
    assert_close(attribute(then, "width"), 101 * 0.25, HALF_DIGIT);
    const char *now = rect_of(&svg, "<rect class=\"now\"");
    assert_close(attribute(now, "x"), 4 + 101 * 1.4, HALF_DIGIT);
    assert_close(attribute(now, "width"), 101 * 0.2, HALF_DIGIT);
    assert_true(attribute(now, "y") + attribute(now, "height") <=
                attribute(then, "y"));
    const char *inside = rect_of(&svg, "<rect class=\"track\"");
    assert_close(attribute(inside, "x"), 4 + 101 * 0.2, HALF_DIGIT);
    assert_close(attribute(inside, "width"), 101 * 0.8, HALF_DIGIT);
    ht_text_free(&svg);
}

static void what_runs_off_the_axis_ends_in_a_point(void **state)
{
    (void)state;
    struct choice choice = one_row();
    struct ht_text svg = { 0 };
    choice.row[0].now = (struct ht_estimate){ 5, 0.5, 4, 6 };
    draw_choice(&svg, &choice, FIGURE_NARROW);
    assert_null(strstr(ht_text_get(&svg), "<rect class=\"now\""));
    (void)rect_of(&svg, "<path class=\"now\" d=\"M");
    ht_text_free(&svg);
}

/* Two plans of one joint with a least and a most, and a shake. */
static struct ht_shims *shims_of(void)
{
    static struct ht_shims shims;
    shims = (struct ht_shims){ .limit_count = 3, .plans = 1, .members = 3 };
    shims.limit[0] = (struct ht_shim_limit){ "joint 1", HT_RULE_JOINT, 0,
                                             false, 3 * DEG };
    shims.limit[1] = (struct ht_shim_limit){ "joint 1", HT_RULE_JOINT, 0,
                                             true, 0.5 * DEG };
    shims.limit[2] = (struct ht_shim_limit){ "shake passed to the axle",
                                             HT_RULE_AXLE, 0, false, 400 };
    for (size_t i = 0; i < 3; i++) {
        double unit = i < 2 ? DEG : 100;
        shims.as_it_stands.held[i] = (struct ht_shim_held){
            { 4 * unit, 0.1 * unit, 3.8 * unit, 4.2 * unit }, 0.02
        };
        shims.plan[0].held[i] = (struct ht_shim_held){
            { unit, 0.1 * unit, 0.8 * unit, 1.2 * unit }, i == 1 ? 0.9 : 0.99
        };
    }
    shims.plan[0].probability = 0.88;
    return &shims;
}

static void a_least_and_a_most_share_the_row_of_their_joint(void **state)
{
    (void)state;
    struct choice choice;
    struct ht_text lost = { 0 };
    assert_true(choice_from(&choice, shims_of(), 0));
    assert_int_equal(choice.rows, 2);
    assert_string_equal(choice.row[0].name, "Joint 1");
    assert_close(choice.row[0].least, 0.5 / 3, 1e-12);
    assert_close(choice.row[0].most, 1, 1e-12);
    assert_close(choice.row[0].now.value, 4.0 / 3, 1e-12);
    assert_close(choice.row[0].then.high, 1.2 / 3, 1e-12);
    /* the least is kept with 90 in 100: neither sure nor out of question */
    assert_int_equal(choice.row[0].verdict, HT_VERDICT_OPEN);
    assert_close(choice.row[1].then.value, 100.0 / 400, 1e-12);
    assert_int_equal(choice.row[1].verdict, HT_VERDICT_WITHIN);
    /* 4.2 of 3 degrees is the furthest, with a little room */
    assert_close(choice.top, 1.04 * 1.5, 1e-12);
    choice_free(&choice, &lost);
}

static void every_plan_stands_under_its_head_in_one_figure(void **state)
{
    (void)state;
    struct ht_text svg = { 0 };
    draw_choices(&svg, shims_of(), FIGURE_WIDE);
    const char *said[] = {
        "Plan 1: 88\302\240in\302\240100 that every limit is kept.",
        "Joint 1: 4.00°\302\240±\302\2400.20° now, ",
        "1.00°\302\240±\302\2400.20° then, can’t tell.",
    };
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++)
        assert_non_null(strstr(ht_text_get(&svg), said[i]));
    ht_text_free(&svg);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blocks_lie_at_their_share_of_the_limit),
        cmocka_unit_test(what_runs_off_the_axis_ends_in_a_point),
        cmocka_unit_test(a_least_and_a_most_share_the_row_of_their_joint),
        cmocka_unit_test(every_plan_stands_under_its_head_in_one_figure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
