/* The checks worth making next: safe, feasible, and true to their word. */
#include "made_case.h"

#include "causes/ranking.h"

static struct made_case made;

#define TRUCK                                                                  \
    "vehicle: {class: heavy_truck, drive: rear, gearbox: manual,"             \
    " mass_kg: 18000}\ncomplaint: {speed_km_h: 80}\n"

static const char *const cases[] = {
    "", MADE_VAN, MADE_VAN MADE_COMPLAINT,
    MADE_VAN "complaint: {speed_km_h: 90}\n",
    TRUCK,
    "vehicle: {class: car, drive: front}\ncomplaint: {felt: [seat]}\n",
    "setting: course\ncomplaint: {note: x}\n",
};
static const char *const failed[] = {
    "safety: {walk_round: failed}\n",
    "safety: {clips_refitted: no}\n",
    "checks: {seen: [loose_wheel_nuts]}\n",
    "checks: {seen: [loose_joint]}\n",
};

static void a_failed_walk_round_never_yields_a_drive(void **state)
{
    (void)state;
    size_t count;
    const struct ht_finding_kind *kinds = ht_finding_kinds(&count);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        for (size_t k = 0; k < sizeof failed / sizeof failed[0]; k++) {
            char text[2000];
            snprintf(text, sizeof text, "%s%s", cases[i], failed[k]);
            made_sheet(&made, text);
            made_rank(&made);
            assert_true(made.findings.no_drive);
            assert_in_range(made.ranking.safety_count, 1, 16);
            for (size_t n = 0; n < made.ranking.next_checks; n++)
                assert_false(
                    kinds[made.ranking.next[n].finding].needs_drive);
            made_free(&made);
        }
}

static void a_likely_cause_that_forbids_driving_stands_above_all(void **state)
{
    (void)state;
    bool said = false;
    made_sheet(&made, MADE_VAN MADE_COMPLAINT
               "checks: {seen: [loose_joint]}\n");
    made_rank(&made);
    double probability = made_probability(&made, "joint-worn");
    assert_true(probability >= 0.25);
    for (size_t i = 0; i < made.ranking.safety_count; i++)
        said = said || (strcmp(made.ranking.safety[i].id, "joint-worn") == 0 &&
                        strstr(made.ranking.safety[i].text,
                               " in 100. Do not drive with play"));
    assert_true(said);
    made_free(&made);
    made_sheet(&made, MADE_VAN MADE_COMPLAINT);
    made_rank(&made);
    assert_true(made_probability(&made, "joint-worn") < 0.25);
    for (size_t i = 0; i < made.ranking.safety_count; i++)
        assert_string_not_equal(made.ranking.safety[i].id, "joint-worn");
    made_free(&made);
}

/* Every answer of the next check may come true; the walk-round is done. */
static void heavy_vehicles_are_never_coasted(void **state)
{
    (void)state;
    made_sheet(&made, TRUCK);
    made_rank(&made);
    for (size_t n = 0; n < made.ranking.next_checks; n++)
        assert_string_not_equal(made.ranking.next[n].id, "neutral-coast");
    made_free(&made);
    made_sheet(&made, "vehicle: {class: car, drive: front}\n"
                      "complaint: {speed_km_h: 80}\n"
                      "next: {lawful_km_h: 70}\n");
    made_rank(&made);
    bool coasts = false;
    for (size_t n = 0; n < made.ranking.next_checks; n++) {
        if (strcmp(made.ranking.next[n].id, "neutral-coast") != 0)
            continue;
        coasts = true;
        assert_non_null(
            strstr(made.ranking.next[n].how, "No faster than 70 km/h"));
    }
    assert_true(coasts);
    made_free(&made);
}

/* The number in the sentence is what the program says once it is answered. */
static void an_outcome_comes_true(void **state)
{
    (void)state;
    made_sheet(&made, MADE_VAN MADE_COMPLAINT);
    made_lines(&made, made_strong_2x_shaft, 6);
    made_rank(&made);
    bool met = false;
    for (size_t n = 0; n < made.ranking.next_checks; n++) {
        if (strcmp(made.ranking.next[n].id, "torn_centre_rubber") != 0)
            continue;
        met = true;
        char sentence[160], wanted[40];
        snprintf(sentence, sizeof sentence, "%s",
                 made.ranking.next[n].outcome[0]);
        made_free(&made);
        made_sheet(&made,
                   MADE_VAN MADE_COMPLAINT
                   "checks: {sound: [centre_rubber]}\n");
        made_lines(&made, made_strong_2x_shaft, 6);
        made_rank(&made);
        snprintf(wanted, sizeof wanted, " %d in 100",
                 ht_in_100(made_probability(&made, "centre-support")));
        assert_non_null(strstr(sentence, "centre support is loose"));
        assert_non_null(strstr(sentence, wanted));
        break;
    }
    assert_true(met);
    made_free(&made);
}

static void gains_are_positive_and_best_first(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        made_sheet(&made, cases[i]);
        made_rank(&made);
        const struct ht_next_check *next = made.ranking.next;
        for (size_t n = 0; n < made.ranking.next_checks; n++) {
            assert_true(next[n].gain_nats > 0);
            if (n)
                assert_true(next[n].gain_nats / next[n].minutes <=
                            next[n - 1].gain_nats / next[n - 1].minutes);
        }
        made_free(&made);
    }
}

/* For a reader: HALFTURN_PRINT=1 prints rankings instead of testing them. */
static int print_cases(void)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        made_sheet(&made, cases[i]);
        if (i > 0)
            made_lines(&made, i % 2 ? made_healthy : made_strong_2x_shaft, 6);
        made_rank(&made);
        made_print(&made);
        made_free(&made);
    }
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_failed_walk_round_never_yields_a_drive),
        cmocka_unit_test(
            a_likely_cause_that_forbids_driving_stands_above_all),
        cmocka_unit_test(heavy_vehicles_are_never_coasted),
        cmocka_unit_test(an_outcome_comes_true),
        cmocka_unit_test(gains_are_positive_and_best_first),
    };
    if (getenv("HALFTURN_PRINT"))
        return print_cases();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
