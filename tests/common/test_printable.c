/* What of a text from outside may reach a terminal. */
#include "close.h"

#include "common/printable.h"

#include <string.h>

/* Unicode Standard Annex 9, table 1: every character that turns the way text
 * runs, and neighbours that do not. */
static void characters_that_turn_the_text_are_controls(void **state)
{
    (void)state;
    static const char *const turning[] = {
        "\u061c", "\u200e", "\u200f", "\u202a", "\u202b", "\u202c",
        "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069",
    };
    static const char *const plain[] = { "a", "\u00e9", "\u061b", "\u0634",
                                         "\u05d0", "\u200d", "\u2010",
                                         "\u2030", "\u2070", "\u00b1" };
    for (size_t i = 0; i < sizeof turning / sizeof *turning; i++) {
        char text[16] = "a";
        strcat(text, turning[i]);
        strcat(text, "b");
        assert_int_equal(ht_control_length(turning[i]), strlen(turning[i]));
        ht_make_printable(text);
        assert_string_equal(text, "a?b");
    }
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        assert_int_equal(ht_control_length(plain[i]), 0);
}

static void controls_of_old_are_controls_still(void **state)
{
    (void)state;
    static const char *const one[] = { "\n", "\t", "\033", "\177" };
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(ht_control_length(one[i]), 1);
    assert_int_equal(ht_control_length("\302\233"), 2);
    assert_int_equal(ht_control_length("\302\240"), 0);
    assert_int_equal(ht_control_length(""), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(characters_that_turn_the_text_are_controls),
        cmocka_unit_test(controls_of_old_are_controls_still),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
