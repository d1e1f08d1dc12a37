/* Words and numbers, the same in every output. */
#include "close.h"

#include "report/lines.h"
#include "report/markup.h"
#include "report/shown.h"
#include "report/texts.h"
#include "report/words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void likelihood_words_change_at_their_thresholds(void **state)
{
    (void)state;
    static const struct {
        int hundred;
        const char *word;
    } rows[] = {
        { 99, "almost certain" }, { 95, "almost certain" },
        { 94, "very likely" },    { 80, "very likely" },
        { 79, "likely" },         { 60, "likely" },
        { 59, "even" },           { 40, "even" },
        { 39, "less likely" },    { 25, "less likely" },
        { 24, "unlikely" },       { 5, "unlikely" },
        { 4, "hardly" },          { 1, "hardly" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(likelihood_word(rows[i].hundred / 100.0),
                            rows[i].word);
}

static void a_probability_is_never_shown_as_0_or_100(void **state)
{
    (void)state;
    assert_int_equal(in_100(0), 1);
    assert_int_equal(in_100(1), 99);
    assert_int_equal(in_100(0.004), 1);
    assert_int_equal(in_100(0.86), 86);
}

static void the_word_is_that_of_the_number_shown(void **state)
{
    (void)state;
    /* 94.6 is shown as 95: the word must not contradict it. */
    assert_int_equal(in_100(0.946), 95);
    assert_string_equal(likelihood_word(0.946), "almost certain");
}

static void numbers_keep_their_unit_their_minus_and_their_range(void **state)
{
    (void)state;
    const double deg = HT_RAD_PER_DEG;
    assert_string_equal(shown_degrees(-1.5 * deg, 1).text,
                        MINUS "1.5" DEGREE);
    assert_string_equal(shown_speed(92 / 3.6).text, "92" NBSP "km/h");
    struct ht_estimate even = { 4.1 * deg, 0.085 * deg, 3.93 * deg,
                                4.27 * deg };
    assert_string_equal(shown_angle_range(&even).text,
                        "4.10" DEGREE NBSP PLUS_MINUS NBSP "0.17" DEGREE);
    struct ht_estimate lopsided = { 0.4 * deg, 0.2 * deg, 0.3 * deg,
                                    1.1 * deg };
    assert_string_equal(shown_angle_range(&lopsided).text,
                        "0.40" DEGREE NBSP "(0.30" DEGREE " to" NBSP "1.10"
                        DEGREE ")");
    struct ht_estimate shake = { 643, 36, 572, 714 };
    assert_string_equal(shown_rate_range(&shake).text,
                        "640" NBSP PLUS_MINUS NBSP "70" NBSP "rad/s\302\262");
    shake = (struct ht_estimate){ 77, NAN, 37, 132 };
    assert_string_equal(shown_rate_range(&shake).text,
                        "77" NBSP "(37 to" NBSP "132)" NBSP "rad/s\302\262");
    shake = (struct ht_estimate){ 77, NAN, NAN, NAN };
    assert_string_equal(shown_rate_range(&shake).text,
                        "77" NBSP "rad/s\302\262");
    assert_string_equal(shown_short(0.04).text, "0.04");
    assert_string_equal(shown_short(0.16).text, "0.16");
}

static void a_number_too_long_for_a_sentence_keeps_its_size(void **state)
{
    (void)state;
    assert_string_equal(shown_number(1e300, 2).text, "1.00000e+300");
    assert_string_equal(shown_number(-1e15, 0).text, MINUS "1.00000e+15");
    assert_string_equal(shown_number(123456789012345.0, 0).text,
                        "123456789012345");
    assert_string_equal(shown_number(NAN, 2).text, "?");
}

static void the_scale_at_the_foot_is_that_of_the_words(void **state)
{
    (void)state;
    size_t count;
    const struct likelihood_word *words = likelihood_words(&count);
    const char *at = REPORT_WORD_SCALE;
    for (size_t i = 0; i < count; i++) {
        char piece[60];
        bool last = i + 1 == count;
        (void)snprintf(piece, sizeof piece, last ? "%s below %.0f." : "%s %.0f",
                       words[i].word, words[last ? i - 1 : i].from);
        at = strstr(at, piece);
        assert_non_null(at);
        assert_string_equal(words[i].first_word + 1, words[i].word + 1);
    }
}

static void user_text_cannot_carry_markup_marks_or_broken_utf_8(void **state)
{
    (void)state;
    struct ht_text clean = { 0 }, page = { 0 };
    clean_text(&clean, "a<b>\001&\"' \n\377\303");
    markup(&page, "%t", ht_text_get(&clean));
    assert_string_equal(ht_text_get(&page),
                        "a&lt;b&gt; &amp;&quot;&#39;  \357\277\275"
                        "\357\277\275");
    ht_text_free(&clean);
    ht_text_free(&page);
}

static void a_text_of_another_room_keeps_its_numbers_with_their_units(
    void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    assert_string_equal(
        cleaned(&text, "At 92 km/h 225 Hz, 0.69 s late: 14 in 100 (2 to 5 %)."),
        "At 92" NBSP "km/h 225" NBSP "Hz, 0.69" NBSP "s late: 14" NBSP "in"
        NBSP "100 (2 to 5" NBSP "%).");
    assert_string_equal(cleaned(&text, "joints 1 and 2 meet; 3 minor, 4 sets"),
                        "joints 1 and 2 meet; 3 minor, 4 sets");
    assert_string_equal(cleaned(&text, ""), "");
    ht_text_free(&text);
}

static void an_id_is_shown_as_words(void **state)
{
    (void)state;
    struct ht_text room = { 0 };
    assert_string_equal(id_words(&room, "light_truck"), "light truck");
    assert_string_equal(id_words(&room, "car"), "car");
    assert_string_equal(id_words(&room, ""), "");
    ht_text_free(&room);
}

static void a_paragraph_never_parts_a_number_from_its_unit(void **state)
{
    (void)state;
    struct ht_text out = { 0 };
    put_paragraph(&out, "",
                  "The strongest order of this drive was found to be worst "
                  "when it went at some 93" NBSP "km/h on the level.");
    assert_non_null(strstr(out.bytes, "\n93 km/h on the level.\n"));
    ht_text_free(&out);
}

static void table_columns_line_up_in_characters_not_bytes(void **state)
{
    (void)state;
    struct ht_text out = { 0 };
    struct table table = { .align = "lr" };
    table_cell(&table, "2" TIMES " shaft");
    table_cell(&table, "1");
    table_cell(&table, "1x wheels");
    table_cell(&table, "20");
    table_write(&out, &table);
    assert_string_equal(out.bytes,
                        "  2" TIMES " shaft    1\n  1x wheels  20\n");
    ht_text_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(likelihood_words_change_at_their_thresholds),
        cmocka_unit_test(a_probability_is_never_shown_as_0_or_100),
        cmocka_unit_test(the_word_is_that_of_the_number_shown),
        cmocka_unit_test(numbers_keep_their_unit_their_minus_and_their_range),
        cmocka_unit_test(a_number_too_long_for_a_sentence_keeps_its_size),
        cmocka_unit_test(the_scale_at_the_foot_is_that_of_the_words),
        cmocka_unit_test(user_text_cannot_carry_markup_marks_or_broken_utf_8),
        cmocka_unit_test(
            a_text_of_another_room_keeps_its_numbers_with_their_units),
        cmocka_unit_test(an_id_is_shown_as_words),
        cmocka_unit_test(a_paragraph_never_parts_a_number_from_its_unit),
        cmocka_unit_test(table_columns_line_up_in_characters_not_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
