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

static const struct {
    const char *sheet, *first;
} sentences[] = {
    /* decimal commas in every shape they come in */
    { H "vehicle: {mass_kg: \"2,4\"}\n",
      "vehicle.mass_kg: Wanted is a number with a decimal point, not a comma. "
      "Found: '2,4'." },
    { H "vehicle:\n  axle_ratio: 3,73\n",
      "vehicle.axle_ratio: Wanted is a number with a decimal point, not a "
      "comma. Found: '3,73'." },
    { H "driveline: {members: [a, b, c]}\n"
        "angles: {slopes_deg: [2,1,2,5,4,0]}\n",
      "angles.slopes_deg: Values given: 6. Wanted: 3. Are these decimal "
      "commas? Write 2.1, not 2,1." },
    { H "driveline: {members: [a, b, c]}\nangles: {joints_deg: [0,4,1,5]}\n",
      "angles.joints_deg: Values given: 4. Wanted: 2. Are these decimal "
      "commas? Write 2.1, not 2,1." },
    { H "vehicle: {gear_ratios: [4,9, 2,6]}\n",
      "vehicle.gear_ratios: The 4 values are written in pairs. Are these "
      "decimal commas? Write 2.1, not 2,1." },
    { H "angles: {slopes_deg: [1, {flip: [2,1,2,5]}]}\n",
      "angles.slopes_deg[2].flip: Values given: 4. Wanted: 2. Are these "
      "decimal commas? Write 2.1, not 2,1." },
    { H "vehicle: {axle_ratio: 3,73}\n",
      "vehicle: The name '73' is not known here. Are these decimal commas? "
      "Write 2.1, not 2,1." },
    /* numbers */
    { H "vehicle: {mass_kg: heavy}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: 'heavy'." },
    { H "vehicle: {mass_kg: .nan}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: '.nan'." },
    { H "vehicle: {mass_kg: inf}\n",
      "vehicle.mass_kg: Wanted is a number. Found: 'inf'. Leave the key out "
      "when the value is not known." },
    { H "vehicle: {mass_kg: [1]}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: a list." },
    { H "vehicle: {mass_kg: 0x10}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: '0x10'." },
    { H "vehicle: {engine: {cylinders: 4.5}}\n",
      "vehicle.engine.cylinders: Wanted is a whole number. Found: '4.5'." },
    { H "vehicle: {top_speed_mph: 300}\n",
      "vehicle.top_speed_mph: '300' is outside the plausible range 6.2137 to "
      "217.4799 mph. Is it in this unit?" },
    { H "angles: {slopes_deg: [2, 20d75]}\n",
      "angles.slopes_deg[2]: Wanted is a number in degrees, as 2.1 or 2d06. "
      "Found: '20d75'." },
    { H "angles: {slopes_deg: [2, 111]}\n",
      "angles.slopes_deg[2]: '111' is outside the plausible range -45° to "
      "45°." },
    { H "vehicle: {axle_teeth: [41]}\n",
      "vehicle.axle_teeth: Values given: 1. Wanted: 2." },
    { H "complaint: {speed_km_h: [1, 2, 3]}\n",
      "complaint.speed_km_h: Values given: 3. Wanted: 2 at most." },
    /* words */
    { H "angles: {suspension: on_ground}\n",
      "angles.suspension: 'on_ground' is not one of: wheels_on_ground, "
      "axle_on_stands_at_ride_height, hanging." },
    { H "complaint: {felt: [seat, flor]}\n",
      "complaint.felt: 'flor' is not one of: seat, floor, steering_wheel, "
      "whole, heard. Did you mean 'floor'?" },
    { H "driveline: {members: [a, b], joints: [cardn]}\n",
      "driveline.joints[1]: 'cardn' is not one of: cardan, double_cardan, "
      "constant_velocity, rubber_disc. Did you mean 'cardan'?" },
    { H "safety: {clips_refitted: perhaps}\n",
      "safety.clips_refitted: 'perhaps' is not one of: yes, no." },
    { H "complaint: {throtle: same}\n",
      "complaint: The name 'throtle' is not known here. Did you mean "
      "'throttle'?" },
    { H "vehicle: {top_speed: 90}\n",
      "vehicle: The name 'top_speed' is not known here. Did you mean "
      "'top_speed_km_h'?" },
    /* shapes */
    { "- a\n- b\n",
      "Wanted is a mapping (lines of 'key: value'). Found: a list." },
    { "halfturn\n",
      "Wanted is a mapping (lines of 'key: value'). Found: 'halfturn'." },
    { H "vehicle: car\n",
      "vehicle: Wanted is a mapping (lines of 'key: value'). Found: 'car'." },
    { H "driveline: none\n",
      "driveline: Wanted is a list of mappings. Found: 'none'." },
    { H "title: [a]\n", "title: Wanted is a text. Found: a list." },
    { H "title: a\ntitle: b\n",
      "title: This is given twice, first on line 2. Keep one." },
    { H "vehicle: {accessories: {fan: 1, fan: 2}}\n",
      "vehicle.accessories.fan: This is given twice, first on line 2. Keep "
      "one." },
    { H "vehicle: {accessories: [1]}\n",
      "vehicle.accessories: Wanted is a mapping of names to numbers. Found: a "
      "list." },
    { H "title: a: b\n",
      "A ': ' stands where no key can be. Indent the keys of one mapping "
      "alike, and put a text that holds ': ' in quotes." },
    { H "title: \"a\n",
      "The file ends inside a quoted text. The closing quote is missing." },
    { H "checks:\n  seen:\n  -\ta\n", "A tab stands here. Use blanks." },
    { H "checks: {seen: [a, , b]}\n",
      "A value is wanted here. There is a comma too many, or a bracket that is "
      "not closed." },
    { H "title: @home\n",
      "This character cannot begin a value. Put the text in quotes." },
    /* keys that must fit each other */
    { H "vehicle: {axle_teeth: [41, 11], axle_ratio: 3.9}\n",
      "vehicle: 'axle_ratio' and 'axle_teeth' on line 2 say the same thing. "
      "Keep one." },
    { H "vehicle: {axle_teeth: [11, 41]}\n",
      "vehicle.axle_teeth: The teeth are given as 11 and 41. The ring gear "
      "stands first, as in [41, 11]." },
    { H "vehicle: {engine: {cylinders: 4, strokes: 3}}\n",
      "vehicle.engine.strokes: An engine has 2 or 4 strokes. Found: 3." },
    { H "identity: {date: 20.11.2026}\n",
      "identity.date: Wanted is a day, year first, as 2026-11-20. Found: "
      "'20.11.2026'." },
    { H "driveline: {members: [a, b, c], joints: [cardan]}\n",
      "driveline.joints: Joints given: 1. Wanted: 2, one between each pair of "
      "members." },
    { H "driveline: {members: [a, b, c], yokes_deg: [0, 0]}\n",
      "driveline.yokes_deg: Values given: 2. Wanted: 1, one for each shaft "
      "(the members between the two ends)." },
    { H "driveline: {chain: [{member: a}, {member: b}, {member: c}]}\n",
      "driveline.chain: Entry 2 must be a joint. Members and joints stand in "
      "turn, front to rear." },
    { H "driveline: {chain: [{member: a}, {joint: cardan}, {member: b}, "
        "{joint: cardan}]}\n",
      "driveline.chain: The last entry is a joint. A member (pinion, axle) "
      "must follow it." },
    { H "driveline: {chain: [{member: a}, {joint: cardan}, {member: b}], "
        "joints: [cardan]}\n",
      "driveline.joints: 'chain' holds this already. Put it into the entries "
      "of the chain." },
    { H "driveline: [{name: a}, {to: b}]\n",
      "driveline: There are several drivelines, and entry 2 has no name. Give "
      "each of them a name." },
    { H "driveline: {members: [a, b]}\n"
        "angles: {read: [{member: a, slope_deg: 1}, {member: c, "
        "slope_deg: 2}]}\n",
      "angles.read[2].member: 'c' stands where the driveline has 'b'. Members "
      "are listed front to rear." },
    { H "angles: {read: [{member: a, slope_deg: 1}, {member: b}]}\n",
      "angles.read: There is no reading for 'b'. Give slope_deg, flip or "
      "face." },
    { H "angles: {read: [{member: a, slope_deg: 1, heading_deg: 0}, "
        "{member: b, slope_deg: 1}]}\n",
      "angles.read: heading_deg is given for 1 of 2 members. Give it for all "
      "or for none." },
    { H "angles: {read: [{slope_deg: 1}, {member: b, slope_deg: 1}]}\n",
      "angles.read[1]: The key 'member' is missing. Add it." },
    { H "angles: {slopes_deg: [1, 2], headings_deg: [1, 2, 3]}\n",
      "angles.headings_deg: Values given: 3. Wanted: 2, one for each slope." },
    { H "angles: {slopes_deg: [1, 2], joints_deg: [1]}\n",
      "angles: 'joints_deg' and 'slopes_deg' on line 2 say the same thing. "
      "Keep one." },
    { H "complaint: {speed_km_h: [100, 85]}\n",
      "complaint.speed_km_h: The speeds run from the higher to the lower. "
      "Write the lower first, as in [85, 100]." },
    { H "drive: {speed: {from_km_h: 50}}\n",
      "drive.speed.from_km_h: A run has a speed it starts from and one it goes "
      "to. Give both." },
    { H "drive: {speed: {steady_km_h: 50, from_km_h: 1, to_km_h: 2}}\n",
      "drive.speed.from_km_h: The speed is given in two ways. Give a log, or a "
      "steady speed, or from and to." },
    { H "vehicle: {gear_ratios: [3, 2, 1]}\ndrive: {gear: 5}\n",
      "drive.gear: The drive was in gear 5, but gear_ratios holds only 3. "
      "Correct the gear or the list." },
    { "halfturn: 0\n",
      "halfturn: There is no such version. Write 'halfturn: 1'." },
    /* JSON */
    { "{\"halfturn\": 1, \"title\": }",
      "This is not JSON. Look for a missing comma, colon, quote or bracket "
      "here or just before." },
    { "{\"halfturn\": 1, \"halfturn\": 1}",
      "The key just before this place stands in its object already. Keep "
      "one." },
    { "{\"halfturn\": 1, \"vehicle\": {\"mass_kg\": true}}",
      "vehicle.mass_kg: Wanted is a number in kg. Found: 'true'." },
};

static void each_kind_of_slip_has_its_sentence(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sentences / sizeof sentences[0]; i++)
        assert_first_problem(sentences[i].sheet, sentences[i].first);
}

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
        cmocka_unit_test(each_kind_of_slip_has_its_sentence),
        cmocka_unit_test(lists_of_whole_numbers_are_no_decimal_commas),
        cmocka_unit_test(all_problems_come_at_once_in_the_order_of_the_file),
        cmocka_unit_test(json_problems_have_their_place_too),
        cmocka_unit_test(every_line_with_a_tab_is_named),
        cmocka_unit_test(a_long_line_is_cut_around_its_caret),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
