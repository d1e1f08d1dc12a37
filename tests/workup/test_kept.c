/* What an edit makes anew and what it does not, and the keys that say so. */
#include "close.h"
#include "edited_case.h"

#include "workup/digest.h"

#include <stdio.h>
#include <string.h>

/* ---- what an edit makes anew ------------------------------------------- */

static void a_case_unchanged_makes_nothing_again(void **state)
{
    (void)state;
    struct ht_keeper *keeper = ht_keeper_create(100u << 20);
    struct edited first, second;
    edited_run_kept(&first, &edits_plain, keeper);
    edited_run_kept(&second, &edits_plain, keeper);
    unsigned all = edited_stages(&first, HT_MADE);
    assert_int_equal(edited_stages(&first, HT_KEPT), 0);
    assert_int_equal(all, ((1u << HT_STAGES) - 1) & ~(BIT(GEAR) | BIT(SHIMS)));
    assert_int_equal(edited_stages(&second, HT_KEPT), all);
    assert_told_alike(&first, &second);
    assert_as_new(&second, &edits_plain);
    edited_free(&first);
    edited_free(&second);
    ht_keeper_free(keeper);
}

#define EDIT(field, value)                                                     \
    #field ": " value, offsetof(struct edits, field), value
static const struct {
    const char *what;
    size_t at;
    const char *value;
    unsigned made;
} edited[] = {
    { EDIT(title, "another"), 0 },
    { EDIT(complaint, "throttle: worse"), FROM_FINDINGS },
    { EDIT(complaint, "throttle: same, speed_km_h: [60, 90], note: n"),
      FROM_FINDINGS },
    { EDIT(checks, "seen: [dent]"), FROM_FINDINGS },
    { EDIT(checks, "sound: [mounts], runout_mm: {shaft_front: 0.2}"),
      FROM_FINDINGS },
    { EDIT(next, "tools: [dial_gauge], lawful_km_h: 90"), BIT(RANKING) },
    { EDIT(safety, "failed"), FROM_FINDINGS },
    { EDIT(slopes, "[2, 4, 2.6]"), FROM_ANGLES | FROM_FINDINGS },
    { EDIT(limits, "light_truck"), FROM_ANGLES | FROM_FINDINGS },
    { EDIT(tyre, "195/65R15"), BIT(PARTS) | FROM_ANGLES | FROM_SPEED },
    { EDIT(gear, "gear: 4"), BIT(PARTS) | FROM_SPEED },
    { EDIT(class, "van"), BIT(PARTS) | FROM_SPEED },
    { EDIT(top_speed, "90"), BIT(PARTS) | FROM_ANGLES | FROM_RECORDING },
    { EDIT(place, "floor"), BIT(PLACE) | FROM_ORDERS },
    { EDIT(unit, "g"), FROM_RECORDING },
    { EDIT(speed, "{steady_km_h: 95}"), FROM_SPEED },
};

static void an_edit_makes_anew_only_what_reads_it(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof edited / sizeof edited[0]; i++) {
        struct ht_keeper *keeper = ht_keeper_create(100u << 20);
        struct edits edits = edits_plain;
        struct edited before, after;
        edits_set(&edits, edited[i].at, edited[i].value);
        edited_run_kept(&before, &edits_plain, keeper);
        edited_run_kept(&after, &edits, keeper);
        assert_made(&after, edited[i].made, edited[i].what);
        edited_free(&before);
        edited_free(&after);
        ht_keeper_free(keeper);
    }
}

/* ---- keys -------------------------------------------------------------- */

static bool no_file(struct ht_digest *digest, const void *context)
{
    (void)context;
    ht_digest_key(digest, NULL);
    return true;
}

static void another_version_of_the_program_keys_differently(void **state)
{
    (void)state;
    struct edited run;
    struct ht_key same, other;
    edited_run(&run, &edits_plain, (struct ht_workup_options){ .keys = true });
    assert_int_equal(run.status, HT_OK);
    /* the built-in limits: no file, nothing else */
    assert_true(ht_digest_make(&same, HALFTURN_VERSION, "limits", no_file,
                               NULL));
    assert_true(ht_digest_make(&other, HALFTURN_VERSION ".1", "limits",
                               no_file, NULL));
    const struct ht_key *key = &run.workup->stage[HT_STAGE_LIMITS].key;
    assert_memory_equal(key, &same, sizeof same);
    assert_memory_not_equal(key, &other, sizeof other);
    edited_free(&run);
}

static void a_plain_run_has_no_keys(void **state)
{
    (void)state;
    const struct ht_workup_options options = { .keeper = NULL };
    struct edited run;
    edited_run(&run, &edits_plain, options);
    assert_int_equal(run.status, HT_OK);
    for (unsigned s = 0; s < HT_STAGES; s++) {
        assert_false(run.workup->stage[s].has_key);
        assert_int_not_equal(run.workup->stage[s].origin, HT_KEPT);
    }
    struct ht_text text = edited_told(&run);
    assert_null(strstr(text.bytes, "\"stages\""));
    ht_text_free(&text);
    edited_free(&run);
}

static void the_json_names_the_key_of_every_stage_that_ran(void **state)
{
    (void)state;
    struct edited run;
    edited_run(&run, &edits_plain, (struct ht_workup_options){ .keys = true });
    assert_int_equal(run.status, HT_OK);
    struct ht_text text = edited_told(&run);
    for (unsigned s = 0; s < HT_STAGES; s++) {
        char hex[HT_KEY_HEX], line[100];
        ht_key_write(hex, &run.workup->stage[s].key);
        (void)snprintf(line, sizeof line, "\"%s\": \"%s\"", ht_stage_name(s),
                       hex);
        bool ran = run.workup->stage[s].origin != HT_NOT_RUN;
        if (ran != (strstr(text.bytes, line) != NULL))
            fail_msg("%s %s", line, ran ? "is missing" : "stands there");
    }
    ht_text_free(&text);
    edited_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_case_unchanged_makes_nothing_again),
        cmocka_unit_test(an_edit_makes_anew_only_what_reads_it),
        cmocka_unit_test(another_version_of_the_program_keys_differently),
        cmocka_unit_test(a_plain_run_has_no_keys),
        cmocka_unit_test(the_json_names_the_key_of_every_stage_that_ran),
    };
    return cmocka_run_group_tests(tests, edited_begin, edited_end);
}
