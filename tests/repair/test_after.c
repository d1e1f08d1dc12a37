/* Readings after the repair. */
#include "shims_case.h"

#define TWO_SETS(after_)                                                       \
    "angles:\n"                                                                \
    "  - {name: first, when: before, suspension: wheels_on_ground, gauge: "    \
    "{accuracy_deg: 0.1, step_deg: 0.05, set_up_deg: 0.15}, read_on: cap, "    \
    "slopes_deg: [2.1, 2.9, 5.0, 1.4], headings_deg: [0, 0, 0, 0]}\n"          \
    "  - {name: second, when: after, suspension: wheels_on_ground, gauge: "    \
    "{accuracy_deg: 0.1, step_deg: 0.05, set_up_deg: 0.15}, read_on: cap, "    \
    "slopes_deg: " after_ ", headings_deg: [0, 0, 0, 0]}\n"

/* 2.9 -> 2.9, 5.0 -> 4.62, 1.4 -> 3.4 by the triangles above. */
static void readings_after_the_repair_are_held_against_the_prediction(
    void **state)
{
    (void)state;
    static const struct {
        const char *yaml;
        bool as_predicted, reversed;
    } rows[] = {
        { READY TWO_SETS("[2.1, 2.9, 4.6, 3.4]"), true, false },
        { READY TWO_SETS("[2.1, 2.9, 5.4, -0.6]"), false, true },
        { READY TWO_SETS("[2.1, 2.9, 4.6, 5.4]"), false, false },
    };
    for (size_t i = 0; i < 3; i++) {
        char yaml[3000];
        struct fixture f;
        struct ht_shims_after after;
        struct ht_error err;
        snprintf(yaml, sizeof yaml, "%s%sfitted: {at: axle, turn_deg: 2}\n",
                 rows[i].yaml, CHECKS);
        plan_of(&f, yaml);
        assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_OK);
        assert_int_equal(after.all_as_predicted, rows[i].as_predicted);
        assert_int_equal(after.fits_reversed, rows[i].reversed);
        assert_close(after.reading[3].predicted_rad / DEG, 3.4, 0.01);
        assert_close(after.reading[2].predicted_rad / DEG, 4.62, 0.01);
        done_with(&f);
    }
}

/* The same wedge turned round: from -0.6 to 3.4, and the line is where it was
 * meant to be. Twice the turn, once the size. */
static void what_is_in_the_other_way_round_is_planned_to_be_turned(void **state)
{
    (void)state;
    static const struct {
        const char *after, *fitted;
        double turn_deg, lift_mm, slope_deg[4];
    } rows[] = {
        { TWO_SETS("[2.1, 2.9, 5.4, -0.6]"), "{at: axle, turn_deg: 2}", 4, 0,
          { 2.1, 2.9, 4.62, 3.4 } },
        /* 6 mm over 1040 mm to the support: 0.33; 6 * 1120/1040 mm over
         * 1310 mm: 0.28 */
        { TWO_SETS("[2.1, 2.57, 5.28, 3.4]"),
          "{at: centre_support, lift_mm: -6}", 0, -12,
          { 2.1, 3.23, 4.72, 3.4 } },
    };
    for (size_t i = 0; i < 2; i++) {
        char yaml[3000];
        struct fixture f;
        struct ht_shims_after after;
        struct ht_error err;
        snprintf(yaml, sizeof yaml, "%s%s%sfitted: %s\n", READY, rows[i].after,
                 CHECKS SHELF, rows[i].fitted);
        if (i == 1) /* before and after with the pinion right */
            memcpy(strstr(yaml, "5.0, 1.4"), "5.0, 3.4", 8);
        plan_of(&f, yaml);
        assert_true(says(&f, "holds no readings after it"));
        assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_OK);
        assert_true(after.said && after.fits_reversed);
        f.input.set_index = 1;
        f.input.after_fitted = true;
        f.input.reversed = &after.work[after.reversed];
        assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
        assert_true(says(&f, "comes on top of that") && f.shims.plans > 0);
        const struct ht_shim_plan *plan = &f.shims.plan[0];
        assert_int_equal(plan->works, 1);
        assert_true(plan->work[0].turned);
        assert_close(plan->work[0].turn_rad / DEG, rows[i].turn_deg, 1e-9);
        assert_close(plan->work[0].lift_m * 1000, rows[i].lift_mm, 1e-9);
        for (size_t m = 0; m < 4; m++)
            assert_close(plan->slope_rad[m].value / DEG, rows[i].slope_deg[m],
                         0.03); /* readings above are to 0.02, and the median */
        assert_true(plan->probability > f.shims.as_it_stands.probability);
        done_with(&f);
    }
}

/* Nothing on the shelf is needed to turn round what is in. */
static void turning_round_needs_no_shelf_but_has_to_help(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_error err;
    struct ht_shim_work wedge = { .place = HT_SHIM_AXLE, .turn_rad = 1 * DEG };
    plan_of(&f, READY ANGLES CHECKS);
    assert_true(says(&f, "Nothing is on the shelf"));
    f.input.reversed = &wedge;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_int_equal(f.shims.plans, 1);
    wedge.turn_rad = -1 * DEG;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_int_equal(f.shims.plans, 0);
    assert_true(says(&f, "does not make it likelier"));
    done_with(&f);
}

/* ---- the sheet does not say what was put in ------------------------------ */

static void what_was_put_in_is_guessed_where_nobody_says(void **state)
{
    (void)state;
    static const struct {
        const char *yaml;
        bool as_predicted, guessed;
        double turn_deg, lift_mm;
    } rows[] = {
        { READY TWO_SETS("[2.1, 2.9, 5.0, 1.4]") SHELF, true, false, 0, 0 },
        { READY TWO_SETS("[2.1, 2.9, 4.6, 3.4]") SHELF, true, true, 2, 0 },
        { READY TWO_SETS("[2.1, 2.9, 5.4, -0.6]") SHELF, true, true, -2, 0 },
        { READY TWO_SETS("[2.1, 2.35, 5.46, 1.4]") SHELF, true, true, 0, 10 },
        { READY TWO_SETS("[2.1, 3.23, 4.34, 3.4]") SHELF, true, true, 2, -6 },
        { READY TWO_SETS("[5.1, 2.9, 4.6, 3.4]") SHELF, false, false, 0, 0 },
        { READY TWO_SETS("[2.1, 2.9, 4.6, 3.4]"), false, false, 0, 0 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[3000];
        struct fixture f;
        struct ht_shims_after after;
        struct ht_error err;
        double turn_rad = 0, lift_m = 0;
        snprintf(yaml, sizeof yaml, "%s%s", rows[i].yaml, CHECKS);
        plan_of(&f, yaml);
        assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_OK);
        assert_false(after.said);
        assert_true(after.compared && !after.fits_reversed);
        assert_int_equal(after.all_as_predicted, rows[i].as_predicted);
        assert_int_equal(after.guessed, rows[i].guessed);
        for (size_t w = 0; w < after.works; w++) {
            turn_rad += after.work[w].turn_rad;
            lift_m += after.work[w].lift_m;
        }
        assert_close(turn_rad / DEG, rows[i].turn_deg, 1e-9);
        assert_close(lift_m * 1000, rows[i].lift_mm, 1e-9);
        done_with(&f);
    }
}

/* The chances are those of the plans that do nothing, one for each set. */
static void limits_before_and_after_are_those_of_each_set(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_shims_after after;
    struct ht_error err;
    plan_of(&f, READY TWO_SETS("[2.1, 2.9, 4.6, 3.4]") SHELF CHECKS);
    assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_OK);
    assert_close(after.kept_before, f.shims.as_it_stands.probability, 1e-12);
    f.input.set_index = 1;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_close(after.kept_after, f.shims.as_it_stands.probability, 1e-12);
    assert_true(after.kept_after > after.kept_before);
    done_with(&f);
}

static void angles_between_caps_are_held_to_the_limits_alone(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_shims_after after;
    struct ht_error err;
    plan_of(&f, READY CHECKS
            "angles:\n"
            "  - {name: a, suspension: wheels_on_ground, "
            "slopes_deg: [2, 3, 4, 1]}\n"
            "  - {name: b, suspension: wheels_on_ground, "
            "joints_deg: [1, 1, -1]}\n");
    assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_OK);
    assert_false(after.compared || after.said || after.guessed);
    assert_true(after.kept_after > after.kept_before);
    done_with(&f);
}

static void what_was_put_in_must_have_a_place_and_a_size(void **state)
{
    (void)state;
    static const char *const fitted[] = {
        "fitted: {at: axle, lift_mm: 2}\n",
        "fitted: {at: centre_support, support: 2, lift_mm: 2}\n",
        "fitted: {at: slip_spline, teeth: 1}\n",
    };
    for (size_t i = 0; i < 3; i++) {
        char yaml[3000];
        struct fixture f;
        struct ht_shims_after after;
        struct ht_error err;
        snprintf(yaml, sizeof yaml, "%s%s", READY TWO_SETS("[2, 3, 4, 3]")
                 CHECKS, fitted[i]);
        plan_of(&f, yaml);
        assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err),
                         HT_BAD_FILE);
        assert_non_null(strstr(err.text, "does not fit this driveline"));
        assert_int_equal(after.works, 0);
        done_with(&f);
    }
}

static void other_members_after_the_repair_are_not_compared(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_shims_after after;
    struct ht_error err;
    plan_of(&f, "halfturn: 1\n" CHECKS
            "fitted: {at: axle, turn_deg: 1}\nangles:\n"
            "  - {name: a, when: before, slopes_deg: [2, 3, 4]}\n"
            "  - {name: b, when: after, joints_deg: [1, 1]}\n");
    assert_int_equal(ht_shims_compare(&after, &f.input, 1, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "Read the same members again"));
    done_with(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            readings_after_the_repair_are_held_against_the_prediction),
        cmocka_unit_test(
            what_is_in_the_other_way_round_is_planned_to_be_turned),
        cmocka_unit_test(turning_round_needs_no_shelf_but_has_to_help),
        cmocka_unit_test(what_was_put_in_is_guessed_where_nobody_says),
        cmocka_unit_test(limits_before_and_after_are_those_of_each_set),
        cmocka_unit_test(angles_between_caps_are_held_to_the_limits_alone),
        cmocka_unit_test(what_was_put_in_must_have_a_place_and_a_size),
        cmocka_unit_test(other_members_after_the_repair_are_not_compared),
    };
    return cmocka_run_group_tests(tests, read_the_limits, NULL);
}
