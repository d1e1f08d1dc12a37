/* Cases: added, saved, gone back to, removed. */
#include "close.h"
#include "given_store.h"
#include "refused.h"

#include "halfturn/sheet.h"
#include "store/texts.h"

#include <stdio.h>
#include <string.h>

static struct ht_store *store;
static struct ht_error err;
static struct ht_store_case now;

static int begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    store = given_open();
    return 0;
}

static int end(void **state)
{
    ht_store_close(store);
    return given_end(state);
}

static void again(void)
{
    ht_store_close(store);
    store = given_open();
}

static void assert_title(int64_t id, const char *title)
{
    struct ht_store_case found;
    assert_int_equal(ht_store_get(store, id, &found, NULL, &err), HT_OK);
    assert_string_equal(found.title, title);
}

static enum ht_status save(int64_t id, int64_t from, const char *title)
{
    return ht_store_save(store, id, from, given_sheet(title, ""), NULL, &now,
                         &err);
}

static void a_case_is_there_after_opening_again(void **state)
{
    (void)state;
    struct ht_store_case made = given_case(store, "Hums at 90");
    assert_int_equal(made.id, 1);
    assert_int_equal(made.revision, 1);
    assert_true(made.changed_s > 1500000000);
    assert_false(made.can_undo || made.can_redo);
    again();
    assert_int_equal(ht_store_get(store, 1, &now, NULL, &err), HT_OK);
    assert_memory_equal(&now, &made, sizeof now);
}

static void a_sheet_is_kept_as_its_own_tables_write_it(void **state)
{
    (void)state;
    static const char json[] =
        "{\"vehicle\": {\"top_speed_mph\": 100, \"class\": \"van\"},\n"
        " \"halfturn\": 1, \"drive\": {\"recording\": \"a b.wav\",\n"
        " \"speed\": \"log.csv\"}}";
    struct ht_sheet sheet;
    struct ht_text wanted = { 0 }, kept = { 0 };
    assert_int_equal(ht_sheet_read_text(&sheet, "", json, sizeof json - 1,
                                        NULL, &err),
                     HT_OK);
    assert_int_equal(ht_sheet_write_json(&wanted, &sheet, &err), HT_OK);
    assert_int_equal(ht_store_add(store, json, NULL, &now, &err), HT_OK);
    ht_text_add(&kept, ">");
    assert_int_equal(ht_store_get(store, now.id, &now, &kept, &err), HT_OK);
    assert_string_equal(ht_text_get(&kept) + 1, ht_text_get(&wanted));
    assert_string_equal(now.title, "");
    ht_text_free(&wanted);
    ht_text_free(&kept);
    ht_sheet_free(&sheet);
}

static void a_long_title_is_cut_where_a_character_ends(void **state)
{
    (void)state;
    char title[302];
    for (size_t i = 0; i < 300; i += 2)
        memcpy(title + i, "\xc3\xa9", 3);
    struct ht_store_case made = given_case(store, title);
    assert_int_equal(strlen(made.title), 198);
}

static void what_is_no_sheet_is_refused(void **state)
{
    (void)state;
    assert_int_equal(ht_store_add(store, "{\"halfturn\": 1, \"tyre\": 3}",
                                  NULL, &now, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "sheet:1:17"));
    assert_int_equal(ht_store_add(store,
                                  given_sheet("x", ", \"like\": \"t.yaml\""),
                                  NULL, &now, &err),
                     HT_BAD_FILE);
    assert_int_equal(now.id, 0);
    assert_int_equal(ht_store_get(store, 1, &now, NULL, &err),
                     HT_NOT_THERE);
}

static void a_sheet_names_files_by_plain_names_only(void **state)
{
    (void)state;
    static const struct {
        const char *json, *shown;
    } bad[] = {
        { "\"recording\": \"/etc/passwd\"", "/etc/passwd" },
        { "\"recording\": \"../a.wav\"", "../a.wav" },
        { "\"recording\": \"a..wav\"", "a..wav" },
        { "\"recording\": \".hidden\"", ".hidden" },
        { "\"recording\": \"a\\\\b.wav\"", "a\\b.wav" },
        { "\"speed\": {\"file\": \"logs/a.csv\"}", "logs/a.csv" },
        { "\"speed\": \"logs/a.csv\"", "logs/a.csv" },
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        char drive[120];
        (void)snprintf(drive, sizeof drive, ", \"drive\": [{}, {%s}]",
                       bad[i].json);
        assert_refused(ht_store_add(store, given_sheet("x", drive), NULL,
                                    &now, &err),
                       STORE_NAME_NOT_PLAIN, bad[i].shown, HT_STORE_NAME_MAX);
    }
}

/* A further key of the sheet that names a file must be looked at too. */
static size_t file_keys(const struct ht_schema *schema, int depth)
{
    size_t found = 0;
    for (size_t i = 0; i < schema->row_count && depth < 8; i++) {
        const struct ht_row *row = &schema->rows[i];
        if (row->child)
            found += file_keys(row->child, depth + 1);
        else if (row->kind == HT_IS_TEXT &&
                 (strstr(row->help, "file") || strstr(row->help, "File") ||
                  strcmp(row->key, "file") == 0))
            found++;
    }
    return found;
}

static void every_key_that_names_a_file_is_known_here(void **state)
{
    (void)state;
    assert_int_equal(file_keys(ht_sheet_schema(), 0), 2);
}

/* ---- revisions --------------------------------------------------------- */

static void a_save_from_an_old_revision_is_refused(void **state)
{
    (void)state;
    struct ht_store_case made = given_case(store, "one");
    assert_int_equal(save(made.id, 1, "two"), HT_OK);
    assert_int_equal(now.revision, 2);
    assert_refused(save(made.id, 1, "three"), STORE_OTHER_REVISION, 1LL, 2LL,
                   1LL);
    assert_int_equal(now.revision, 2);
    assert_string_equal(now.title, "two");
    assert_title(made.id, "two");
    assert_refused(save(99, 1, "x"), STORE_NO_CASE, 99LL);
    assert_refused(save(0, 1, "x"), STORE_NO_CASE, 0LL);
    assert_int_equal(now.id, 0);
}

static void undo_and_redo_move_along_the_saves(void **state)
{
    (void)state;
    int64_t id = given_case(store, "one").id;
    assert_refused(ht_store_undo(store, id, 1, &now, &err),
                   STORE_NOTHING_TO_UNDO, 1LL);
    assert_int_equal(save(id, 1, "two"), HT_OK);
    assert_int_equal(save(id, 2, "three"), HT_OK);
    assert_true(now.can_undo && !now.can_redo);
    assert_int_equal(ht_store_undo(store, id, 3, &now, &err), HT_OK);
    assert_int_equal(now.revision, 4);
    assert_string_equal(now.title, "two");
    assert_true(now.can_undo && now.can_redo);
    assert_refused(ht_store_undo(store, id, 3, &now, &err),
                   STORE_OTHER_REVISION, 1LL, 4LL, 3LL);
    assert_int_equal(ht_store_undo(store, id, 4, &now, &err), HT_OK);
    assert_string_equal(now.title, "one");
    again();
    assert_int_equal(ht_store_redo(store, id, 5, &now, &err), HT_OK);
    assert_int_equal(ht_store_redo(store, id, 6, &now, &err), HT_OK);
    assert_string_equal(now.title, "three");
    assert_refused(ht_store_redo(store, id, 7, &now, &err),
                   STORE_NOTHING_TO_REDO, 1LL);
    assert_int_equal(ht_store_redo(store, 9, 7, &now, &err), HT_NOT_THERE);
}

static void a_save_after_an_undo_drops_what_was_undone(void **state)
{
    (void)state;
    int64_t id = given_case(store, "one").id;
    assert_int_equal(save(id, 1, "two"), HT_OK);
    assert_int_equal(ht_store_undo(store, id, 2, &now, &err), HT_OK);
    assert_int_equal(save(id, 3, "other"), HT_OK);
    assert_false(now.can_redo);
    assert_int_equal(ht_store_undo(store, id, 4, &now, &err), HT_OK);
    assert_title(id, "one");
    assert_int_equal(ht_store_redo(store, id, 5, &now, &err), HT_OK);
    assert_title(id, "other");
}

static void the_oldest_revisions_go_first(void **state)
{
    (void)state;
    char title[20];
    int64_t id = given_case(store, "1").id;
    for (int i = 2; i <= HT_STORE_REVISIONS_MAX + 5; i++) {
        (void)snprintf(title, sizeof title, "%d", i);
        assert_int_equal(save(id, i - 1, title), HT_OK);
    }
    int steps = 0;
    while (now.can_undo) {
        assert_int_equal(ht_store_undo(store, id, now.revision, &now, &err),
                         HT_OK);
        steps++;
    }
    assert_int_equal(steps, HT_STORE_REVISIONS_MAX - 1);
    assert_title(id, "6");
}

/* ---- keys -------------------------------------------------------------- */

static void a_save_sent_twice_is_made_once(void **state)
{
    (void)state;
    struct ht_store_case first, second;
    const char *json = given_sheet("one", "");
    assert_int_equal(ht_store_add(store, json, "k1", &first, &err), HT_OK);
    assert_int_equal(ht_store_add(store, json, "k1", &second, &err), HT_OK);
    assert_memory_equal(&first, &second, sizeof first);
    json = given_sheet("two", "");
    assert_int_equal(ht_store_save(store, 1, 1, json, "k2", &first, &err),
                     HT_OK);
    assert_int_equal(save(1, 2, "three"), HT_OK);
    again();
    assert_int_equal(ht_store_save(store, 1, 1, given_sheet("two", ""), "k2",
                                   &second, &err),
                     HT_OK);
    assert_memory_equal(&first, &second, sizeof first);
    assert_title(1, "three");
    struct ht_store_case *list;
    size_t count;
    assert_int_equal(ht_store_list(store, &list, &count, &err), HT_OK);
    assert_int_equal(count, 1);
    ht_store_release(list);
}

static void a_key_of_another_save_is_refused(void **state)
{
    (void)state;
    char longest[HT_STORE_KEY_MAX + 2] = { 0 };
    assert_int_equal(ht_store_add(store, given_sheet("one", ""), "k", &now,
                                  &err),
                     HT_OK);
    assert_refused(ht_store_add(store, given_sheet("two", ""), "k", &now,
                                &err),
                   STORE_KEY_OF_OTHER, "k");
    assert_int_equal(now.id, 0);
    assert_int_equal(ht_store_save(store, 1, 1, given_sheet("one", ""), "k",
                                   &now, &err),
                     HT_BAD_USE);
    memset(longest, 'k', HT_STORE_KEY_MAX);
    assert_int_equal(ht_store_save(store, 1, 1, given_sheet("one", ""),
                                   longest, &now, &err),
                     HT_OK);
    longest[HT_STORE_KEY_MAX] = 'k';
    const char *const bad[] = { "", "a b", "\xc3\xa9", longest };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        assert_refused(ht_store_add(store, given_sheet("x", ""), bad[i], &now,
                                    &err),
                       STORE_KEY_LENGTH, HT_STORE_KEY_MAX);
}

/* A refused save may be sent again with its key. */
static void a_refused_save_leaves_its_key_free(void **state)
{
    (void)state;
    int64_t id = given_case(store, "one").id;
    const char *json = given_sheet("two", "");
    assert_int_equal(ht_store_save(store, id, 7, json, "k", &now, &err),
                     HT_BAD_USE);
    assert_int_equal(ht_store_save(store, id, 1, json, "k", &now, &err),
                     HT_OK);
}

/* ---- all of them ------------------------------------------------------- */

static void the_list_has_every_case_newest_first(void **state)
{
    (void)state;
    struct ht_store_case *list;
    size_t count;
    assert_int_equal(ht_store_list(store, &list, &count, &err), HT_OK);
    assert_true(!list && count == 0);
    for (int i = 0; i < 20; i++)
        (void)given_case(store, i == 19 ? "last" : "case");
    assert_int_equal(ht_store_remove(store, 5, &err), HT_OK);
    ht_store_close(store);
    (void)given_sql("UPDATE cases SET changed_s = changed_s + 9 "
                    "WHERE id = 3");
    store = given_open();
    assert_int_equal(ht_store_list(store, &list, &count, &err), HT_OK);
    assert_int_equal(count, 19);
    assert_int_equal(list[0].id, 3);
    assert_string_equal(list[1].title, "last");
    assert_int_equal(list[18].id, 1);
    ht_store_release(list);
}

static void a_removed_case_is_gone_and_its_number_too(void **state)
{
    (void)state;
    int64_t id = given_case(store, "one").id;
    assert_int_equal(ht_store_remove(store, id, &err), HT_OK);
    assert_refused(ht_store_remove(store, id, &err), STORE_NO_CASE, 1LL);
    assert_refused(ht_store_get(store, id, &now, NULL, &err), STORE_NO_CASE,
                   1LL);
    assert_refused(ht_store_undo(store, id, 1, &now, &err), STORE_NO_CASE,
                   1LL);
    assert_int_equal(given_case(store, "two").id, 2);
    ht_store_close(store);
    assert_int_equal(given_sql("SELECT count(*) FROM steps"), 1);
    store = given_open();
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_case_is_there_after_opening_again),
        TEST(a_sheet_is_kept_as_its_own_tables_write_it),
        TEST(a_long_title_is_cut_where_a_character_ends),
        TEST(what_is_no_sheet_is_refused),
        TEST(a_sheet_names_files_by_plain_names_only),
        TEST(every_key_that_names_a_file_is_known_here),
        TEST(a_save_from_an_old_revision_is_refused),
        TEST(undo_and_redo_move_along_the_saves),
        TEST(a_save_after_an_undo_drops_what_was_undone),
        TEST(the_oldest_revisions_go_first),
        TEST(a_save_sent_twice_is_made_once),
        TEST(a_key_of_another_save_is_refused),
        TEST(a_refused_save_leaves_its_key_free),
        TEST(the_list_has_every_case_newest_first),
        TEST(a_removed_case_is_gone_and_its_number_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
