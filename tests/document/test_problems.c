/* The sentences themselves: what was found, what was wanted, what to do. */
#include "sheet_case.h"

#define ONE "bad.yaml: problems found: 1. Nothing was worked out.\n"

static const struct {
    const char *sheet, *wanted;
} golden[] = {
    { "halfturn: 1\nvehicle:\n  axle_ration: 3.73\n",
      "bad.yaml:3:3: vehicle: The name 'axle_ration' is not known here. Did "
      "you "
      "mean 'axle_ratio'?\n"
      "     3 |   axle_ration: 3.73\n"
      "       |   ^^^^^^^^^^^\n" ONE },
    { "halfturn: 1\nvehicle: {axle_ratio: 3.73:1}\n",
      "bad.yaml:2:23: vehicle.axle_ratio: Wanted is a number. Found: "
      "'3.73:1'.\n"
      "     2 | vehicle: {axle_ratio: 3.73:1}\n"
      "       |                       ^^^^^^\n" ONE },
    { "halfturn: 1\nvehicle: {top_speed_km_h: 1200}\n",
      "bad.yaml:2:27: vehicle.top_speed_km_h: '1200' is outside the plausible "
      "range 10 to 350 km/h. Is it in this unit?\n"
      "     2 | vehicle: {top_speed_km_h: 1200}\n"
      "       |                           ^^^^\n" ONE },
    { "halfturn: 1\ntitle: ä ö ü\nvehicle:\n\tclass: car\n",
      "bad.yaml:4:1: A tab stands in the indentation. Use blanks.\n"
      "     4 |  class: car\n"
      "       | ^\n" ONE },
    { "halfturn: 1\n# é\nidentity: {unit: ünit, colour: 3}\n",
      "bad.yaml:3:24: identity: The name 'colour' is not known here. Known "
      "are: unit, odometer_km, date, load, measured_by.\n"
      "     3 | identity: {unit: ünit, colour: 3}\n"
      "       |                        ^^^^^^\n" ONE },
    { "halfturn: 1\nvehicle:\n  mass_kg: 2400\n  mass_lb: 5300\n",
      "bad.yaml:4:3: vehicle.mass_lb: This is given twice, first as 'mass_kg' "
      "on line 3. Keep one.\n"
      "     4 |   mass_lb: 5300\n"
      "       |   ^^^^^^^\n" ONE },
    { "title: a van\n",
      "bad.yaml:1:1: 'halfturn: 1' is missing. It says that this is a case "
      "sheet, and of which version. Add it as the first line.\n"
      "     1 | title: a van\n"
      "       | ^\n" ONE },
    { "halfturn: 2\nnew_key: 1\n",
      "bad.yaml:1:11: This sheet is of version 2, and this program reads "
      "version 1. Use a newer program.\n"
      "     1 | halfturn: 2\n"
      "       |           ^\n" ONE },
    { "halfturn: 1\nangles: {slopes_deg: [2,1, 2,5, 4,0]}\n",
      "bad.yaml:2:22: angles.slopes_deg: The 6 values are written in pairs. "
      "Are these decimal commas? Write 2.1, not 2,1.\n"
      "     2 | angles: {slopes_deg: [2,1, 2,5, 4,0]}\n"
      "       |                      ^\n" ONE },
    { "halfturn: 1\nvehicle: {axle_ratio: 3.9\ntitle: x\n",
      "bad.yaml:3:6: The mapping that starts with '{' on line 2 is not "
      "closed. A ',' or '}' is missing.\n"
      "     3 | title: x\n"
      "       |      ^\n" ONE },
};

static void sentences_line_and_caret_are_as_written_down(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof golden / sizeof golden[0]; i++) {
        struct ht_text out = { 0 };
        problems_of(&out, golden[i].sheet, strlen(golden[i].sheet));
        assert_string_equal(ht_text_get(&out), golden[i].wanted);
        ht_text_free(&out);
    }
}

#define H "halfturn: 1\n"

static void lists_of_whole_numbers_are_no_decimal_commas(void **state)
{
    (void)state;
    static const char *const lists[] = {
        "[4, 3, 2, 1]", "[4,3,2,1]", "[4, 3,2, 1]", "[4,3]", "[4.5,3, 2,1]",
    };
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        char text[200];
        struct ht_sheet sheet;
        (void)snprintf(text, sizeof text, H "vehicle:\n gear_ratios: %s\n",
                       lists[i]);
        read_good(&sheet, text);
        assert_true(sheet.vehicle.gear_ratios.count >= 2);
        ht_sheet_free(&sheet);
    }
}

static void all_problems_come_at_once_in_the_order_of_the_file(void **state)
{
    (void)state;
    static const char sheet[] =
        H "titel: x\nvehicle: {class: lorry, mass_kg: 2,4}\n"
          "angles:\n  slopes_deg: [1, x]\n  suspension: up\n";
    static struct ht_problems problems;
    struct ht_sheet s;
    struct ht_error err = { 0 };
    assert_int_equal(ht_sheet_read_text(&s, "dir/bad.yaml", sheet,
                                        strlen(sheet), &problems, &err),
                     HT_BAD_FILE);
    static const size_t lines[] = { 2, 3, 3, 3, 5, 6 };
    assert_int_equal(problems.found, 6);
    for (size_t i = 0; i < 6; i++)
        assert_int_equal(problems.problem[i].error.line, lines[i]);
    assert_int_equal(err.line, 2);
    assert_int_equal(err.column, 1);
    assert_string_equal(err.text,
                        "dir/bad.yaml:2:1: The name 'titel' is not known "
                        "here. Did you mean 'title'? (Problems in all: 6.)");
}

/* Columns count characters, escapes and all, as an editor does. */
static void json_problems_have_their_place_too(void **state)
{
    (void)state;
    static const char sheet[] =
        "{\"halfturn\": 1, \"title\": \"\\\"\\u00e4\\\\\",\n"
        " \"complaint\": {\"felt\": [\"seat\", \"flor\"],\n"
        "  \"note\": \"ä ö\", \"colour\": null},\n"
        " \"vehicle\": {\"mass_kg\": -1e3}}";
    static const size_t places[][2] = { { 2, 33 }, { 3, 18 }, { 4, 25 } };
    static struct ht_problems problems;
    struct ht_sheet s;
    assert_int_equal(ht_sheet_read_text(&s, "bad.json", sheet, strlen(sheet),
                                        &problems, NULL),
                     HT_BAD_FILE);
    assert_int_equal(problems.found, 3);
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(problems.problem[i].error.line, places[i][0]);
        assert_int_equal(problems.problem[i].error.column, places[i][1]);
    }
}

static void every_line_with_a_tab_is_named(void **state)
{
    (void)state;
    static const char sheet[] = H "vehicle:\n\tclass: car\n  \tmass_kg: 3\n";
    struct ht_text out = { 0 };
    problems_of(&out, sheet, strlen(sheet));
    assert_non_null(strstr(out.bytes, "bad.yaml:3:1: A tab"));
    assert_non_null(strstr(out.bytes, "bad.yaml:4:3: A tab"));
    ht_text_free(&out);
}

static void a_long_line_is_cut_around_its_caret(void **state)
{
    (void)state;
    struct ht_text sheet = { 0 }, out = { 0 };
    ht_text_add(&sheet, H "checks: {seen: [");
    for (int i = 0; i < 30; i++)
        ht_text_add(&sheet, "wörd, ");
    ht_text_add(&sheet, "[]]}\n");
    problems_of(&out, sheet.bytes, sheet.length);
    const char *line = strstr(out.bytes, " | "), *caret = strchr(line, '^');
    const char *bar = strstr(line + 3, " | ");
    assert_non_null(strstr(line, "[]]}"));
    size_t at = (size_t)(caret - bar) - 3, characters = 0;
    for (const char *c = line + 3; *c != '['; c++)
        characters += ((unsigned char)*c & 0xc0) != 0x80;
    assert_int_equal(at, characters);
    ht_text_free(&sheet);
    ht_text_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sentences_line_and_caret_are_as_written_down),
        cmocka_unit_test(lists_of_whole_numbers_are_no_decimal_commas),
        cmocka_unit_test(all_problems_come_at_once_in_the_order_of_the_file),
        cmocka_unit_test(json_problems_have_their_place_too),
        cmocka_unit_test(every_line_with_a_tab_is_named),
        cmocka_unit_test(a_long_line_is_cut_around_its_caret),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
