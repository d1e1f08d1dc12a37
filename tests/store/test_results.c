/* Results, and the whole store once more. */
#include "close.h"
#include "given_store.h"
#include "refused.h"

#include "store/texts.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static struct ht_store *store;
static struct ht_error err;

static int begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    store = given_open();
    (void)given_case(store, "one");
    return 0;
}

static int end(void **state)
{
    ht_store_close(store);
    return given_end(state);
}

static struct ht_store_result_of of(const char *what, const char *settings)
{
    return (struct ht_store_result_of){ 1, 1, what, "0.2.0", settings };
}

static void assert_result(struct ht_store_result_of asked, const char *wanted)
{
    struct ht_text json = { 0 };
    enum ht_status status = ht_store_get_result(store, &asked, &json, &err);
    assert_int_equal(status, wanted ? HT_OK : HT_NOT_THERE);
    assert_string_equal(ht_text_get(&json), wanted ? wanted : "");
    ht_text_free(&json);
}

static void put(struct ht_store_result_of given, const char *json)
{
    assert_int_equal(ht_store_put_result(store, &given, json, &err), HT_OK);
}

static void a_result_is_found_by_all_that_it_is_of(void **state)
{
    (void)state;
    put(of("rank", "{}"), "[1]");
    put(of("rank", NULL), "[2]");
    put(of("rank", "{}"), "[3]");
    ht_store_close(store);
    store = given_open();
    assert_result(of("rank", "{}"), "[3]");
    assert_result(of("rank", ""), "[2]");
    assert_result(of("angles", "{}"), NULL);
    assert_refused(ht_store_get_result(
                       store, &(struct ht_store_result_of){ 1, 2, "", "", "" },
                       &(struct ht_text){ 0 }, &err),
                   STORE_NO_RESULT, 1LL);
    struct ht_store_result_of other = of("rank", "{}");
    other.version = "0.3.0";
    assert_result(other, NULL);
}

static void a_result_of_what_is_not_there_is_refused(void **state)
{
    (void)state;
    struct ht_store_result_of none = of("rank", "");
    none.revision = 2;
    assert_refused(ht_store_put_result(store, &none, "{}", &err),
                   STORE_RESULT_OF_NOTHING, 2LL, 1LL, 1LL);
    none.id = 5;
    assert_refused(ht_store_put_result(store, &none, "{}", &err),
                   STORE_NO_CASE, 5LL);
    size_t length = HT_STORE_RESULT_MAX + 1;
    char *large = malloc(length + 1);
    assert_non_null(large);
    memset(large, ' ', length);
    large[length] = '\0';
    struct ht_store_result_of fits = of("rank", "");
    assert_refused(ht_store_put_result(store, &fits, large, &err),
                   STORE_RESULT_TOO_BIG, length, HT_STORE_RESULT_MAX);
    large[length - 1] = '\0';
    assert_int_equal(ht_store_put_result(store, &fits, large, &err), HT_OK);
    assert_result(fits, large);
    free(large);
}

/* They were worked out from other files. */
static void results_go_when_the_files_change(void **state)
{
    (void)state;
    put(of("rank", ""), "[1]");
    (void)given_attach(store, 1, "a.wav", "abc");
    assert_result(of("rank", ""), NULL);
    put(of("rank", ""), "[2]");
    assert_int_equal(ht_store_detach(store, 1, "a.wav", &err), HT_OK);
    assert_result(of("rank", ""), NULL);
}

static void the_oldest_results_go_first(void **state)
{
    (void)state;
    char settings[20];
    put(of("rank", "first"), "[]");
    for (int i = 1; i < 64; i++) {
        (void)snprintf(settings, sizeof settings, "%d", i);
        put(of("rank", settings), "[]");
    }
    assert_result(of("rank", "first"), "[]");
    put(of("rank", "one more"), "[]");
    assert_result(of("rank", "first"), NULL);
    assert_result(of("rank", "1"), "[]");
}

/* ---- backup ------------------------------------------------------------ */

static void fill_store(void)
{
    struct ht_store_case now;
    (void)given_attach(store, 1, "a.wav", "abc");
    (void)given_case(store, "two");
    (void)given_attach(store, 2, "a.wav", "abc");
    (void)given_attach(store, 2, "log.csv", "abcd");
    assert_int_equal(ht_store_save(store, 2, 1, given_sheet("three", ""),
                                   NULL, &now, &err),
                     HT_OK);
}

static void a_backup_opens_as_a_store_with_all_that_was_in_it(void **state)
{
    (void)state;
    struct ht_store_file *list;
    struct ht_store_case now;
    struct stat about;
    size_t count;
    char path[500];
    fill_store();
    assert_int_equal(ht_store_backup(store, given_path("copy"), &err), HT_OK);
    assert_int_equal(stat(given_path("copy/cases.db"), &about), 0);
    assert_int_equal(about.st_mode & 0777, 0600);
    ht_store_close(store);
    assert_int_equal(rename(STORE_FOLDER, given_path("lost")), 0);
    assert_int_equal(rename(given_path("copy"), STORE_FOLDER), 0);
    store = given_open();
    assert_int_equal(ht_store_get(store, 2, &now, NULL, &err), HT_OK);
    assert_string_equal(now.title, "three");
    assert_int_equal(ht_store_undo(store, 2, 2, &now, &err), HT_OK);
    assert_int_equal(ht_store_files(store, 2, &list, &count, &err), HT_OK);
    assert_int_equal(count, 2);
    ht_store_release(list);
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_OK);
    assert_int_equal(given_count(given_path("store/attachments")), 2);
}

static void a_backup_goes_into_a_new_folder_only(void **state)
{
    (void)state;
    assert_int_equal(mkdir(given_path("copy"), 0700), 0);
    assert_refused(ht_store_backup(store, given_path("copy"), &err),
                   STORE_BACKUP_NOT_MADE, given_path("copy"),
                   strerror(EEXIST));
    assert_int_equal(given_count(given_path("copy")), 0);
}

static void a_backup_with_a_spoilt_file_is_not_left_half(void **state)
{
    (void)state;
    struct ht_store_file kept = given_attach(store, 1, "a.wav", "abc");
    char name[120];
    (void)snprintf(name, sizeof name, "store/attachments/%s", kept.hash);
    assert_int_equal(chmod(given_path(name), 0600), 0);
    given_write(given_path(name), "abd", 3);
    assert_refused(ht_store_backup(store, given_path("copy"), &err),
                   STORE_FILE_SPOILT, STORE_FOLDER, kept.hash);
    assert_int_equal(access(given_path("copy"), F_OK), -1);
    assert_int_equal(unlink(given_path(name)), 0);
    assert_refused(ht_store_backup(store, given_path("copy"), &err),
                   STORE_FILE_GONE, STORE_FOLDER, kept.hash,
                   strerror(ENOENT));
    assert_int_equal(mkdir(given_path(name), 0700), 0);
    assert_refused(ht_store_backup(store, given_path("copy"), &err),
                   STORE_FILE_GONE, STORE_FOLDER, kept.hash,
                   strerror(EISDIR));
    assert_int_equal(access(given_path("copy"), F_OK), -1);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_result_is_found_by_all_that_it_is_of),
        TEST(a_result_of_what_is_not_there_is_refused),
        TEST(results_go_when_the_files_change),
        TEST(the_oldest_results_go_first),
        TEST(a_backup_opens_as_a_store_with_all_that_was_in_it),
        TEST(a_backup_goes_into_a_new_folder_only),
        TEST(a_backup_with_a_spoilt_file_is_not_left_half),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
