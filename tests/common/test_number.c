#include "close.h"

#include "halfturn/number.h"

#include <locale.h>
#include <string.h>

static enum ht_number_problem read_text(const char *text, double *value)
{
    return ht_number_read(text, strlen(text), value);
}

static void plain_numbers_are_read_exactly(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double value;
    } rows[] = { { "0", 0 },          { "-2.5", -2.5 },    { "+7", 7 },
                 { ".5", .5 },        { "5.", 5 },         { "1e-3", 1e-3 },
                 { "0.1", 0.1 },      { "012", 12 },       { "1E+2", 100 },
                 { "\xe2\x88\x92" "1.6", -1.6 } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double value = -99;
        assert_int_equal(read_text(rows[i].text, &value), HT_NUMBER_FINE);
        assert_true(value == rows[i].value);
    }
}

static void what_is_no_number_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum ht_number_problem problem;
    } rows[] = { { "", HT_NUMBER_EMPTY },
                 { "2,1", HT_NUMBER_DECIMAL_COMMA },
                 { "-0,5e3", HT_NUMBER_DECIMAL_COMMA },
                 { "nan", HT_NUMBER_NOT_FINITE },
                 { "-Infinity", HT_NUMBER_NOT_FINITE },
                 { "1e999", HT_NUMBER_NOT_FINITE },
                 { "0x10", HT_NUMBER_NOT_A_NUMBER },
                 { "3.73:1", HT_NUMBER_NOT_A_NUMBER },
                 { "1e", HT_NUMBER_NOT_A_NUMBER },
                 { ".", HT_NUMBER_NOT_A_NUMBER },
                 { " 1", HT_NUMBER_NOT_A_NUMBER },
                 { "1.2.3", HT_NUMBER_NOT_A_NUMBER } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double value = 5;
        assert_int_equal(read_text(rows[i].text, &value), rows[i].problem);
        assert_true(value == 5);
    }
}

static void the_hosts_locale_changes_nothing(void **state)
{
    (void)state;
    if (!setlocale(LC_ALL, "de_DE.UTF-8") && !setlocale(LC_ALL, "de_DE"))
        skip();
    double value = 0;
    assert_int_equal(read_text("2.25", &value), HT_NUMBER_FINE);
    assert_true(value == 2.25);
    assert_int_equal(read_text("2,25", &value), HT_NUMBER_DECIMAL_COMMA);
    setlocale(LC_ALL, "C");
}

static void degrees_and_minutes_become_degrees(void **state)
{
    (void)state;
    double degrees = 0;
    assert_int_equal(ht_number_read_degrees("20d30", 5, &degrees),
                     HT_NUMBER_FINE);
    assert_true(degrees == 20.5);
    assert_int_equal(ht_number_read_degrees("-0d15", 5, &degrees),
                     HT_NUMBER_FINE);
    assert_true(degrees == -0.25);
    assert_int_equal(ht_number_read_degrees("1d60", 4, &degrees),
                     HT_NUMBER_NOT_A_NUMBER);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_numbers_are_read_exactly),
        cmocka_unit_test(what_is_no_number_is_named),
        cmocka_unit_test(the_hosts_locale_changes_nothing),
        cmocka_unit_test(degrees_and_minutes_become_degrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
