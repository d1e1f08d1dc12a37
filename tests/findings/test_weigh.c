/* What an observation weighs: directions, soft edges, and silence. */
#include "close.h"

#include "findings/texts.h"
#include "halfturn/findings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static struct ht_findings findings;

static const struct ht_finding *found(const char *id)
{
    size_t at = ht_finding_index(id);
    assert_in_range(at, 0, findings.findings - 1);
    return &findings.finding[at];
}

/* A sheet with one body; freed by the caller. */
static struct ht_sheet sheet_of(const char *body)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    char text[1000];
    snprintf(text, sizeof text, "halfturn: 1\n%s", body);
    if (ht_sheet_read_text(&sheet, "made", text, strlen(text), NULL, &err) !=
        HT_OK)
        fail_msg("%s", err.text);
    return sheet;
}

static void collect_sheet(const char *body)
{
    struct ht_sheet sheet = sheet_of(body);
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .sheet = &sheet });
    ht_sheet_free(&sheet);
}

static void collect_level(double level, enum ht_place place, bool calibrated,
                          enum ht_order_state state)
{
    struct ht_order_result result = {
        .order = { .multiple = 2, .name = "2\xc3\x97 shaft" },
        .channel = -1, .state = state, .at_m_s = 25,
        .level = { level, 0.95 * level, 1.05 * level },
        .exponent = 2.1, .exponent_u = 0.2, .pull_db = 6, .pull_u_db = 1
    };
    struct ht_orders orders = { .results = 1, .result = &result,
                                .place = place, .calibrated = calibrated,
                                .unit = "m/s2" };
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .orders = &orders });
}

static void nothing_given_is_nothing_known(void **state)
{
    (void)state;
    ht_findings_collect(&findings, &(struct ht_findings_input){ 0 });
    for (size_t i = 0; i < findings.findings; i++) {
        assert_false(findings.finding[i].known);
        assert_false(ht_finding_speaks(&findings.finding[i]));
    }
    assert_false(findings.no_drive);
}

static void an_empty_sheet_says_nothing(void **state)
{
    (void)state;
    collect_sheet("complaint: {note: hums}\n");
    for (size_t i = 0; i < findings.findings; i++)
        assert_false(ht_finding_speaks(&findings.finding[i]));
}

/* The top of the healthy band, 0.04 m/s², is the even point; the edge is
 * soft; the limits of 5 in 100 hardly widen it. */
static void the_healthy_edge_is_soft(void **state)
{
    (void)state;
    collect_level(0.04, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_close(found("shaft-2x")->likelihood[1],
                 found("shaft-2x")->likelihood[2], 1e-9);
    /* ln(0.08 / 0.04) is 1.711 of 0.405: odds of Phi(1.71) = 0.9564 */
    collect_level(0.08, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_close(found("shaft-2x")->likelihood[1], 0.0436 / 0.9564, 0.001);
    collect_level(0.02, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_int_equal(found("shaft-2x")->answer, 1);
    assert_int_equal(findings.strong_lines, 0);
    collect_level(0.3, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_int_equal(found("shaft-2x")->answer, 2);
    assert_int_equal(findings.strong_lines, 1);
}

static void other_named_places_have_an_edge_twice_as_wide(void **state)
{
    (void)state;
    double seat, floor_edge;
    double healthy = ht_healthy_m_s2(HT_PLACE_SEAT_RAIL, true, &seat);
    assert_close(ht_healthy_m_s2(HT_PLACE_FLOOR, true, &floor_edge), healthy,
                 0);
    assert_close(floor_edge, 2 * seat, 1e-15);
    assert_true(isnan(ht_healthy_m_s2(HT_PLACE_UNKNOWN, true, NULL)));
    assert_true(isnan(ht_healthy_m_s2(HT_PLACE_OTHER, true, NULL)));
    assert_true(isnan(ht_healthy_m_s2(HT_PLACE_SEAT_RAIL, false, NULL)));
}

static void sound_and_unnamed_places_cannot_say_stronger(void **state)
{
    (void)state;
    collect_level(5, HT_PLACE_UNKNOWN, true, HT_SEEN);
    assert_close(found("shaft-2x")->likelihood[1],
                 found("shaft-2x")->likelihood[2], 0);
    assert_true(found("shaft-2x")->likelihood[0] < 0.05);
    collect_level(5, HT_PLACE_SEAT_RAIL, false, HT_SEEN);
    assert_close(found("shaft-2x")->likelihood[1],
                 found("shaft-2x")->likelihood[2], 0);
}

static void what_could_not_be_seen_says_nothing(void **state)
{
    (void)state;
    collect_level(0.3, HT_PLACE_SEAT_RAIL, true, HT_COULD_NOT_BE_SEEN);
    assert_false(ht_finding_speaks(found("shaft-2x")));
    assert_false(ht_finding_speaks(found("shaft-2x-growth")));
    assert_false(ht_finding_speaks(found("shaft-2x-pull")));
}

static void growth_and_pull_hold_only_for_a_line_that_is_seen(void **state)
{
    (void)state;
    collect_level(0.3, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_int_equal(found("shaft-2x-growth")->answer, 1);
    assert_int_equal(found("shaft-2x-pull")->answer, 1);
    assert_true(ht_finding_speaks(found("shaft-2x-pull")));
    collect_level(0, HT_PLACE_SEAT_RAIL, true, HT_NOT_SEEN);
    assert_int_equal(found("shaft-2x")->answer, 0);
    assert_false(found("shaft-2x-growth")->known);
    assert_false(found("shaft-2x-pull")->known);
}

static void collect_angles(struct ht_angles *angles)
{
    ht_findings_collect(&findings,
                        &(struct ht_findings_input){ .angles = angles });
}

static struct ht_angles over(double probability)
{
    struct ht_angles angles = { .verdict_allowed = true, .verdicts = 1,
                                .leftover_rad = { NAN, NAN, NAN, NAN } };
    angles.verdict[0] = (struct ht_limit_verdict){
        .what = "joint 1", .joint = 1, .unit = "rad", .value = 0.06,
        .limit = 0.0524, .set = "car", .probability_over = probability
    };
    return angles;
}

static void an_angle_that_cannot_be_decided_weighs_little(void **state)
{
    (void)state;
    struct ht_angles angles = over(0.6);
    collect_angles(&angles);
    assert_close(found("joint-over")->likelihood[0], 0.4 / 0.6, 1e-12);
    angles = over(0.5);
    collect_angles(&angles);
    assert_false(ht_finding_speaks(found("joint-over")));
    angles = over(1);
    collect_angles(&angles);
    assert_close(found("joint-over")->likelihood[0], 0.01 / 0.99, 1e-12);
}

static void hanging_suspension_says_nothing(void **state)
{
    (void)state;
    struct ht_angles angles = over(0.99);
    angles.verdict_allowed = false;
    collect_angles(&angles);
    assert_false(found("joint-over")->known);
}

static void from_the_side_a_maximum_is_over_or_silent(void **state)
{
    (void)state;
    struct ht_angles angles = over(0.99);
    angles.side_view_only = true;
    collect_angles(&angles);
    assert_int_equal(found("joint-over")->answer, 1);
    angles.verdict[0].probability_over = 0.01;
    collect_angles(&angles);
    assert_false(found("joint-over")->known);
}

/* Two sets agree half and half: as if nothing had been said. */
static void published_sets_that_disagree_share_the_weight(void **state)
{
    (void)state;
    struct ht_angles angles = over(0.99);
    angles.verdicts = 2;
    angles.verdict[1] = angles.verdict[0];
    snprintf(angles.verdict[1].set, sizeof angles.verdict[1].set, "truck");
    angles.verdict[1].probability_over = 0.01;
    collect_angles(&angles);
    assert_close(found("joint-over")->likelihood[0], 1, 1e-9);
}

/* 0.6 mm is the middle of the published tube limits, 0.4 to 0.8. */
static void run_out_limits_have_soft_edges(void **state)
{
    (void)state;
    collect_sheet("checks: {runout_mm: {shaft_middle: 0.6}}\n");
    assert_close(found("runout-shaft")->likelihood[0], 1, 1e-9);
    collect_sheet("checks: {runout_mm: {shaft_middle: 0.2}}\n");
    assert_int_equal(found("runout-shaft")->answer, 0);
    assert_true(found("runout-shaft")->likelihood[1] < 0.02);
    collect_sheet("checks: {runout_mm: {shaft_front: 0.1, shaft_rear: 1.2}}\n");
    assert_int_equal(found("runout-shaft")->answer, 1);
    assert_false(found("runout-flange")->known);
}

static void seen_and_sound_words_are_heard(void **state)
{
    (void)state;
    collect_sheet("checks: {seen: [dent], sound: [mounts, bushes]}\n");
    assert_int_equal(found("dent")->answer, 1);
    assert_int_equal(found("collapsed_mount")->answer, 0);
    assert_int_equal(found("worn_bush")->answer, 0);
    assert_true(found("collapsed_mount")->known);
    assert_false(found("cupped_tyre")->known);
}

static void what_began_it_is_not_asked_again(void **state)
{
    (void)state;
    collect_sheet("complaint: {began_after: tyres}\n");
    assert_int_equal(found("began-wheel-work")->answer, 1);
    assert_true(ht_finding_speaks(found("began-wheel-work")));
    assert_true(found("began-shaft-work")->known);
    assert_false(ht_finding_speaks(found("began-shaft-work")));
}

static void safety_stands_by_itself(void **state)
{
    (void)state;
    collect_sheet("safety: {walk_round: done, clips_refitted: yes}\n");
    assert_int_equal(findings.safety_count, 0);
    assert_false(findings.no_drive);
    collect_sheet("safety: {walk_round: failed}\n");
    assert_true(findings.no_drive);
    assert_string_equal(findings.safety[0].id, "walk-round");
    collect_sheet("safety: {walk_round: done}\n"
                  "checks: {seen: [loose_wheel_nuts]}\n");
    assert_true(findings.no_drive);
    assert_string_equal(findings.safety[0].id, "loose_wheel_nuts");
    collect_sheet("safety: {walk_round: done}\n"
                  "angles: {slopes_deg: [1, 2, 1]}\n");
    assert_false(findings.no_drive);
    assert_string_equal(findings.safety[0].id, "clips");
}

/* Every sentence of the room's table of safety, once, whole and as it is. */
static void every_safety_sentence_is_said_whole(void **state)
{
    (void)state;
    static const struct {
        const char *body, *text;
    } cases[] = {
        { "safety: {walk_round: failed}\n", FINDINGS_WALK_FAILED },
        { "safety: {clips_refitted: yes}\n", FINDINGS_WALK_UNKNOWN },
        { "safety: {walk_round: done, clips_refitted: no}\n",
          FINDINGS_CLIPS_OFF },
        { "safety: {walk_round: done}\nangles: {slopes_deg: [1, 2, 1]}\n",
          FINDINGS_CLIPS_UNKNOWN },
        { "safety: {walk_round: done}\nchecks: {seen: [loose_wheel_nuts]}\n",
          FINDINGS_LOOSE_WHEEL_NUTS },
        { "safety: {walk_round: done}\nchecks: {seen: [loose_joint]}\n",
          FINDINGS_LOOSE_JOINT },
        { "safety: {walk_round: done}\nchecks: {seen: [loose_flange]}\n",
          FINDINGS_LOOSE_FLANGE },
        { "safety: {walk_round: done}\n"
          "checks: {seen: [wheel_bearing_play]}\n", FINDINGS_WHEEL_BEARING },
        { "safety: {walk_round: done}\nchecks: {seen: [worn_slip_spline]}\n",
          FINDINGS_WORN_SPLINE },
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        collect_sheet(cases[i].body);
        assert_int_equal(findings.safety_count, 1);
        assert_string_equal(findings.safety[0].text, cases[i].text);
    }
}

/* The figure that stands in brackets behind a statement. */
static void every_figure_names_its_unit(void **state)
{
    (void)state;
    collect_level(0.333, HT_PLACE_SEAT_RAIL, true, HT_SEEN);
    assert_string_equal(found("shaft-2x")->text, "0.33 m/s² at 90 km/h");
    assert_string_equal(found("shaft-2x-growth")->text, "power 2.1 of speed");
    assert_string_equal(found("shaft-2x-pull")->text, "6.0 dB");
    collect_sheet("checks:\n"
                  "  runout_mm: {shaft_middle: 0.61}\n"
                  "  ride_height_mm: {measured: [382, 401], "
                  "maker: [394, 400]}\n"
                  "driveline: {members: [gearbox, shaft, pinion], "
                  "yokes_deg: [-4]}\n");
    assert_string_equal(found("runout-shaft")->text,
                        "0.61 mm, published limits near 0.60 mm");
    assert_string_equal(found("ride-height-off")->text, "12 mm off");
    assert_string_equal(found("yokes-out-of-line")->text, "4°");
    struct ht_angles angles = over(0.9);
    collect_angles(&angles);
    assert_string_equal(found("joint-over")->text,
                        "joint 1: 3.44°, limit 3.00°");
    angles.verdict[0] = (struct ht_limit_verdict){
        .what = "shake passed to the axle", .unit = "rad/s2", .value = 640,
        .limit = 400, .set = "car", .probability_over = 0.97
    };
    collect_angles(&angles);
    assert_string_equal(found("leftover-over")->text,
                        "640 rad/s², limit 400 rad/s²");
    angles.verdicts = 0;
    angles.leftover_rad = (struct ht_estimate){ 0.0674, 0.002, NAN, NAN };
    collect_angles(&angles);
    assert_string_equal(found("leftover-over")->text, "leftover angle 3.86°");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_given_is_nothing_known),
        cmocka_unit_test(an_empty_sheet_says_nothing),
        cmocka_unit_test(the_healthy_edge_is_soft),
        cmocka_unit_test(other_named_places_have_an_edge_twice_as_wide),
        cmocka_unit_test(sound_and_unnamed_places_cannot_say_stronger),
        cmocka_unit_test(what_could_not_be_seen_says_nothing),
        cmocka_unit_test(growth_and_pull_hold_only_for_a_line_that_is_seen),
        cmocka_unit_test(an_angle_that_cannot_be_decided_weighs_little),
        cmocka_unit_test(hanging_suspension_says_nothing),
        cmocka_unit_test(from_the_side_a_maximum_is_over_or_silent),
        cmocka_unit_test(published_sets_that_disagree_share_the_weight),
        cmocka_unit_test(run_out_limits_have_soft_edges),
        cmocka_unit_test(seen_and_sound_words_are_heard),
        cmocka_unit_test(what_began_it_is_not_asked_again),
        cmocka_unit_test(safety_stands_by_itself),
        cmocka_unit_test(every_safety_sentence_is_said_whole),
        cmocka_unit_test(every_figure_names_its_unit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
