/* The JSON output and its page. */
#include "close.h"
#include "workup_fixture.h"

#include "halfturn/report.h"
#include "report/json_view.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PAGE HALFTURN_SOURCE_DIR "/docs/json.md"

static struct ht_text json_of(enum fixture_case which, unsigned blocks)
{
    struct fixture *fixture = fixture_create(which);
    struct ht_text text = { 0 };
    struct ht_error err = { 0 };
    enum ht_status status =
        ht_report_json(&text, fixture_workup(fixture), blocks, &err);
    if (status != HT_OK)
        fail_msg("%s: %s", fixture_names[which], err.text);
    fixture_free(fixture);
    return text;
}

static void holds(const struct ht_text *text, const char *piece)
{
    if (!strstr(text->bytes, piece))
        fail_msg("%s is not in %.2000s", piece, text->bytes);
}

static void angles_carry_their_keys_in_degrees(void **state)
{
    (void)state;
    struct ht_text text = json_of(FIXTURE_VAN, HT_BLOCK_ANGLES);
    static const char *const keys[] = {
        "\"schema\": 1", "\"side_view_only\": false", "\"joints\": [",
        "\"between\": \"gearbox / front shaft\"", "\"u_deg\"",
        "\"leftover\": {", "\"low_deg\"", "\"high_deg\"", "\"axle_rad_s2\"",
        "\"pulled_rad_s2\"", "\"held_rad_s2\"", "\"verdicts\": [", "\"what\"",
        "\"limit\"", "\"source\"", "\"probability_over\"",
        "\"verdict\": \"over\"", "\"verdict\": \"cannot_be_decided\"",
        "\"verdict\": \"within\"", "\"missing\": []"
    };
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        holds(&text, keys[i]);
    assert_null(strstr(text.bytes, "\"orders\""));
    assert_null(strstr(text.bytes, "\"causes\""));
    const char *at = strstr(text.bytes, "\"at_km_h\": ");
    assert_non_null(at);
    /* 130 km/h written and read back: one rounding each way. */
    assert_close_relative(strtod(at + 11, NULL), 130, 4e-16);
    ht_text_free(&text);
}

static void orders_carry_speed_orders_bins_and_pairs(void **state)
{
    (void)state;
    struct ht_text text = json_of(FIXTURE_VAN, HT_BLOCK_ORDERS);
    static const char *const keys[] = {
        "\"speed\": {", "\"source\": \"log\"", "\"state\": \"accepted\"",
        "\"circumference_m\"", "\"lag_s\"", "\"scale\"", "\"points\": [",
        "\"rivals\": []", "\"part\": \"shaft\"", "\"multiple\": 2",
        "\"channel\": \"all\"", "\"state\": \"seen\"",
        "\"state\": \"not_seen\"", "\"state\": \"could_not_be_seen\"",
        "\"unit\": \"m/s2\"", "\"exponent_u\"", "\"pull_db\"",
        "\"bins\": [", "\"from_km_h\"", "\"to_km_h\"",
        "\"cannot_separate\": ["
    };
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        holds(&text, keys[i]);
    assert_null(strstr(text.bytes, "\"joints\""));
    ht_text_free(&text);
}

/* A channel that is left out shows nowhere else. */
static void what_was_noted_of_a_drive_is_told(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    struct ht_workup *workup = fixture_workup(fixture);
    struct ht_text text = { 0 };
    workup->recording.notes = workup->turns.notes = workup->orders.notes = 1;
    strcpy(workup->recording.note[0], "One of the recording.");
    strcpy(workup->turns.note[0], "One of the speed.");
    strcpy(workup->orders.note[0], "One of the orders.");
    assert_int_equal(ht_report_json(&text, workup, HT_BLOCK_ORDERS, NULL),
                     HT_OK);
    const char *notes = strstr(text.bytes, "\"notes\": [");
    assert_non_null(notes);
    const char *recording = strstr(notes, "\"One of the recording.\"");
    const char *speed = strstr(notes, "\"One of the speed.\"");
    assert_true(recording && speed && speed > recording);
    assert_true(strstr(notes, "\"One of the orders.\"") > speed);
    ht_text_free(&text);
    fixture_free(fixture);
}

static void rank_carries_everything_and_its_own(void **state)
{
    (void)state;
    struct ht_text text = json_of(FIXTURE_VAN, HT_BLOCK_RANK);
    static const char *const keys[] = {
        "\"joints\": [", "\"orders\": [", "\"safety\": [", "\"causes\": [",
        "\"cause\": \"angle-mismatch\"", "\"probability\": 0.85999999999999999",
        "\"raised_by\": [", "\"lowered_by\": [", "\"unexplained\": []",
        "\"struck_out\": [", "\"why\"", "\"next_checks\": [",
        "\"finding\": \"centre-support-look\"", "\"question\"", "\"minutes\"",
        "\"gain\""
    };
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        holds(&text, keys[i]);
    ht_text_free(&text);
}

static void a_refused_speed_says_so_and_gives_no_orders(void **state)
{
    (void)state;
    struct ht_text text = json_of(FIXTURE_REFUSED, HT_BLOCK_ORDERS);
    holds(&text, "\"state\": \"refused\"");
    holds(&text, "\"reason\": \"No speed log");
    assert_null(strstr(text.bytes, "\"orders\""));
    ht_text_free(&text);
}

static void every_case_can_be_written_twice_with_the_same_bytes(void **state)
{
    (void)state;
    for (int i = 0; i < FIXTURE_CASES; i++) {
        struct ht_text one = json_of((enum fixture_case)i, HT_BLOCK_RANK);
        struct ht_text two = json_of((enum fixture_case)i, HT_BLOCK_RANK);
        assert_string_equal(one.bytes, two.bytes);
        ht_text_free(&one);
        ht_text_free(&two);
    }
}

static void text_that_is_not_utf_8_is_mended(void **state)
{
    (void)state;
    struct fixture *fixture = fixture_create(FIXTURE_ANGLES_ONLY);
    struct ht_text text = { 0 };
    fixture_sheet(fixture)->title = "cut \303";
    assert_int_equal(ht_report_json(&text, fixture_workup(fixture),
                                    HT_BLOCK_ANGLES, NULL), HT_OK);
    holds(&text, "\"title\": \"cut \357\277\275\"");
    ht_text_free(&text);
    fixture_free(fixture);
}

static void the_committed_page_is_what_the_tables_write(void **state)
{
    (void)state;
    struct ht_text page = { 0 };
    json_page(&page);
    assert_true(ht_text_ok(&page));
    if (getenv("HALFTURN_WRITE_DOCS")) {
        FILE *file = fopen(PAGE, "wb");
        assert_non_null(file);
        assert_int_equal(fwrite(page.bytes, 1, page.length, file),
                         page.length);
        assert_int_equal(fclose(file), 0);
    }
    char *committed = calloc(1, page.length + 2);
    assert_non_null(committed);
    FILE *file = fopen(PAGE, "rb");
    assert_non_null(file);
    (void)fread(committed, 1, page.length + 1, file);
    (void)fclose(file);
    if (strcmp(committed, page.bytes) != 0)
        fail_msg("docs/json.md is not up to date: run HALFTURN_WRITE_DOCS=1 "
                 "build/tests/report-json");
    free(committed);
    ht_text_free(&page);
}

/* A wedge, two plates on each other, one plate: as they lie on the shelf. What
 * is turned round does twice what it is, and was put there by somebody. */
static void works_name_the_pieces_of_the_shelf(void **state)
{
    (void)state;
    static struct ht_line_shims line;
    static struct ht_sheet sheet;
    struct ht_workup workup = { .sheet = &sheet,
                                .shims = &line,
                                .shims_count = 1 };
    struct ht_shim_plan *plan = &line.shims.plan[0];
    struct ht_text text = { 0 };
    struct ht_error err = { 0 };
    line.shims.plans = line.shims.refusals = 1;
    line.shims.members = plan->members = 4;
    plan->works = 3;
    plan->work[0] = (struct ht_shim_work){ .place = HT_SHIM_AXLE,
                                           .turn_rad = -0.0625,
                                           .turned = true };
    plan->work[1] = (struct ht_shim_work){ .place = HT_SHIM_SUPPORT,
                                           .lift_m = -0.035,
                                           .plate_m = { 0.015, 0.020 } };
    plan->work[2] = (struct ht_shim_work){ .place = HT_SHIM_GEARBOX,
                                           .lift_m = 0.003,
                                           .plate_m = { 0.003, 0 } };
    assert_int_equal(ht_report_json(&text, &workup, HT_BLOCK_SHIMS, &err),
                     HT_OK);
    const char *wedge = strstr(text.bytes, "\"wedge_deg\": ");
    const char *plates = strstr(text.bytes, "\"plates_mm\": [");
    assert_true(wedge && plates && wedge < plates);
    /* 0.0625 rad is 3.58 degrees, of which half is in */
    assert_close(strtod(wedge + 13, NULL), 1.79, 0.005);
    assert_close(strtod(plates + 14, (char **)&plates), 15, 1e-9);
    assert_close(strtod(plates + 1, NULL), 20, 1e-9);
    plates = strstr(plates, "\"plates_mm\": [");
    assert_non_null(plates);
    assert_close(strtod(plates + 14, (char **)&plates), 3, 1e-9);
    assert_int_equal(plates[strspn(plates, " \n")], ']');
    ht_text_free(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(angles_carry_their_keys_in_degrees),
        cmocka_unit_test(orders_carry_speed_orders_bins_and_pairs),
        cmocka_unit_test(what_was_noted_of_a_drive_is_told),
        cmocka_unit_test(rank_carries_everything_and_its_own),
        cmocka_unit_test(a_refused_speed_says_so_and_gives_no_orders),
        cmocka_unit_test(every_case_can_be_written_twice_with_the_same_bytes),
        cmocka_unit_test(works_name_the_pieces_of_the_shelf),
        cmocka_unit_test(text_that_is_not_utf_8_is_mended),
        cmocka_unit_test(the_committed_page_is_what_the_tables_write),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
