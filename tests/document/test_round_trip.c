/* The sheet written as JSON, or as YAML for people, and read again is the same
 * sheet, field by field and bit by bit. */
#include "sheet_case.h"

#include "random.h"

#include <math.h>

struct pair {
    const char *a, *b;
    size_t compared;
};

static void same_number(struct pair *pair, double a, double b, const char *key)
{
    if (!(isnan(a) && isnan(b)) && memcmp(&a, &b, sizeof a) != 0)
        fail_msg("%s: %.17g became %.17g", key, a, b);
    pair->compared++;
}

static void same_text(struct pair *pair, const char *a, const char *b,
                      const char *key)
{
    if ((a == NULL) != (b == NULL) || (a && strcmp(a, b) != 0))
        fail_msg("%s: '%s' became '%s'", key, a ? a : "NULL", b ? b : "NULL");
    pair->compared++;
}

static void same_record(const struct ht_schema *schema, struct pair *pair);

#define FIELD(type, base, row)                                                 \
    ((const type *)(const void *)((base) + (row)->at))

static void same_list(const struct ht_row *row, struct pair *pair)
{
    const struct ht_numbers *a = FIELD(struct ht_numbers, pair->a, row);
    const struct ht_numbers *b = FIELD(struct ht_numbers, pair->b, row);
    assert_int_equal(a->count, b->count);
    for (size_t i = 0; i < a->count; i++)
        if (row->kind == HT_IS_NUMBERS)
            same_number(pair, a->value[i], b->value[i], row->key);
        else
            same_text(pair, ((const char **)(void *)a->value)[i],
                      ((const char **)(void *)b->value)[i], row->key);
}

static void same_array(const struct ht_row *row, struct pair *pair)
{
    size_t count = row->most;
    if (row->count_at != HT_ALL) {
        count = *(const size_t *)(const void *)(pair->a + row->count_at);
        assert_int_equal(
            count, *(const size_t *)(const void *)(pair->b + row->count_at));
    }
    const char *a = pair->a + row->at, *b = pair->b + row->at;
    if (row->kind != HT_IS_NUMBER_ARRAY) {
        a = *(const char *const *)(const void *)a;
        b = *(const char *const *)(const void *)b;
    }
    for (size_t i = 0; i < count; i++) {
        const struct ht_named_numbers *na =
            (const struct ht_named_numbers *)(const void *)a;
        const struct ht_named_numbers *nb =
            (const struct ht_named_numbers *)(const void *)b;
        if (row->kind == HT_IS_NUMBER_ARRAY)
            same_number(pair, ((const double *)(const void *)a)[i],
                        ((const double *)(const void *)b)[i], row->key);
        else if (row->kind == HT_IS_WORDS)
            assert_int_equal(((const int *)(const void *)a)[i],
                             ((const int *)(const void *)b)[i]);
        else if (row->kind == HT_IS_NAMED)
            same_number(pair, ((const struct ht_named_ratio *)na)[i].ratio,
                        ((const struct ht_named_ratio *)nb)[i].ratio, row->key);
        else if (row->kind == HT_IS_NAMED_LISTS)
            same_number(pair, na[i].list.value[0], nb[i].list.value[0],
                        row->key);
        else {
            struct pair inner = { a + i * row->child->size,
                                  b + i * row->child->size, 0 };
            same_record(row->child, &inner);
            pair->compared += inner.compared;
        }
    }
}

static void same_field(const struct ht_row *row, struct pair *pair)
{
    struct pair inner = { pair->a + row->at, pair->b + row->at, 0 };
    switch (row->kind) {
    case HT_IS_NUMBER:
        same_number(pair, *FIELD(double, pair->a, row),
                    *FIELD(double, pair->b, row), row->key);
        break;
    case HT_IS_WORD:
    case HT_IS_WORD_SET:
        assert_int_equal(*FIELD(int, pair->a, row), *FIELD(int, pair->b, row));
        break;
    case HT_IS_TEXT:
        same_text(pair, *FIELD(char *, pair->a, row),
                  *FIELD(char *, pair->b, row), row->key);
        break;
    case HT_IS_NUMBERS:
    case HT_IS_TEXTS:
        same_list(row, pair);
        break;
    case HT_IS_MAP:
        same_record(row->child, &inner);
        pair->compared += inner.compared;
        break;
    default:
        same_array(row, pair);
    }
}

static void same_record(const struct ht_schema *schema, struct pair *pair)
{
    for (size_t r = 0; r < schema->row_count; r++)
        if (!(schema->rows[r].flags & HT_READ_ONLY))
            same_field(&schema->rows[r], pair);
}

/* Through the YAML for people; `json` is the sheet as JSON. */
static void round_trip_by_yaml(const struct ht_sheet *sheet, const char *json)
{
    struct ht_text yaml = { 0 }, second = { 0 };
    struct ht_sheet again;
    struct ht_error err = { 0 };
    if (ht_sheet_write_yaml(&yaml, sheet, &err) != HT_OK ||
        ht_sheet_read_text(&again, "again.yaml", yaml.bytes, yaml.length, NULL,
                           &err) != HT_OK)
        fail_msg("%s\n%s", err.text, ht_text_get(&yaml));
    assert_int_equal(ht_sheet_write_json(&second, &again, &err), HT_OK);
    if (strcmp(json, ht_text_get(&second)) != 0)
        fail_msg("%s\nbecame\n%s\nby\n%s", json, ht_text_get(&second),
                 ht_text_get(&yaml));
    ht_text_free(&yaml);
    ht_text_free(&second);
    ht_sheet_free(&again);
}

/* How many values were compared. */
static size_t round_trip(const struct ht_sheet *sheet)
{
    struct ht_text first = { 0 }, second = { 0 };
    struct ht_sheet again;
    struct ht_error err = { 0 };
    if (ht_sheet_write_json(&first, sheet, &err) != HT_OK ||
        ht_sheet_read_text(&again, "again.json", first.bytes, first.length,
                           NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    struct pair pair = { (const char *)sheet, (const char *)&again, 0 };
    same_record(ht_sheet_schema(), &pair);
    assert_int_equal(sheet->complaint.given, again.complaint.given);
    assert_int_equal(ht_sheet_write_json(&second, &again, &err), HT_OK);
    assert_string_equal(ht_text_get(&first), ht_text_get(&second));
    round_trip_by_yaml(sheet, ht_text_get(&first));
    ht_text_free(&first);
    ht_text_free(&second);
    ht_sheet_free(&again);
    return pair.compared;
}

static void the_full_sheet_comes_back_equal(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    assert_int_equal(ht_sheet_read(&sheet, FULL_SHEET, NULL, NULL), HT_OK);
    assert_true(round_trip(&sheet) > 200);
    assert_true(sheet.angles[0].slopes[3].is_face);
    ht_sheet_free(&sheet);
}

static void a_sheet_that_says_nothing_comes_back_equal(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    read_good(&sheet, "halfturn: 1\n");
    (void)round_trip(&sheet);
    ht_sheet_free(&sheet);
    read_good(&sheet, "halfturn: 1\ncomplaint: {}\n");
    (void)round_trip(&sheet);
    ht_sheet_free(&sheet);
}

/* An inch is no whole number of millimetres' last places: without care the
 * last bit is lost. */
static void any_number_survives_its_unit_bit_by_bit(void **state)
{
    (void)state;
    struct random_source source = { 7 };
    for (int i = 0; i < 500; i++) {
        char text[600];
        struct ht_sheet sheet;
        (void)snprintf(
            text, sizeof text,
            "halfturn: 1\nvehicle: {top_speed_%s: %.*f, torque_lb_ft: %.3f,\n"
            "  axle: {pinion_to_axle_%s: %.4f}, tyre_turns_per_mile: %.2f}\n"
            "angles: {slopes_deg: [%.3f, %.17g]}\n",
            i % 2 ? "km_h" : "mph", i % 9, random_uniform(&source, 20, 200),
            random_uniform(&source, 100, 900), i % 3 ? "in" : "mm",
            random_uniform(&source, 25, 70), random_uniform(&source, 400, 900),
            random_uniform(&source, -9, 9), random_uniform(&source, -9, 9));
        read_good(&sheet, text);
        (void)round_trip(&sheet);
        ht_sheet_free(&sheet);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_full_sheet_comes_back_equal),
        cmocka_unit_test(a_sheet_that_says_nothing_comes_back_equal),
        cmocka_unit_test(any_number_survives_its_unit_bit_by_bit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
