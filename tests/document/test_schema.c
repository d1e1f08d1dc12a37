/* A table of ours with every kind, read from YAML and written as JSON. */
#include "sheet_case.h"

#include "halfturn/document.h"
#include "halfturn/json.h"

#include <math.h>

struct inner {
    double length_m;
    const char *name;
};
struct everything {
    double number;
    size_t count;
    unsigned whole;
    int signed_whole;
    bool is;
    int word;
    unsigned set;
    const char *text;
    char chars[8];
    struct {
        double *value;
        size_t count;
    } numbers;
    double array[3];
    size_t array_count;
    int *words;
    size_t word_count;
    struct {
        const char **text;
        size_t count;
    } texts;
    char notes[2][12];
    size_t note_count;
    const char *names[2];
    size_t name_count;
    struct inner map;
    struct inner *maps;
    size_t map_count;
    struct inner inline_maps[2];
    size_t inline_count;
    struct {
        const char *name;
        double number;
    } * named;
    size_t named_count;
    double pair[2];
};

static const struct ht_word words[] = {
    { "red", 1, NULL },
    { "blue", 2, NULL },
    { "green", 4, NULL },
    { NULL, 0, NULL },
};
static const struct ht_row inner_rows[] = {
    { "length_mm", HT_IS_NUMBER, HT_QUANTITY_LENGTH,
      .at = offsetof(struct inner, length_m), .low = 1, .high = 254 },
    { "name", HT_IS_TEXT, .at = offsetof(struct inner, name) },
};
static const struct ht_schema inner_schema = {
    HT_SCHEMA("inner", NULL, inner_rows, struct inner),
    .bare = "name",
};
#define AT(field) .at = offsetof(struct everything, field)
#define COUNT(field) .count_at = offsetof(struct everything, field)
static const struct ht_row rows[] = {
    { "number", HT_IS_NUMBER, AT(number), .flags = HT_NULL },
    { "count", HT_IS_COUNT, AT(count) },
    { "whole", HT_IS_UNSIGNED, AT(whole) },
    { "signed", HT_IS_INT, AT(signed_whole) },
    { "is", HT_IS_BOOL, AT(is) },
    { "word", HT_IS_WORD, AT(word), .words = words },
    { "set", HT_IS_WORD_SET, AT(set), .words = words },
    { "text", HT_IS_TEXT, AT(text) },
    { "chars", HT_IS_CHARS, AT(chars), .most = 8 },
    { "numbers_deg", HT_IS_NUMBERS, HT_QUANTITY_ANGLE, AT(numbers), .low = -90,
      .high = 90 },
    { "array", HT_IS_NUMBER_ARRAY, AT(array), COUNT(array_count), .most = 3 },
    { "words", HT_IS_WORDS, AT(words), COUNT(word_count), .words = words },
    { "texts", HT_IS_TEXTS, AT(texts) },
    { "notes", HT_IS_CHARS_ARRAY, AT(notes), COUNT(note_count), .most = 2,
      .item_size = 12, .flags = HT_KEEP_EMPTY },
    { "names", HT_IS_TEXT_ARRAY, AT(names), COUNT(name_count), .most = 2 },
    { "map", HT_IS_MAP, AT(map), .child = &inner_schema },
    { "maps", HT_IS_MAPS, AT(maps), COUNT(map_count), .child = &inner_schema },
    { "inline", HT_IS_MAP_ARRAY, AT(inline_maps), COUNT(inline_count),
      .most = 2, .child = &inner_schema },
    { "named", HT_IS_NAMED, AT(named), COUNT(named_count) },
    { "pair", HT_IS_NUMBER_ARRAY, AT(pair), .count_at = HT_ALL, .least = 2,
      .most = 2 },
};
static const struct ht_schema schema = {
    HT_SCHEMA("everything", "All kinds.", rows, struct everything),
};

static const char yaml[] =
    "number: 1e3\ncount: 3\nwhole: 7\nsigned: -4\nis: yes\nword: blue\n"
    "set: [red, green]\ntext: 012\nchars: abc\nnumbers_deg: [1, 20d30]\n"
    "array: [1, 2]\nwords: [green, red]\ntexts: one\nnotes: [x, yy]\n"
    "names: [p]\nmap: {length_in: 10}\nmaps: [alone, {length_mm: 5}]\n"
    "inline: [{length_thou: 500, name: q}]\nnamed: {a: 1, b: 2.5}\n"
    "pair: [8, 9]\n";

static enum ht_status read(struct everything *all, void **memory,
                           const char *text, struct ht_error *err)
{
    struct ht_source source = { "all.yaml", text, strlen(text), 0 };
    return ht_document_read(all, memory, &schema, &source, NULL, err);
}

static void every_kind_of_value_reaches_its_field(void **state)
{
    (void)state;
    struct everything all;
    void *memory;
    struct ht_error err = { 0 };
    enum ht_status status = read(&all, &memory, yaml, &err);
    if (status != HT_OK)
        fail_msg("%s", err.text);
    assert_close(all.number, 1000, 0);
    assert_int_equal(all.count, 3);
    assert_int_equal(all.whole, 7);
    assert_int_equal(all.signed_whole, -4);
    assert_true(all.is);
    assert_int_equal(all.word, 2);
    assert_int_equal(all.set, 5);
    assert_string_equal(all.text, "012");
    assert_string_equal(all.chars, "abc");
    assert_int_equal(all.numbers.count, 2);
    /* 20.5 degrees in rad; two units in the last place of 0.36. */
    assert_close(all.numbers.value[1], 0.35779249665883754, 1e-16);
    assert_int_equal(all.array_count, 2);
    assert_int_equal(all.words[0], 4);
    assert_int_equal(all.texts.count, 1);
    assert_string_equal(all.notes[1], "yy");
    assert_string_equal(all.names[0], "p");
    assert_close(all.map.length_m, 0.254, 1e-16);
    assert_string_equal(all.maps[0].name, "alone");
    assert_true(isnan(all.maps[0].length_m));
    assert_close(all.maps[1].length_m, 0.005, 0);
    assert_close(all.inline_maps[0].length_m, 0.0127, 1e-17);
    assert_int_equal(all.named_count, 2);
    assert_string_equal(all.named[1].name, "b");
    assert_close(all.named[1].number, 2.5, 0);
    assert_close(all.pair[1], 9, 0);
    ht_document_free(&memory);
}

static void what_is_not_said_is_nan_null_and_zero(void **state)
{
    (void)state;
    struct everything all;
    void *memory;
    assert_int_equal(read(&all, &memory, "text:\nnumber: ~\nmap:\n", NULL),
                     HT_OK);
    assert_true(isnan(all.number));
    assert_true(isnan(all.map.length_m));
    assert_true(isnan(all.array[2]));
    assert_true(isnan(all.inline_maps[1].length_m));
    assert_null(all.text);
    assert_int_equal(all.word, 0);
    assert_int_equal(all.numbers.count, 0);
    ht_document_free(&memory);
}

static void written(struct ht_text *out, const struct everything *all)
{
    struct ht_json *json = ht_json_create();
    struct ht_error err = { 0 };
    ht_json_rows(json, &schema, all);
    if (ht_json_finish(json, out, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static void what_is_written_reads_back_and_writes_the_same_bytes(void **state)
{
    (void)state;
    struct everything all, again;
    void *memory, *memory_again;
    struct ht_text first = { 0 }, second = { 0 };
    assert_int_equal(read(&all, &memory, yaml, NULL), HT_OK);
    written(&first, &all);
    assert_int_equal(read(&again, &memory_again, ht_text_get(&first), NULL),
                     HT_OK);
    written(&second, &again);
    assert_string_equal(ht_text_get(&first), ht_text_get(&second));
    assert_non_null(strstr(first.bytes, "\"is\": true"));
    assert_non_null(strstr(first.bytes, "\"whole\": 7"));
    assert_non_null(strstr(first.bytes, "\"length_mm\": 254.0"));
    assert_non_null(strstr(first.bytes, "\"alone\""));
    ht_text_free(&first);
    ht_text_free(&second);
    ht_document_free(&memory);
    ht_document_free(&memory_again);
}

static void an_empty_struct_writes_only_what_its_flags_ask_for(void **state)
{
    (void)state;
    struct everything all;
    struct ht_text out = { 0 };
    ht_record_clear(&all, &schema);
    written(&out, &all);
    assert_string_equal(ht_text_get(&out),
                        "{\n \"number\": null,\n \"count\": 0,\n"
                        " \"whole\": 0,\n \"signed\": 0,\n"
                        " \"is\": false,\n \"notes\": []\n}\n");
    ht_text_free(&out);
}

static void what_does_not_fit_an_inline_field_is_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {
        "chars: abcdefgh\n",
        "array: [1, 2, 3, 4]\n",
        "notes: [1, 2, 3]\n",
        "notes: [a text of twelve or more]\n",
        "names: [1, 2, 3]\n",
        "inline: [a, b, c]\n",
        "count: -1\n",
        "count: 1.5\n",
        "whole: 99999999999\n",
        "signed: -99999999999\n",
        "pair: [1]\n",
        "named: [1, 2]\n",
        "named: {a: 1, a: 2}\n",
        "map: [1]\n",
        "maps: {length_mm: 300}\n",
        "is: maybe\n",
        "text: [a]\n",
        "numbers_deg: [1, [2]]\n",
        "{number: 5, map: {length_mm: 2}, word: pink}\n",
        "word: {a: 1}\n",
        "set: [red, pink]\n",
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct everything all;
        void *memory;
        struct ht_error err = { 0 };
        if (read(&all, &memory, bad[i], &err) != HT_BAD_FILE)
            fail_msg("accepted: %s", bad[i]);
        assert_int_equal(err.line, 1);
        assert_null(memory);
        assert_true(isnan(all.number));
        assert_true(isnan(all.map.length_m));
    }
}

/* 254 mm is 10 in exactly: a bound stays inside in every unit. */
static void a_bound_of_the_range_is_inside_in_every_unit(void **state)
{
    (void)state;
    static const char *const fine[] = { "map: {length_mm: 254}\n",
                                        "map: {length_in: 10}\n",
                                        "map: {length_thou: 10000}\n",
                                        "map: {length_mm: 1}\n" };
    struct everything all;
    void *memory;
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        assert_int_equal(read(&all, &memory, fine[i], NULL), HT_OK);
        ht_document_free(&memory);
    }
    assert_int_equal(read(&all, &memory, "map: {length_in: 10.01}\n", NULL),
                     HT_BAD_FILE);
}

static void a_file_that_is_not_there_is_named(void **state)
{
    (void)state;
    struct everything all;
    void *memory;
    struct ht_error err = { 0 };
    struct ht_source source = { .name = "/nowhere/at/all.yaml" };
    assert_int_equal(
        ht_document_read(&all, &memory, &schema, &source, NULL, &err),
        HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "/nowhere/at/all.yaml"));
    source.name = "/";
    assert_int_equal(
        ht_document_read(&all, &memory, &schema, &source, NULL, &err),
        HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "folder"));
    source.name = "/proc/self/mem"; /* opens, and cannot be read at 0 */
    assert_int_equal(
        ht_document_read(&all, &memory, &schema, &source, NULL, &err),
        HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "to its end"));
}

static void the_nearest_name_is_a_near_one(void **state)
{
    (void)state;
    static const char *const names[] = { "angles", "axle", "top_speed_km_h",
                                         NULL };
    assert_string_equal(ht_nearest_name("angels", names), "angles");
    assert_string_equal(ht_nearest_name("top_speed", names), "top_speed_km_h");
    assert_null(ht_nearest_name("gearbox", names));
    assert_null(ht_nearest_name("x", names));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_of_value_reaches_its_field),
        cmocka_unit_test(what_is_not_said_is_nan_null_and_zero),
        cmocka_unit_test(what_is_written_reads_back_and_writes_the_same_bytes),
        cmocka_unit_test(an_empty_struct_writes_only_what_its_flags_ask_for),
        cmocka_unit_test(what_does_not_fit_an_inline_field_is_refused),
        cmocka_unit_test(a_bound_of_the_range_is_inside_in_every_unit),
        cmocka_unit_test(a_file_that_is_not_there_is_named),
        cmocka_unit_test(the_nearest_name_is_a_near_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
