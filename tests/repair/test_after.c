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
            "angles:\n"
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
        cmocka_unit_test(what_was_put_in_must_have_a_place_and_a_size),
        cmocka_unit_test(other_members_after_the_repair_are_not_compared),
    };
    return cmocka_run_group_tests(tests, read_the_limits, NULL);
}
