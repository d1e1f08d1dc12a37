/* Several drivelines: to each its axle, its ride height, its shelf. */
#include "shims_case.h"

/* A front shaft and a rear shaft; what is in place of %s stands first in each.
 */
#define FOUR_BY_FOUR                                                           \
    "halfturn: 1\nlimits: light_truck\nvehicle: {drive: all, axle: {kind: "    \
    "rigid, steered: no}}\ndriveline:\n"                                       \
    "  - {%sname: front, to: front axle, driven_from: rear, "                  \
    "members: [pinion, shaft, case]}\n"                                        \
    "  - {%sname: rear, to: rear axle, members: [case, shaft, pinion]}\n"      \
    "angles:\n"                                                                \
    "  - {driveline: front, suspension: wheels_on_ground, slopes_deg: "        \
    "[-1, -5, -2]}\n"                                                          \
    "  - {driveline: rear, suspension: wheels_on_ground, slopes_deg: "         \
    "[2, 5, 1]}\n"

static bool plans_a_wedge(const struct ht_shims *shims)
{
    for (size_t p = 0; p < shims->plans; p++)
        for (size_t w = 0; w < shims->plan[p].works; w++)
            if (shims->plan[p].work[w].place == HT_SHIM_AXLE)
                return true;
    return false;
}

/* The vehicle's axle is that of the first line that does not lead to a front
 * axle; an axle of the line's own comes before it. A note that is NULL: there
 * is a wedge. */
static void each_driveline_has_its_own_axle(void **state)
{
    (void)state;
    static const char *const unknown = "this driveline's axle";
    static const struct {
        const char *front, *rear, *notes[2];
    } rows[] = {
        { "", "", { "No wedge at a front axle until", NULL } },
        { "axle: {steered: yes}, ", "", { "under a steered axle", NULL } },
        { "axle: {steered: no}, ", "", { NULL, NULL } },
        { "axle: {steered: no, kind: independent}, ", "",
          { "held by the body", NULL } },
        { "", "axle: {steered: yes}, ",
          { "No wedge at a front axle", "under a steered axle" } },
        { "axle: {steered: no}, ", "axle: {kind: independent}, ",
          { NULL, "held by the body" } },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[3000];
        struct fixture f;
        struct ht_error err;
        snprintf(yaml, sizeof yaml,
                 FOUR_BY_FOUR CHECKS "shims: [{at: axle, kind: wedge, "
                                     "steps_deg: [1, 2, 3, 4]}, {at: "
                                     "gearbox_mount, kind: plate, steps_mm: "
                                     "[3]}]\n",
                 rows[i].front, rows[i].rear);
        plan_of(&f, yaml);
        for (size_t line = 0; line < 2; line++) {
            const char *note = rows[i].notes[line];
            f.input.driveline_index = f.input.set_index = line;
            assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
            assert_int_equal(plans_a_wedge(&f.shims), note == NULL);
            assert_true(!note || says(&f, note));
            assert_false(says(&f, unknown));
        }
        done_with(&f);
    }
}

static void a_second_rear_axle_speaks_for_itself(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_error err;
    plan_of(&f, "halfturn: 1\nlimits: light_truck\n"
                "vehicle: {axle: {kind: rigid, steered: no, "
                "pinion_to_axle_mm: 250}}\n"
                "driveline: [{name: first, members: [a, b, c]}, "
                "{name: second, members: [a, b, c]}]\n"
                "angles: [{driveline: first, suspension: wheels_on_ground, "
                "slopes_deg: [2, 5, 1]}, {driveline: second, suspension: "
                "wheels_on_ground, slopes_deg: [2, 5, 1]}]\n" CHECKS SHELF);
    assert_true(plans_a_wedge(&f.shims));
    assert_false(says(&f, "pinion joint to wheel axis"));
    f.input.driveline_index = f.input.set_index = 1;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_false(plans_a_wedge(&f.shims));
    assert_true(says(&f, "this driveline's axle is not steered"));
    done_with(&f);
}

static void each_axle_has_its_own_ride_height(void **state)
{
    (void)state;
    static const struct {
        const char *own, *refusal;
    } rows[] = {
        { "", "21\302\240mm off" },
        { "ride_height_mm: {measured: 405, maker: 400}, ", NULL },
        { "ride_height_mm: {measured: 410, maker: 400}, ", NULL },
        { "ride_height_mm: {measured: 388, maker: 400}, ",
          "12\302\240mm off" },
        { "ride_height_mm: {measured: 388}, ", "both (driveline" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[3000];
        struct fixture f;
        snprintf(yaml, sizeof yaml,
                 FOUR_BY_FOUR "checks: {sound: [springs, bushes, mounts], "
                              "ride_height_mm: {measured: [421, 400], maker: "
                              "[400, 400]}}\n" SHELF,
                 rows[i].own, "");
        plan_of(&f, yaml);
        assert_true(!rows[i].refusal || says(&f, rows[i].refusal));
        assert_int_equal(says(&f, "ide height"), rows[i].refusal != NULL);
        done_with(&f);
    }
}

/* A row for one line is not tried, and not spoken of, at the other. */
static void a_shelf_may_be_for_one_driveline(void **state)
{
    (void)state;
    struct fixture f;
    struct ht_error err;
    char yaml[3000];
    snprintf(yaml, sizeof yaml,
             FOUR_BY_FOUR CHECKS "shims: [{driveline: rear, at: axle, kind: "
                                 "wedge, steps_deg: [1]}, {driveline: rear, "
                                 "at: axle, kind: plate, steps_mm: [1]}, {at: "
                                 "axle, kind: wedge, steps_deg: [2]}]\n"
                                 "fitted: {driveline: rear, at: axle, "
                                 "turn_deg: 1}\n",
             "axle: {steered: no}, ", "");
    plan_of(&f, yaml);
    assert_int_equal(f.shims.combinations, 3);
    assert_false(says(&f, "ntry 2 of shims") || says(&f, "(fitted)"));
    f.input.driveline_index = f.input.set_index = 1;
    assert_int_equal(ht_shims_plan(&f.shims, &f.input, &err), HT_OK);
    assert_int_equal(f.shims.combinations, 5);
    assert_true(says(&f, "ntry 2 of shims") && says(&f, "(fitted)"));
    done_with(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_driveline_has_its_own_axle),
        cmocka_unit_test(a_second_rear_axle_speaks_for_itself),
        cmocka_unit_test(each_axle_has_its_own_ride_height),
        cmocka_unit_test(a_shelf_may_be_for_one_driveline),
    };
    return cmocka_run_group_tests(tests, read_the_limits, NULL);
}
