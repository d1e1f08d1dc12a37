/* The sheet as YAML for people: what stands behind a '#' can be taken into
 * use line by line, any text survives, and it fits a terminal. */
#include "sheet_case.h"

#include "random.h"

#include <math.h>

static void write_good(struct ht_text *yaml, const struct ht_sheet *sheet)
{
    struct ht_error err = { 0 };
    if (ht_sheet_write_yaml(yaml, sheet, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static size_t indent_of(const char *line)
{
    return strspn(line, " ");
}

/* "#  key:" with an even indent; prose begins with "# " and a letter. */
static bool is_key_behind_mark(const char *line)
{
    size_t indent = line[0] == '#' ? indent_of(line + 1) : 1;
    const char *key = line + 1 + indent;
    size_t length = strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789_");
    return indent % 2 == 0 && length > 0 && key[length] == ':';
}

enum { LINES_MAX = 400 };

static size_t split(char *text, char *lines[LINES_MAX])
{
    size_t count = 0;
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        assert_true(count < LINES_MAX);
        lines[count++] = line;
    }
    return count;
}

/* The text with line `taken` and the headings it stands under in use. */
static void join(struct ht_text *text, char *const lines[], size_t count,
                 size_t taken)
{
    bool used[LINES_MAX] = { false };
    size_t indent = indent_of(lines[taken] + 1) + 1;
    for (size_t i = taken + 1; i-- > 0;) {
        bool hidden = is_key_behind_mark(lines[i]);
        size_t at = indent_of(lines[i] + (hidden ? 1 : 0));
        if ((lines[i][0] != '#' || hidden) && at < indent) {
            used[i] = hidden;
            indent = at;
        }
    }
    for (size_t i = 0; i < count; i++)
        ht_text_addf(text, "%s\n", lines[i] + (used[i] ? 1 : 0));
}

/* How many keys behind a mark were tried. */
static size_t take_each_into_use(const struct ht_sheet *sheet)
{
    struct ht_text yaml = { 0 };
    char *lines[LINES_MAX];
    write_good(&yaml, sheet);
    size_t count = split(yaml.bytes, lines), tried = 0;
    for (size_t i = 0; i < count; i++) {
        struct ht_text text = { 0 };
        struct ht_sheet again;
        if (!is_key_behind_mark(lines[i]) || strncmp(lines[i], "#like", 5) == 0)
            continue;
        join(&text, lines, count, i);
        read_good(&again, ht_text_get(&text));
        ht_sheet_free(&again);
        ht_text_free(&text);
        tried++;
    }
    ht_text_free(&yaml);
    return tried;
}

static void every_key_behind_a_mark_can_be_taken_into_use(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_good(&sheet, "halfturn: 1\n");
    assert_true(take_each_into_use(&sheet) > 90);
    ht_sheet_free(&sheet);
    read_good(&sheet, "halfturn: 1\nvehicle: {class: van, engine: {strokes: 4}}"
                      "\ndriveline: {members: [a, b, c]}\n"
                      "angles: {slopes_deg: [1, 2, 3]}\nlimits: car\n");
    assert_true(take_each_into_use(&sheet) > 70);
    ht_sheet_free(&sheet);
}

static void it_fits_a_terminal_and_ends_no_line_with_a_blank(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    struct ht_text yaml = { 0 };
    char *lines[LINES_MAX];
    read_good(&sheet, "halfturn: 1\nvehicle: {gear_ratios: [12.728, 9.541, "
                      "7.112, 5.333, 3.987, 2.985, 2.247, 1.681, 1.258, 1, "
                      "0.784, 0.632]}\n");
    write_good(&yaml, &sheet);
    size_t count = split(yaml.bytes, lines);
    for (size_t i = 0; i < count; i++) {
        size_t length = strlen(lines[i]);
        if (length > 80 || lines[i][length - 1] == ' ')
            fail_msg("%zu columns: '%s'", length, lines[i]);
    }
    ht_text_free(&yaml);
    ht_sheet_free(&sheet);
}

static void the_number_written_is_the_number_that_was_read(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    struct ht_text yaml = { 0 };
    read_good(&sheet, "halfturn: 1\nangles: {slopes_deg: [2.1, 4.35, -0.05, "
                      "12d30]}\nvehicle: {axle_ratio: 3.73, top_speed_km_h: "
                      "120}\n");
    write_good(&yaml, &sheet);
    assert_non_null(strstr(ht_text_get(&yaml), "[2.1, 4.35, -0.05, 12.5]"));
    assert_non_null(strstr(ht_text_get(&yaml), "axle_ratio: 3.73 "));
    assert_non_null(strstr(ht_text_get(&yaml), "top_speed_km_h: 120 "));
    ht_text_free(&yaml);
    ht_sheet_free(&sheet);
}

/* "0 front", as a slope, is -0. */
static void nought_has_no_sign(void **state)
{
    (void)state;
    struct ht_sheet sheet, again;
    struct ht_text yaml = { 0 };
    read_good(&sheet, "halfturn: 1\nangles: {slopes_deg: [2.1, -0, -0.0]}\n");
    write_good(&yaml, &sheet);
    read_good(&again, yaml.bytes);
    for (size_t i = 1; i < 3; i++) {
        double first = sheet.angles[0].slopes[i].readings_rad.value[0];
        double second = again.angles[0].slopes[i].readings_rad.value[0];
        assert_true(first == 0 && !signbit(first));
        assert_true(second == 0 && !signbit(second));
    }
    ht_text_free(&yaml);
    ht_sheet_free(&sheet);
    ht_sheet_free(&again);
}

static void any_text_survives(void **state)
{
    (void)state;
    static const char *const pieces[] = {
        "a", "7", " ", ":", "#", "'", "\"", "\\", "-", "[", "]", "{", "}",
        ",", "~", "&", "*", "!", "|", ">", "%", "@", "`", "?", "\n", "\t",
        "\xc2\xb0", "\xe2\x80\xa8", "\xf0\x9f\x9a\x9a", "\x01", "\xef\xbb\xbf",
        "null", "yes", "...", "---", "<<", "=" , "\xc2\x85", "\xe2\x80\x93"
    };
    struct random_source source = { 11 };
    for (int i = 0; i < 3000; i++) {
        struct ht_text title = { 0 }, yaml = { 0 };
        size_t count = 1 + (size_t)random_uniform(&source, 0, 6);
        for (size_t k = 0; k < count; k++)
            ht_text_add(&title, pieces[(size_t)random_uniform(
                                    &source, 0, sizeof pieces /
                                                    sizeof pieces[0])]);
        struct ht_sheet sheet, again;
        read_good(&sheet, "halfturn: 1\n");
        sheet.title = ht_text_get(&title);
        write_good(&yaml, &sheet);
        read_good(&again, ht_text_get(&yaml));
        if (!again.title || strcmp(again.title, sheet.title) != 0)
            fail_msg("seed 11: '%s' became '%s' by\n%.200s", sheet.title,
                     again.title ? again.title : "nothing",
                     ht_text_get(&yaml));
        ht_sheet_free(&again);
        ht_sheet_free(&sheet);
        ht_text_free(&title);
        ht_text_free(&yaml);
    }
}

static void further_keys_add_and_a_wrong_one_changes_nothing(void **state)
{
    (void)state;
    static const char good[] = "{\"halfturn\": 1, \"vehicle\": "
                               "{\"axle_ratio\": \"3.73\"}}";
    static const char bad[] = "{\"halfturn\": 1, \"vehicle\": {\"axle_teeth\": "
                              "[\"11\", \"41\"], \"class\": \"bus\"}}";
    static const char like[] = "halfturn: 1\nlike: old.yaml\n";
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    assert_int_equal(ht_sheet_open(&sheet, &err), HT_OK);
    assert_int_equal(ht_sheet_add_text(&sheet, "answer",
                                       "halfturn: 1\nvehicle: {class: van}\n",
                                       34, NULL, &err), HT_OK);
    assert_int_equal(ht_sheet_add_text(&sheet, "answer", good,
                                       sizeof good - 1, NULL, &err), HT_OK);
    assert_int_equal(ht_sheet_add_text(&sheet, "answer", bad, sizeof bad - 1,
                                       NULL, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "ring gear stands first"));
    assert_int_equal(ht_sheet_add_text(&sheet, "answer", like,
                                       sizeof like - 1, NULL, &err),
                     HT_BAD_FILE);
    assert_int_equal(sheet.vehicle.class, HT_CLASS_VAN);
    assert_close(sheet.vehicle.axle_ratio, 3.73, 0);
    assert_int_equal(sheet.vehicle.axle_teeth.count, 0);
    assert_null(sheet.like);
    ht_sheet_free(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_behind_a_mark_can_be_taken_into_use),
        cmocka_unit_test(it_fits_a_terminal_and_ends_no_line_with_a_blank),
        cmocka_unit_test(the_number_written_is_the_number_that_was_read),
        cmocka_unit_test(nought_has_no_sign),
        cmocka_unit_test(any_text_survives),
        cmocka_unit_test(further_keys_add_and_a_wrong_one_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
