/* The measuring sheet as bytes: the same for the same input, whole or not at
 * all. What stands on its pages: tests/paper/check. */
#include "close.h"
#include "workup_fixture.h"

#include "halfturn/report.h"

#include <string.h>

static struct ht_text pdf_of(const struct ht_sheet *sheet,
                             enum ht_paper paper)
{
    struct ht_text out = { 0 };
    struct ht_error err = { 0 };
    const struct ht_blank_request request = { sheet, "case.yaml", paper };
    if (ht_report_blank_pdf(&out, &request, &err) != HT_OK)
        fail_msg("%s", err.text);
    return out;
}

static bool is_pdf(const struct ht_text *text)
{
    return text->length > 10000 && memcmp(text->bytes, "%PDF-", 5) == 0 &&
           memcmp(text->bytes + text->length - 6, "%%EOF\n", 6) == 0;
}

static bool are_equal(const struct ht_text *a, const struct ht_text *b)
{
    return a->length == b->length && memcmp(a->bytes, b->bytes, a->length) == 0;
}

static void every_case_has_a_sheet(void **state)
{
    (void)state;
    for (int i = 0; i < FIXTURE_CASES; i++) {
        struct fixture *fixture = fixture_create((enum fixture_case)i);
        struct ht_text pdf =
            pdf_of(fixture_sheet(fixture), i % 2 ? HT_PAPER_A4
                                                 : HT_PAPER_LETTER);
        if (!is_pdf(&pdf))
            fail_msg("%s: no whole PDF", fixture_names[i]);
        ht_text_free(&pdf);
        fixture_free(fixture);
    }
}

static void the_same_case_gives_the_same_bytes(void **state)
{
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    (void)state;
    struct ht_text first = pdf_of(fixture_sheet(fixture), HT_PAPER_A4);
    struct ht_text other = pdf_of(fixture_sheet(fixture), HT_PAPER_LETTER);
    struct ht_text nobody = pdf_of(NULL, HT_PAPER_A4);
    struct ht_text again = pdf_of(fixture_sheet(fixture), HT_PAPER_A4);
    assert_true(are_equal(&first, &again));
    assert_false(are_equal(&first, &other));
    assert_false(are_equal(&first, &nobody));
    ht_text_free(&first);
    ht_text_free(&other);
    ht_text_free(&nobody);
    ht_text_free(&again);
    fixture_free(fixture);
}

static void what_stands_in_the_text_already_is_kept(void **state)
{
    struct ht_text out = { 0 };
    const struct ht_blank_request request = { .sheet = NULL };
    (void)state;
    ht_text_add(&out, "before");
    assert_int_equal(ht_report_blank_pdf(&out, &request, NULL), HT_OK);
    assert_memory_equal(out.bytes, "before%PDF-", 11);
    ht_text_free(&out);
}

static void a_text_with_too_little_room_ends_empty(void **state)
{
    (void)state;
    for (size_t limit = 64; limit < 40000; limit *= 4) {
        struct ht_text out = { .limit = limit };
        struct ht_error err = { 0 };
        const struct ht_blank_request request = { .sheet = NULL };
        assert_int_equal(ht_report_blank_pdf(&out, &request, &err),
                         HT_NO_MEMORY);
        assert_int_equal(out.length, 0);
        assert_false(ht_text_ok(&out));
        assert_true(strlen(err.text) > 20);
        ht_text_free(&out);
    }
}

static void a_tyre_that_is_none_is_refused_and_nothing_is_written(void **state)
{
    struct fixture *fixture = fixture_create(FIXTURE_VAN);
    struct ht_sheet *sheet = fixture_sheet(fixture);
    struct ht_text out = { 0 };
    struct ht_error err = { 0 };
    const struct ht_blank_request request = { .sheet = sheet };
    const char *tyre = sheet->vehicle.tyre;
    (void)state;
    sheet->vehicle.tyre = "round";
    assert_int_equal(ht_report_blank_pdf(&out, &request, &err), HT_BAD_FILE);
    assert_int_equal(out.length, 0);
    assert_non_null(strstr(err.text, "round"));
    sheet->vehicle.tyre = tyre;
    ht_text_free(&out);
    fixture_free(fixture);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_case_has_a_sheet),
        cmocka_unit_test(the_same_case_gives_the_same_bytes),
        cmocka_unit_test(what_stands_in_the_text_already_is_kept),
        cmocka_unit_test(a_text_with_too_little_room_ends_empty),
        cmocka_unit_test(
            a_tyre_that_is_none_is_refused_and_nothing_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
