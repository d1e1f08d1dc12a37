#include "sheet_case.h"

#define PAGE HALFTURN_SOURCE_DIR "/docs/sheet.md"

static void the_committed_page_is_what_the_schema_writes(void **state)
{
    (void)state;
    struct ht_text page = { 0 };
    size_t length;
    ht_sheet_page(&page);
    assert_true(ht_text_ok(&page));
    if (getenv("HALFTURN_WRITE_DOCS")) {
        FILE *file = fopen(PAGE, "wb");
        assert_non_null(file);
        assert_int_equal(fwrite(page.bytes, 1, page.length, file), page.length);
        assert_int_equal(fclose(file), 0);
    }
    char *committed = file_bytes(PAGE, &length);
    if (strcmp(committed, ht_text_get(&page)) != 0)
        fail_msg("docs/sheet.md is not up to date: run "
                 "HALFTURN_WRITE_DOCS=1 build/tests/document-page");
    free(committed);
    ht_text_free(&page);
}

static void the_examples_on_the_page_read_without_a_problem(void **state)
{
    (void)state;
    size_t length, found = 0;
    char *page = file_bytes(PAGE, &length), *at = page;
    while ((at = strstr(at, "```yaml\n")) != NULL) {
        char *start = at + strlen("```yaml\n"), *end = strstr(start, "```");
        assert_non_null(end);
        *end = '\0';
        struct ht_sheet sheet;
        read_good(&sheet, start);
        assert_int_equal(sheet.angles[0].slope_count, 3);
        assert_int_equal(sheet.drivelines[0].members.count, 3);
        ht_sheet_free(&sheet);
        at = end + 1;
        found++;
    }
    assert_int_equal(found, 1);
    free(page);
}

static bool has_key(const char *text, const char *key)
{
    size_t length = strlen(key);
    for (const char *at = text; (at = strstr(at, key)) != NULL; at++)
        if (at > text && strchr(" {\n-", at[-1]) && at[length] == ':')
            return true;
    return false;
}

/* Keys that exclude another of the full sheet's, or that a text without a
 * folder cannot have. */
static bool is_left_out(const char *key)
{
    static const char *const keys[] = { "like",       "tyre_turns_per_km",
                                        "axle_ratio", "motor",
                                        "ratio",      "readings_deg" };
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (strcmp(keys[i], key) == 0)
            return true;
    return false;
}

static void look_for_keys(const struct ht_schema *schema, const char *text,
                          size_t *seen)
{
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        assert_non_null(row->help);
        if (!is_left_out(row->key) && !has_key(text, row->key))
            fail_msg("full.yaml lacks %s.%s", schema->name, row->key);
        *seen += 1;
        if (row->child)
            look_for_keys(row->child, text, seen);
    }
}

static void the_full_sheet_of_the_tests_has_every_key(void **state)
{
    (void)state;
    size_t length, seen = 0;
    char *text = file_bytes(FULL_SHEET, &length);
    look_for_keys(ht_sheet_schema(), text, &seen);
    assert_true(seen > 100);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_committed_page_is_what_the_schema_writes),
        cmocka_unit_test(the_examples_on_the_page_read_without_a_problem),
        cmocka_unit_test(the_full_sheet_of_the_tests_has_every_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
