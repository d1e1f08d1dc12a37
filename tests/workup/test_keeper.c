/* The keeper: its ceiling, its order, and that nobody can tell what it kept
 * from what was made. */
#include "close.h"
#include "edited_case.h"
#include "random.h"

#include "workup/stages.h"
#include "workup/value.h"

#include <pthread.h>
#include <string.h>

static void the_ceiling_holds_and_what_was_dropped_is_made_again(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(300000);
    for (int i = 0; i < 6; i++) {
        struct edits edits = edits_plain;
        struct edited run;
        edits.slopes = i & 1 ? "[2, 4, 2.6]" : "[2, 4, 2.5]";
        edited_run_kept(&run, &edits, keeper);
        struct ht_keeper_figures figures = ht_keeper_figures(keeper);
        assert_true(figures.bytes <= figures.most_bytes);
        assert_true(figures.values > 0);
        assert_true(i == 0 || figures.dropped > 0);
        assert_as_new(&run, &edits);
        edited_free(&run);
    }
    ht_keeper_free(keeper);
}

/* Cases in turn: the one used last stays, the one used longest ago goes. */
static void the_longest_unused_goes_first(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edits a = edits_plain, b = edits_plain;
    struct edited run;
    b.tyre = "195/65R15";
    edited_run_kept(&run, &a, keeper);
    edited_free(&run);
    size_t one = ht_keeper_figures(keeper).bytes;
    edited_run_kept(&run, &b, keeper);
    edited_free(&run);
    size_t both = ht_keeper_figures(keeper).bytes;
    ht_keeper_free(keeper);
    keeper = ht_keeper_create(both);
    edited_run_kept(&run, &a, keeper);
    edited_free(&run);
    edited_run_kept(&run, &b, keeper);
    edited_free(&run);
    assert_int_equal(ht_keeper_figures(keeper).dropped, 0);
    edited_run_kept(&run, &a, keeper); /* now b is the older one */
    assert_made(&run, 0, "both fit");
    edited_free(&run);
    struct edits c = edits_plain;
    c.tyre = "225/45R17";
    edited_run_kept(&run, &c, keeper);
    edited_free(&run);
    assert_true(ht_keeper_figures(keeper).dropped > 0);
    edited_run_kept(&run, &a, keeper);
    assert_made(&run, 0, "the one used last");
    edited_free(&run);
    edited_run_kept(&run, &b, keeper);
    assert_int_equal(run.workup->stage[HT_STAGE_ORDERS].origin, HT_MADE);
    edited_free(&run);
    assert_true(one < both);
    ht_keeper_free(keeper);
}

static void a_workup_outlives_its_keeper(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edited made, kept;
    edited_run_kept(&made, &edits_plain, keeper);
    edited_run_kept(&kept, &edits_plain, keeper);
    ht_keeper_free(keeper);
    edited_free(&made);
    assert_as_new(&kept, &edits_plain);
    edited_free(&kept);
}

/* ---- values ------------------------------------------------------------ */

static size_t cleared;

static void count_clear(void *result)
{
    (void)result;
    cleared++;
}

static void a_value_goes_with_its_last_holder_and_what_leans_on_it(void **state)
{
    (void)state;
    struct ht_value *below = ht_value_create(8), *above = ht_value_create(8);
    assert_true(below && above);
    below->clear = above->clear = count_clear;
    above->leans_on = below;
    ht_value_hold(below);
    ht_value_hold(above);
    cleared = 0;
    ht_value_drop(below); /* the other one still leans on it */
    ht_value_drop(above);
    assert_int_equal(cleared, 0);
    ht_value_drop(above);
    assert_int_equal(cleared, 2);
    ht_value_drop(NULL);
}

static void *hold_and_drop(void *value)
{
    for (int i = 0; i < 1000000; i++) {
        ht_value_hold(value);
        ht_value_drop(value);
    }
    return NULL;
}

/* Workups are freed in any thread; a plain count would lose some steps. */
static void holders_are_counted_right_in_several_threads(void **state)
{
    (void)state;
    struct ht_value *value = ht_value_create(8);
    pthread_t thread[4];
    assert_non_null(value);
    value->clear = count_clear;
    cleared = 0;
    for (int i = 0; i < 4; i++)
        assert_int_equal(pthread_create(&thread[i], NULL, hold_and_drop,
                                        value), 0);
    for (int i = 0; i < 4; i++)
        assert_int_equal(pthread_join(thread[i], NULL), 0);
    assert_int_equal(cleared, 0);
    assert_int_equal(atomic_load(&value->holders), 1);
    ht_value_drop(value);
    assert_int_equal(cleared, 1);
}

/* The ranking shows the catalogue's texts, the placed recording the samples
 * of the decoded one: neither may go before. */
static void what_points_into_another_value_leans_on_it(void **state)
{
    (void)state;
    static const struct {
        enum ht_stage from, to;
    } leans[] = { { HT_STAGE_RANKING, HT_STAGE_CATALOGUE },
                  { HT_STAGE_PLACE, HT_STAGE_RECORDING } };
    struct edited run;
    edited_run_kept(&run, &edits_plain, NULL);
    for (size_t i = 0; i < 2; i++) {
        struct ht_value *to = run.workup->held[leans[i].to];
        assert_ptr_equal(run.workup->held[leans[i].from]->leans_on, to);
        assert_int_equal(atomic_load(&to->holders), 2);
    }
    edited_free(&run);
}

static bool hash_nothing(struct ht_digest *digest, const void *request)
{
    (void)digest;
    (void)request;
    return true;
}

static enum ht_status make_nothing(void *result, const void *request,
                                   struct ht_error *err)
{
    (void)result;
    (void)request;
    (void)err;
    return HT_OK;
}

/* Whatever else it uses, and in whichever order the stages are listed. */
static void a_value_leans_on_the_stage_that_it_names(void **state)
{
    (void)state;
    static const enum ht_stage used[] = { HT_STAGE_PARTS, HT_STAGE_FINDINGS,
                                          HT_STAGE_CATALOGUE };
    for (size_t i = 0; i < 4; i++) {
        struct stage_kind kind = {
            .stage = HT_STAGE_RANKING, .size = 8, .hash = hash_nothing,
            .uses = USES(PARTS) | USES(FINDINGS) | USES(CATALOGUE),
            .leans = i < 3 ? 1u << used[i] : 0, .make = make_nothing
        };
        struct ht_workup workup = { .sheet = NULL };
        const struct ht_workup_options options = { .folder = NULL };
        const struct stage stage = { &workup, NULL, &options, NULL, NULL };
        const void *result;
        for (size_t u = 0; u < 3; u++)
            assert_non_null(workup.held[used[u]] = ht_value_create(8));
        assert_int_equal(ht_stage_get(&stage, &kind, NULL, &result), HT_OK);
        assert_ptr_equal(workup.held[HT_STAGE_RANKING]->leans_on,
                         i < 3 ? workup.held[used[i]] : NULL);
        ht_workup_free(&workup);
    }
}

/* ---- property ---------------------------------------------------------- */

/* Values for each field; the first is the edits_plain one's. */
#define OF(field) offsetof(struct edits, field)
static const struct {
    size_t at;
    const char *value[5];
} choices[] = {
    { OF(title), { "t", "another" } },
    { OF(tyre), { "205/55R16", "195/65R15", "225/45R17" } },
    { OF(gear), { "gear: 5", "gear: 4", "name: unknown gear" } },
    { OF(top_speed), { "150", "190", "90" } },
    { OF(slopes), { "[2, 4, 2.5]", "[2, 4, -0]", "[2, [4, 4.1], 0]" } },
    { OF(limits), { "car", "{joint_max_deg: 2}", "light_truck" } },
    { OF(recording), { "drive.wav", "renamed.wav" } },
    { OF(unit), { "m/s2", "g" } },
    { OF(place), { "seat_rail", "floor", "dash", "other" } },
    { OF(speed), { "speed.csv", "{steady_km_h: 95}",
                   "{file: speed.csv, column: speed_kmh}" } },
    { OF(complaint), { "throttle: same", "throttle: worse, felt: seat",
                       "speed_km_h: 90",
                       "measured: {hz: 70, speed_km_h: 80}" } },
    { OF(checks), { "seen: []", "seen: [dent]", "sound: [mounts, bushes]",
                    "runout_mm: {tyre_radial: 2}" } },
    { OF(next), { "tools: []", "tools: [dial_gauge]", "lawful_km_h: 60" } },
    { OF(safety), { "done", "failed" } },
    { OF(class), { "car", "van", "heavy_truck" } },
};

static void change_something(struct edits *edits, struct random_source *random)
{
    size_t count = sizeof choices / sizeof choices[0];
    size_t which = random_bits(random) % count, values = 0;
    while (values < 5 && choices[which].value[values])
        values++;
    edits_set(edits, choices[which].at,
              choices[which].value[random_bits(random) % values]);
}

static void nobody_can_tell_a_kept_result_from_a_new_one(void **state)
{
    (void)state;
    enum { STEPS = 30, SEED = 20261125 };
    struct random_source random = { SEED };
    /* room for about two cases: some values are dropped on the way */
    struct ht_keeper *keeper = ht_keeper_create(1200000);
    struct edits edits = edits_plain;
    for (int step = 0; step < STEPS; step++) {
        struct edited run;
        change_something(&edits, &random);
        if (step & 1)
            change_something(&edits, &random);
        edited_run_kept(&run, &edits, keeper);
        assert_as_new(&run, &edits);
        edited_free(&run);
    }
    struct ht_keeper_figures figures = ht_keeper_figures(keeper);
    print_message("%zu values found, %zu not, %zu dropped\n", figures.found,
                  figures.missed, figures.dropped);
    assert_true(figures.found > 100 && figures.dropped > 0);
    ht_keeper_free(keeper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ceiling_holds_and_what_was_dropped_is_made_again),
        cmocka_unit_test(the_longest_unused_goes_first),
        cmocka_unit_test(a_workup_outlives_its_keeper),
        cmocka_unit_test(
            a_value_goes_with_its_last_holder_and_what_leans_on_it),
        cmocka_unit_test(holders_are_counted_right_in_several_threads),
        cmocka_unit_test(what_points_into_another_value_leans_on_it),
        cmocka_unit_test(a_value_leans_on_the_stage_that_it_names),
        cmocka_unit_test(nobody_can_tell_a_kept_result_from_a_new_one),
    };
    return cmocka_run_group_tests(tests, edited_begin, edited_end);
}
