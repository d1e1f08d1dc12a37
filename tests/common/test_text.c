#include "close.h"

#include "common/memory.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <math.h>

static void numbers_are_written_as_a_person_would(void **state)
{
    (void)state;
    static const struct {
        double value;
        int digits;
        const char *text;
    } rows[] = { { 0.0996, 2, "0.10" }, { 0.33, 2, "0.33" },
                 { 640.2, 2, "640" },   { 1e-7, 2, "1.0e-07" },
                 { 0, 2, "0" },         { -0.004, 1, "-0.004" },
                 { 99.96, 3, "100" },   { NAN, 2, "?" } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char buffer[64];
        ht_format_significant(buffer, sizeof buffer, rows[i].value,
                              rows[i].digits);
        assert_string_equal(buffer, rows[i].text);
    }
    char buffer[64];
    ht_format_number(buffer, sizeof buffer, -0.001, 2);
    assert_string_equal(buffer, "0.00");
}

static void text_over_its_ceiling_stays_failed_and_empty(void **state)
{
    (void)state;
    struct ht_text text = { .limit = 8 };
    ht_text_add(&text, "1234");
    assert_true(ht_text_ok(&text));
    ht_text_add(&text, "56789");
    ht_text_add(&text, "x");
    assert_false(ht_text_ok(&text));
    assert_string_equal(ht_text_get(&text), "");
    assert_int_equal(text.length, 0);
    ht_text_free(&text);
}

static bool refuse(size_t bytes)
{
    (void)bytes;
    return false;
}

static void refused_memory_is_a_failed_text(void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    ht_memory_permit = refuse;
    ht_text_addf(&text, "%d", 7);
    ht_memory_permit = NULL;
    assert_false(ht_text_ok(&text));
    assert_string_equal(ht_text_get(&text), "");
    ht_text_free(&text);
}

static void every_status_has_its_own_words_and_a_documented_code(void **state)
{
    (void)state;
    static const int codes[HT_STATUS_COUNT] = { 0,  64, 65, 65, 66, 66,
                                                69, 70, 71, 74, 75, 75 };
    for (int s = 0; s < HT_STATUS_COUNT; s++) {
        assert_int_equal(ht_status_exit_code((enum ht_status)s), codes[s]);
        assert_true(ht_status_name((enum ht_status)s)[0] != '\0');
    }
}

/* Control characters of ISO/IEC 6429: C0, DEL, and C1 as UTF-8 writes it. */
static void a_failure_is_one_line_that_no_terminal_obeys(void **state)
{
    (void)state;
    struct ht_error err;
    ht_fail(&err, HT_BAD_USE, "%s is off.",
            "a\nb\x1b[2J\t\x7f\xc2\x9b\xc2\xa0\xc3\x9f");
    assert_string_equal(err.text, "a?b?[2J???\xc2\xa0\xc3\x9f is off.");
    ht_fail_at_line(&err, 3, 1, HT_BAD_FILE, "%s", "\r");
    assert_string_equal(err.text, "?");
    ht_fail(&err, HT_BAD_USE, "%.2s", "a\xc2\x9b");
    assert_string_equal(err.text, "a?"); /* cut within a character */
    /* overlong, a surrogate, beyond the last, a byte alone; three whole ones */
    ht_fail(&err, HT_BAD_USE, "%s", "\xc0\xaf\xed\xa0\x80\xf4\x90\x80\x80\xff"
            "\xe2\x82\xac\xf0\x9d\x84\x9e\xdf\xbf");
    assert_string_equal(err.text, "??????????"
                        "\xe2\x82\xac\xf0\x9d\x84\x9e\xdf\xbf");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_written_as_a_person_would),
        cmocka_unit_test(text_over_its_ceiling_stays_failed_and_empty),
        cmocka_unit_test(refused_memory_is_a_failed_text),
        cmocka_unit_test(a_failure_is_one_line_that_no_terminal_obeys),
        cmocka_unit_test(every_status_has_its_own_words_and_a_documented_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
