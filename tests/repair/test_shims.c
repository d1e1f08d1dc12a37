/* Plans: what comes first, and what is said. */
#include "shims_case.h"

/* ---- what comes first -------------------------------------------------- */

static void nothing_is_planned_before_the_vehicle_stands_right(void **state)
{
    (void)state;
    static const struct {
        const char *yaml, *first;
    } rows[] = {
        { READY ANGLES SHELF, "Measure the ride height" },
        { READY ANGLES SHELF "checks: {sound: [springs, bushes, mounts], "
                             "ride_height_mm: {measured: [382, 421], maker: "
                             "[380, 400]}}\n",
          "21\302\240mm off the maker's figure" },
        { READY ANGLES SHELF "checks: {sound: [bushes], ride_height_mm: "
                             "{measured: [382, 401], maker: [380, 400]}}\n",
          "Missing: springs, mounts." },
        { READY ANGLES SHELF
          "checks: {sound: [springs, bushes, mounts], seen: "
          "[torn_centre_rubber, loose_joint], ride_height_mm: "
          "{measured: [382, 401], maker: [380, 400]}}\n",
          "a torn centre support, a loose joint" },
        { READY SHELF CHECKS "angles: {slopes_deg: [2.1, 2.9, 5, 1.4]}\n",
          "axle carrying the vehicle's weight" },
        { READY SHELF CHECKS "angles: {suspension: hanging, slopes_deg: "
                             "[2.1, 2.9, 5, 1.4]}\n",
          "The suspension hung" },
        { READY SHELF CHECKS "angles: {suspension: wheels_on_ground, "
                             "joints_deg: [0.8, 2.1, -3.6]}\n",
          "Read every member on its own" },
        { READY ANGLES CHECKS, "Nothing is on the shelf" },
        { READY ANGLES CHECKS "shims: {at: gearbox_mount, kind: wedge, "
                              "steps_deg: [1]}\n",
          "Nothing on the shelf goes into this driveline" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fixture f;
        plan_of(&f, rows[i].yaml);
        if (!says(&f, rows[i].first))
            fail_msg("row %zu: \"%s\" is not said but \"%s\"", i, rows[i].first,
                     f.shims.refusal[0]);
        assert_int_equal(f.shims.plans, 0);
        assert_true(f.shims.refusals > 0);
        done_with(&f);
    }
}

static void without_limits_there_is_nothing_to_plan_for(void **state)
{
    (void)state;
    struct fixture f;
    plan_of(&f, "halfturn: 1\n" ANGLES CHECKS SHELF);
    assert_true(says(&f, "Say which limits"));
    done_with(&f);
}

/* A wedge turns a steered axle's caster one for one (common practice, no
 * source), and where that is not known it is not risked. */
static void a_steered_axle_gets_no_wedge(void **state)
{
    (void)state;
    static const struct {
        const char *axle, *note;
    } rows[] = { { "{kind: rigid, steered: yes}", "under a steered axle" },
                 { "{kind: rigid}", "until the sheet says" },
                 { "{kind: independent, steered: no}", "held by the body" } };
    for (size_t i = 0; i < 3; i++) {
        char yaml[2000];
        struct fixture f;
        snprintf(yaml, sizeof yaml,
                 "halfturn: 1\nvehicle: {axle: %s}\nlimits: light_truck\n"
                 "driveline: {members: [gearbox, front shaft, rear shaft, "
                 "pinion]}\n" ANGLES CHECKS SHELF,
                 rows[i].axle);
        plan_of(&f, yaml);
        assert_true(says(&f, rows[i].note));
        for (size_t p = 0; p < f.shims.plans; p++)
            for (size_t w = 0; w < f.shims.plan[p].works; w++)
                assert_int_not_equal(f.shims.plan[p].work[w].place,
                                     HT_SHIM_AXLE);
        done_with(&f);
    }
}

/* The `axle` of the sheet is the rear one: a front axle, by the name of what is
 * turned or, without one, by its place on a vehicle that drives all wheels,
 * gets no wedge however that key reads. A rear engine's axle in front of its
 * gearbox does. */
static void a_front_axle_gets_no_wedge(void **state)
{
    (void)state;
    static const struct {
        const char *drive, *line;
        bool refused;
    } rows[] = { { "all", "to: front axle, driven_from: rear, ", true },
                 { "all", "driven_from: rear, ", true },
                 { "rear", "to: front axle, ", true },
                 { "rear", "to: rear axle, driven_from: rear, ", false },
                 { "rear", "driven_from: rear, ", false },
                 { "all", "to: rear axle, ", false } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[2000];
        struct fixture f;
        snprintf(yaml, sizeof yaml,
                 "halfturn: 1\nvehicle: {drive: %s, axle: {kind: rigid, "
                 "steered: no}}\nlimits: light_truck\n"
                 "driveline: {%smembers: [gearbox, front shaft, rear shaft, "
                 "pinion]}\n" ANGLES CHECKS SHELF,
                 rows[i].drive, rows[i].line);
        plan_of(&f, yaml);
        assert_int_equal(says(&f, "No wedge at a front axle"),
                         rows[i].refused);
        for (size_t p = 0; p < f.shims.plans; p++)
            for (size_t w = 0; w < f.shims.plan[p].works; w++)
                if (rows[i].refused)
                    assert_int_not_equal(f.shims.plan[p].work[w].place,
                                         HT_SHIM_AXLE);
        done_with(&f);
    }
}

/* ---- the shelf ---------------------------------------------------------- */

/* What goes nowhere is said, whether or not there is a plan, once for each
 * row; what is right is not spoken of. */
static void what_goes_nowhere_is_said(void **state)
{
    (void)state;
    static const struct {
        const char *row, *note;
    } rows[] = {
        { "{at: axle, kind: plate, steps_mm: [3]}", "tilts nothing" },
        { "{at: gearbox_mount, kind: wedge, steps_deg: [1]}",
          "Wedges go under the axle" },
        { "{at: centre_support, kind: wedge, steps_deg: [1]}",
          "Wedges go under the axle" },
        { "{at: axle, kind: wedge}", "steps_deg: [1, 2]" },
        { "{at: axle, kind: wedge, steps_deg: []}", "steps_deg: [1, 2]" },
        { "{at: axle, kind: wedge, steps_mm: [3]}", "steps_deg: [1, 2]" },
        { "{at: gearbox_mount, kind: plate}", "steps_mm: [3, 5]" },
        { "{at: axle, steps_deg: [1]}", "does not say what it is" },
        { "{kind: plate, steps_mm: [1]}", "does not say where it goes" },
        { "{at: axle, kind: wedge, steps_deg: [9], steps_mm: [1]}",
          "its steps_mm are not used" },
        { "{at: gearbox_mount, kind: plate, steps_mm: [50], steps_deg: [1]}",
          "its steps_deg are not used" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (int ready = 0; ready < 2; ready++) {
            char yaml[3000];
            struct fixture f;
            snprintf(yaml, sizeof yaml,
                     READY ANGLES "%sshims: [{at: centre_support, kind: "
                                  "plate, steps_mm: [3]}, %s]\n",
                     ready ? CHECKS : "", rows[i].row);
            plan_of(&f, yaml);
            assert_int_equal(f.shims.refusals == 0, ready);
            assert_true(says(&f, rows[i].note));
            assert_true(says(&f, "ntry 2 of shims"));
            assert_false(says(&f, "ntry 1 of shims"));
            done_with(&f);
        }
}

/* 1, 2 and 3 mm, of which 1 and 2 make 3 and 1 and 3 make 4, 2 and 3 make 5:
 * five lifts, each up and down. Two of a size that is there twice go on each
 * other. */
static void an_amount_is_tried_once_with_the_fewest_pieces(void **state)
{
    (void)state;
    static const struct {
        const char *steps;
        size_t combinations;
    } rows[] = { { "[3, 1, 2]", 11 }, { "[5]", 3 }, { "[5, 5]", 5 },
                 { "[5, 5, 5]", 5 } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[3000];
        struct fixture f;
        snprintf(yaml, sizeof yaml, READY ANGLES CHECKS
                 "shims: {at: centre_support, kind: plate, steps_mm: %s}\n",
                 rows[i].steps);
        plan_of(&f, yaml);
        assert_int_equal(f.shims.combinations, rows[i].combinations);
        for (size_t p = 0; p < f.shims.plans; p++)
            if (fabs(fabs(f.shims.plan[p].work[0].lift_m) - 0.003) < 1e-9)
                assert_close(f.shims.plan[p].work[0].plate_m[1], 0, 0);
        done_with(&f);
    }
}

/* 20 rows of 40 plates: as many as a sheet holds. */
static void every_size_of_a_full_shelf_is_tried(void **state)
{
    (void)state;
    static char yaml[16000];
    struct fixture f;
    int used = snprintf(yaml, sizeof yaml, READY ANGLES CHECKS "shims:\n");
    for (int r = 0; r < 20; r++) {
        used += snprintf(yaml + used, sizeof yaml - (size_t)used,
                         "  - {at: centre_support, kind: plate, steps_mm: [");
        for (int k = 0; k < 40; k++)
            used += snprintf(yaml + used, sizeof yaml - (size_t)used, "%s%g",
                             k ? ", " : "", 0.1 * (40 * r + k + 1));
        used += snprintf(yaml + used, sizeof yaml - (size_t)used, "]}\n");
    }
    plan_of(&f, yaml);
    /* 0.1 to 80 mm, and by two on each other up to 79.9 + 80 mm */
    assert_int_equal(f.shims.combinations, 2 * 1599 + 1);
    done_with(&f);
}

/* ---- what is said ------------------------------------------------------ */

static void more_work_is_shown_only_where_it_is_likelier_to_do(void **state)
{
    (void)state;
    struct fixture f;
    plan_of(&f, READY ANGLES CHECKS SHELF);
    assert_int_equal(f.shims.refusals, 0);
    assert_true(f.shims.plans > 0);
    double before = f.shims.as_it_stands.probability, minutes = 0;
    for (size_t p = 0; p < f.shims.plans; p++) {
        const struct ht_shim_plan *plan = &f.shims.plan[p];
        assert_true(plan->minutes >= minutes);
        assert_true(plan->probability > before);
        assert_true(plan->probability <= plan->weakest_probability + 1e-12);
        before = plan->probability;
        minutes = plan->minutes;
    }
    done_with(&f);
}

/* Without lengths the same work tells less about the rear shaft's slope. */
/* A better line can always be had; work is advised only where it is needed. */
static void nothing_is_advised_where_every_limit_is_kept(void **state)
{
    (void)state;
    static struct fixture f;
    plan_of(&f, READY CHECKS SHELF
            "angles: {suspension: wheels_on_ground, gauge: {accuracy_deg: 0.1, "
            "step_deg: 0.05, set_up_deg: 0.15}, read_on: cap, "
            "slopes_deg: [0, 1, 2, 3], headings_deg: [0, 0, 0, 0]}\n");
    assert_true(f.shims.as_it_stands.probability >= 0.95);
    assert_true(f.shims.needs_nothing);
    assert_int_equal(f.shims.plans, 0);
    done_with(&f);
    plan_of(&f, READY ANGLES CHECKS SHELF);
    assert_false(f.shims.needs_nothing);
    assert_true(f.shims.plans > 0);
    done_with(&f);
}

static void a_length_that_was_not_measured_widens_the_answer(void **state)
{
    (void)state;
    struct fixture known, unknown;
    plan_of(&known, READY ANGLES CHECKS
            "shims: {at: axle, kind: wedge, steps_deg: [2]}\n");
    plan_of(&unknown,
            "halfturn: 1\nvehicle: {axle: {kind: rigid, steered: no}}\n"
            "driveline: {members: [gearbox, front shaft, rear shaft, pinion]}\n"
            "limits: light_truck\n" ANGLES CHECKS
            "shims: {at: axle, kind: wedge, steps_deg: [2]}\n");
    assert_true(known.shims.plans > 0 && unknown.shims.plans > 0);
    assert_false(says(&known, "Not measured"));
    assert_true(says(&unknown, "pinion joint to wheel axis"));
    const struct ht_estimate *a = &known.shims.plan[0].slope_rad[2];
    const struct ht_estimate *b = &unknown.shims.plan[0].slope_rad[2];
    assert_true(b->high - b->low > a->high - a->low);
    done_with(&known);
    done_with(&unknown);
}

static void a_wedge_is_predicted_where_the_triangles_put_it(void **state)
{
    (void)state;
    struct fixture f;
    plan_of(&f, READY ANGLES CHECKS
            "shims: {at: axle, kind: wedge, steps_deg: [2]}\n");
    const struct ht_shim_plan *plan = &f.shims.plan[0];
    assert_int_equal(plan->works, 1);
    assert_close(plan->work[0].turn_rad / DEG, 2, 1e-12);
    assert_close(plan->slope_rad[3].value / DEG, 1.4 + 2, 0.01);
    /* 250 mm * (sin 3.4 - sin 1.4) = 8.72 mm over 1310 mm: 0.38 */
    assert_close(plan->slope_rad[2].value / DEG, 5.0 - 0.38, 0.01);
    assert_close(plan->slope_rad[1].value / DEG, 2.9, 0.01);
    done_with(&f);
}

/* The angles that are held to a limit are those to expect; what is left over
 * and the shake passed to the axle are one figure: 4 w^2 tan^2(b/2)
 * (docs/angles.md). */
static void what_is_held_to_a_limit_is_what_is_to_be_expected(void **state)
{
    (void)state;
    struct fixture f;
    plan_of(&f, READY ANGLES CHECKS SHELF);
    const struct ht_shim_plan *plan = &f.shims.plan[f.shims.advised];
    size_t joints = 0, shakes = 0;
    double least = 1;
    for (size_t i = 0; i < f.shims.limit_count; i++) {
        const struct ht_shim_limit *limit = &f.shims.limit[i];
        const struct ht_shim_held *held = &plan->held[i];
        least = fmin(least, held->probability);
        if (limit->about == HT_RULE_JOINT) {
            const struct ht_estimate *bend = &plan->joint_rad[limit->joint];
            assert_memory_equal(&held->value, bend, sizeof *bend);
            joints++;
        } else if (limit->about == HT_RULE_AXLE) {
            double bend = plan->leftover_rad.value;
            double shake = 4 * 250.0 * 250.0 * pow(tan(bend / 2), 2);
            assert_close(held->value.value / shake, 1, 1e-3);
            assert_true(held->value.low < held->value.value &&
                        held->value.value < held->value.high);
            shakes++;
        }
    }
    assert_int_equal(joints, 6); /* three joints, each a most and a least */
    assert_int_equal(shakes, 1);
    assert_close(least, plan->weakest_probability, 0);
    done_with(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_planned_before_the_vehicle_stands_right),
        cmocka_unit_test(without_limits_there_is_nothing_to_plan_for),
        cmocka_unit_test(a_steered_axle_gets_no_wedge),
        cmocka_unit_test(a_front_axle_gets_no_wedge),
        cmocka_unit_test(what_goes_nowhere_is_said),
        cmocka_unit_test(an_amount_is_tried_once_with_the_fewest_pieces),
        cmocka_unit_test(every_size_of_a_full_shelf_is_tried),
        cmocka_unit_test(more_work_is_shown_only_where_it_is_likelier_to_do),
        cmocka_unit_test(nothing_is_advised_where_every_limit_is_kept),
        cmocka_unit_test(a_length_that_was_not_measured_widens_the_answer),
        cmocka_unit_test(a_wedge_is_predicted_where_the_triangles_put_it),
        cmocka_unit_test(what_is_held_to_a_limit_is_what_is_to_be_expected),
    };
    return cmocka_run_group_tests(tests, read_the_limits, NULL);
}
