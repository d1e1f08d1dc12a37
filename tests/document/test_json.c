#include "sheet_case.h"

#include "halfturn/json.h"
#include "random.h"

#include <math.h>

static void an_object_is_written_in_the_order_of_the_calls(void **state)
{
    (void)state;
    struct ht_text out = { 0 };
    struct ht_json *json = ht_json_create();
    ht_json_count(json, "schema", 1);
    ht_json_text(json, "a text", "2\xc3\x97 shaft \"quoted\"\n");
    ht_json_open_list(json, "points");
    ht_json_open_list(json, NULL);
    ht_json_number(json, NULL, 0.1);
    ht_json_number(json, NULL, NAN);
    ht_json_close(json);
    ht_json_close(json);
    ht_json_open_map(json, "map");
    ht_json_bool(json, "yes", true);
    ht_json_null(json, "nothing");
    ht_json_int(json, "below", -3);
    ht_json_number(json, "left out", NAN);
    ht_json_text(json, "left out too", NULL);
    assert_int_equal(ht_json_finish(json, &out, NULL), HT_OK);
    assert_string_equal(ht_text_get(&out),
                        "{\n \"schema\": 1,\n"
                        " \"a text\": \"2\xc3\x97 shaft \\\"quoted\\\"\\n\",\n"
                        " \"points\": [\n  [\n   0.10000000000000001,\n"
                        "   null\n  ]\n ],\n \"map\": {\n  \"yes\": true,\n"
                        "  \"nothing\": null,\n  \"below\": -3\n }\n}\n");
    ht_text_free(&out);
}

enum fault { NOT_UTF8, TWICE, NO_KEY, KEY_IN_LIST, TOO_DEEP, CLOSED };

static enum ht_status write_with(enum fault fault, struct ht_text *out,
                                 struct ht_error *err)
{
    struct ht_json *json = ht_json_create();
    ht_json_count(json, "a", 1);
    if (fault == NOT_UTF8)
        ht_json_text(json, "b", "\xff");
    if (fault == TWICE)
        ht_json_count(json, "a", 2);
    if (fault == NO_KEY)
        ht_json_count(json, NULL, 2);
    if (fault == KEY_IN_LIST) {
        ht_json_open_list(json, "b");
        ht_json_count(json, "c", 2);
    }
    for (int i = 0; fault == TOO_DEEP && i < 40; i++)
        ht_json_open_map(json, "b");
    if (fault == CLOSED)
        ht_json_close(json);
    ht_json_count(json, "later", 3);
    return ht_json_finish(json, out, err);
}

static void a_fault_in_writing_sticks_and_writes_nothing(void **state)
{
    (void)state;
    for (int fault = NOT_UTF8; fault <= CLOSED; fault++) {
        struct ht_text out = { 0 };
        struct ht_error err = { 0 };
        assert_int_equal(write_with((enum fault)fault, &out, &err), HT_BUG);
        assert_int_equal(out.length, 0);
        assert_non_null(strstr(err.text, "JSON"));
    }
}

static void a_ceiling_of_the_text_is_a_failure(void **state)
{
    (void)state;
    struct ht_text out = { .limit = 20 };
    struct ht_json *json = ht_json_create();
    ht_json_text(json, "a", "longer than the ceiling");
    assert_int_equal(ht_json_finish(json, &out, NULL), HT_NO_MEMORY);
    assert_int_equal(out.length, 0);
    ht_text_free(&out);
}

/* 17 significant digits name every double: IEEE 754-2019, 5.12.2. */
static void numbers_come_back_bit_for_bit(void **state)
{
    (void)state;
    struct random_source source = { 20261124 };
    for (int i = 0; i < 2000; i++) {
        struct ht_text out = { 0 };
        struct ht_json *json = ht_json_create();
        double value = ldexp(random_uniform(&source, -1, 1),
                             (int)random_uniform(&source, -300, 300));
        ht_json_number(json, "x", value);
        assert_int_equal(ht_json_finish(json, &out, NULL), HT_OK);
        double back = strtod(strchr(out.bytes, ':') + 1, NULL);
        if (memcmp(&back, &value, sizeof back) != 0)
            fail_msg("%.17g became %.17g", value, back);
        ht_text_free(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_object_is_written_in_the_order_of_the_calls),
        cmocka_unit_test(a_fault_in_writing_sticks_and_writes_nothing),
        cmocka_unit_test(a_ceiling_of_the_text_is_a_failure),
        cmocka_unit_test(numbers_come_back_bit_for_bit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
