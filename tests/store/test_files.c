/* Attachments: kept by their content, laid out, swept. */
#include "close.h"
#include "given_store.h"
#include "refused.h"

#include "store/texts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* FIPS 180-4's example: SHA-256 of "abc". */
#define HASH_OF_ABC                                                            \
    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

static struct ht_store *store;
static struct ht_error err;

static int begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    store = given_open();
    (void)given_case(store, "one");
    (void)given_case(store, "two");
    return 0;
}

static int end(void **state)
{
    ht_store_close(store);
    return given_end(state);
}

static void open_with(uint64_t file_max, uint64_t all_max)
{
    struct ht_store_limits limits = { file_max, all_max };
    ht_store_close(store);
    assert_int_equal(ht_store_open(&store, STORE_FOLDER, &limits, &err),
                     HT_OK);
}

static enum ht_status keep(const char *text, int64_t id, const char *name)
{
    struct ht_store_file kept;
    struct ht_arrival *arrival = given_arrival(store, text, strlen(text));
    enum ht_status status = ht_store_keep(store, arrival, id, name, &kept,
                                          &err);
    assert_true(status == HT_OK || kept.name[0] == '\0');
    return status;
}

static size_t kept_contents(void)
{
    return given_count(given_path("store/attachments"));
}

static mode_t mode_of(const char *name)
{
    struct stat about;
    assert_int_equal(stat(given_path(name), &about), 0);
    return about.st_mode & 0777;
}

static void a_file_is_kept_under_the_hash_of_its_content(void **state)
{
    (void)state;
    struct ht_store_file kept = given_attach(store, 1, "drive one.wav",
                                             "abc"),
                         *list;
    struct ht_key key = ht_key_of_bytes("abc", 3);
    size_t count;
    assert_string_equal(kept.hash, HASH_OF_ABC);
    assert_string_equal(kept.name, "drive one.wav");
    assert_int_equal(kept.bytes, 3);
    assert_memory_equal(&kept.key, &key, sizeof key);
    ht_store_close(store);
    store = given_open();
    assert_int_equal(ht_store_files(store, 1, &list, &count, &err), HT_OK);
    assert_int_equal(count, 1);
    assert_memory_equal(list, &kept, sizeof kept);
    ht_store_release(list);
    assert_int_equal(given_size(given_path("store/attachments/" HASH_OF_ABC)),
                     3);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
}

static void nothing_of_a_store_is_for_others_to_read(void **state)
{
    (void)state;
    mode_t mask = umask(0);
    (void)given_attach(store, 1, "a.wav", "abc");
    assert_int_equal(mode_of("store"), 0700);
    assert_int_equal(mode_of("store/cases.db"), 0600);
    assert_int_equal(mode_of("store/cases.db-wal"), 0600);
    assert_int_equal(mode_of("store/attachments"), 0700);
    assert_int_equal(mode_of("store/arriving"), 0700);
    assert_int_equal(mode_of("store/attachments/" HASH_OF_ABC), 0400);
    (void)umask(mask);
}

/* Large, and in pieces of every length up to a block's. */
static void a_content_in_many_pieces_has_the_key_of_the_whole(void **state)
{
    (void)state;
    static char bytes[200000];
    struct ht_arrival *arrival;
    struct ht_store_file kept;
    for (size_t i = 0; i < sizeof bytes; i++)
        bytes[i] = (char)(i * 7 + i / 256);
    assert_int_equal(ht_store_begin(store, &arrival, &err), HT_OK);
    for (size_t at = 0, step = 0; at < sizeof bytes; at += step) {
        step = (step * 31 + 1) % 3000;
        if (step > sizeof bytes - at)
            step = sizeof bytes - at;
        assert_int_equal(ht_arrival_write(arrival, bytes + at, step, &err),
                         HT_OK);
    }
    assert_int_equal(ht_store_keep(store, arrival, 1, "a", &kept, &err),
                     HT_OK);
    struct ht_key key = ht_key_of_bytes(bytes, sizeof bytes), of_file;
    assert_memory_equal(&kept.key, &key, sizeof key);
    char name[120];
    (void)snprintf(name, sizeof name, "store/attachments/%s", kept.hash);
    assert_int_equal(ht_key_of_file(&of_file, given_path(name), &err), HT_OK);
    assert_memory_equal(&of_file, &key, sizeof key);
}

static void one_content_of_two_cases_stays_until_both_are_gone(void **state)
{
    (void)state;
    (void)given_attach(store, 1, "a.wav", "abc");
    (void)given_attach(store, 2, "b.wav", "abc");
    (void)given_attach(store, 2, "c.wav", "abc");
    assert_int_equal(kept_contents(), 1);
    assert_int_equal(ht_store_remove(store, 2, &err), HT_OK);
    assert_int_equal(kept_contents(), 1);
    assert_int_equal(ht_store_detach(store, 1, "a.wav", &err), HT_OK);
    assert_int_equal(kept_contents(), 0);
    assert_refused(ht_store_detach(store, 1, "a.wav", &err), STORE_NO_FILE,
                   1LL, "a.wav");
    assert_refused(ht_store_detach(store, 2, "a.wav", &err), STORE_NO_CASE,
                   2LL);
}

static void a_file_of_the_same_name_is_replaced(void **state)
{
    (void)state;
    struct ht_store_file *list;
    size_t count;
    (void)given_attach(store, 1, "a.wav", "old");
    (void)given_attach(store, 1, "a.wav", "new one");
    assert_int_equal(ht_store_files(store, 1, &list, &count, &err), HT_OK);
    assert_int_equal(count, 1);
    assert_int_equal(list[0].bytes, 7);
    assert_int_equal(kept_contents(), 1);
    ht_store_release(list);
}

static void an_undo_moves_the_sheet_and_not_the_files(void **state)
{
    (void)state;
    struct ht_store_file *list;
    struct ht_store_case now;
    size_t count;
    assert_int_equal(ht_store_save(store, 1, 1, given_sheet("x", ""), NULL,
                                   &now, &err),
                     HT_OK);
    (void)given_attach(store, 1, "a.wav", "abc");
    assert_int_equal(ht_store_undo(store, 1, 2, &now, &err), HT_OK);
    assert_int_equal(ht_store_files(store, 1, &list, &count, &err), HT_OK);
    assert_int_equal(count, 1);
    ht_store_release(list);
}

/* ---- refused ----------------------------------------------------------- */

static void names_that_are_not_plain_are_refused(void **state)
{
    (void)state;
    char longest[HT_STORE_NAME_MAX + 2] = { 0 };
    memset(longest, 'n', HT_STORE_NAME_MAX);
    (void)given_attach(store, 1, longest, "abc");
    longest[HT_STORE_NAME_MAX] = 'n';
    const char *const bad[] = { "", ".", "..", "a/b", "/a", "a\\b", ".a",
                                "a..b", "a\nb", "a\x1b[2J", "\xff.wav",
                                "a\x7f", "\xc2\x85", longest };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        assert_int_equal(keep("abc", 1, bad[i]), HT_BAD_FILE);
    assert_refused(keep("abc", 1, "a/b"), STORE_NAME_NOT_PLAIN, "a/b",
                   HT_STORE_NAME_MAX);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    assert_refused(keep("abc", 77, "a"), STORE_NO_CASE, 77LL);
    assert_int_equal(kept_contents(), 1);
}

static void the_first_byte_over_a_limit_is_refused(void **state)
{
    (void)state;
    struct ht_arrival *arrival;
    struct ht_store_file kept;
    open_with(10, 15);
    arrival = given_arrival(store, "0123456789", 10);
    assert_refused(ht_arrival_write(arrival, "x", 1, &err),
                   STORE_FILE_TOO_BIG, 10ULL);
    char path[600];
    (void)snprintf(path, sizeof path, "%s", ht_arrival_path(arrival));
    assert_refused(ht_arrival_write(arrival, "x", 1, &err),
                   STORE_ARRIVAL_CUT);
    assert_refused(ht_store_keep(store, arrival, 1, "a", &kept, &err),
                   STORE_ARRIVAL_CUT);
    assert_int_equal(access(path, F_OK), -1);
    assert_int_equal(keep("0123456789", 1, "a"), HT_OK);
    arrival = given_arrival(store, "01234", 5);
    assert_refused(ht_arrival_write(arrival, "x", 1, &err),
                   STORE_ALL_TOO_BIG, 5ULL);
    ht_store_drop(store, arrival);
}

/* Two arrivals that each fit, and together do not. */
static void arrivals_side_by_side_share_what_room_there_is(void **state)
{
    (void)state;
    struct ht_store_file kept;
    open_with(10, 15);
    struct ht_arrival *one = given_arrival(store, "0123456789", 10);
    struct ht_arrival *two = given_arrival(store, "abcdefghij", 10);
    struct ht_arrival *same = given_arrival(store, "0123456789", 10);
    assert_int_equal(ht_store_keep(store, one, 1, "a", &kept, &err), HT_OK);
    assert_refused(ht_store_keep(store, two, 1, "b", &kept, &err),
                   STORE_ALL_TOO_BIG, 5ULL);
    assert_int_equal(ht_store_keep(store, same, 1, "c", &kept, &err), HT_OK);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
}

static void a_case_has_so_many_files_and_no_more(void **state)
{
    (void)state;
    char name[20];
    for (int i = 0; i < HT_STORE_CASE_FILES_MAX; i++) {
        (void)snprintf(name, sizeof name, "%d", i);
        (void)given_attach(store, 1, name, name);
    }
    assert_refused(keep("abc", 1, "more"), STORE_TOO_MANY_FILES, 1LL,
                   HT_STORE_CASE_FILES_MAX);
    assert_int_equal(keep("abc", 1, "0"), HT_OK);
    assert_int_equal(ht_store_remove(store, 1, &err), HT_OK);
    assert_int_equal(kept_contents(), 0);
}

/* ---- laid out ---------------------------------------------------------- */

static void a_laid_out_case_has_its_files_under_their_names(void **state)
{
    (void)state;
    char path[500], small[20], name[600];
    (void)given_attach(store, 1, "a.wav", "abc");
    (void)given_attach(store, 1, "log.csv", "abcd");
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_OK);
    assert_int_equal(given_count(path), 2);
    (void)snprintf(name, sizeof name, "%s/log.csv", path);
    assert_int_equal(ht_store_detach(store, 1, "log.csv", &err), HT_OK);
    assert_int_equal(given_size(name), 4); /* a workup may be reading it */
    ht_store_put_away(store, path);
    assert_int_equal(access(path, F_OK), -1);
    assert_refused(ht_store_lay_out(store, 1, small, sizeof small, &err),
                   STORE_PATH_TOO_LONG, STORE_FOLDER, sizeof small);
    assert_string_equal(small, "");
    assert_refused(ht_store_lay_out(store, 9, path, sizeof path, &err),
                   STORE_NO_CASE, 9LL);
}

static void only_what_was_laid_out_is_put_away(void **state)
{
    (void)state;
    char path[500];
    struct ht_arrival *arrival = given_arrival(store, "abc", 3);
    (void)snprintf(path, sizeof path, "%s/arriving/out-/../../attachments",
                   STORE_FOLDER);
    (void)given_attach(store, 1, "a.wav", "abc");
    ht_store_put_away(store, path);
    ht_store_put_away(store, "/");
    ht_store_put_away(store, STORE_FOLDER);
    ht_store_put_away(store, ht_arrival_path(arrival));
    assert_int_equal(kept_contents(), 1);
    assert_int_equal(given_size(ht_arrival_path(arrival)), 3);
    ht_store_drop(store, arrival);
    ht_store_drop(store, NULL);
}

static void a_content_that_is_gone_is_said_and_comes_back(void **state)
{
    (void)state;
    char path[500];
    (void)given_attach(store, 1, "a.wav", "abc");
    assert_int_equal(unlink(given_path("store/attachments/" HASH_OF_ABC)), 0);
    assert_refused(ht_store_lay_out(store, 1, path, sizeof path, &err),
                   STORE_FILE_GONE, STORE_FOLDER, HASH_OF_ABC,
                   strerror(ENOENT));
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    (void)given_attach(store, 2, "b.wav", "abc");
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_OK);
}

/* ---- left over --------------------------------------------------------- */

static void leftovers_of_a_crash_are_swept_and_nothing_else(void **state)
{
    (void)state;
    char path[500];
    (void)given_attach(store, 1, "a.wav", "abc");
    struct ht_arrival *arrival = given_arrival(store, "abc", 3);
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_OK);
    given_write(given_path("store/attachments/notes.txt"), "mine", 4);
    given_write(given_path("store/arriving/in-mine"), "mine", 4);
    /* what the zip library leaves when it is killed */
    given_write(given_path("store/arriving/in-7.AbCdEf"), "PK", 2);
    given_write(given_path("store/attachments/0123456789abcdef0123456789abcdef"
                           "0123456789abcdef0123456789abcdef"),
                "", 0);
    ht_store_close(store);
    store = given_open();
    assert_int_equal(given_size(ht_arrival_path(arrival)), -1);
    ht_store_drop(store, arrival);
    assert_int_equal(given_count(given_path("store/arriving")), 1);
    assert_int_equal(kept_contents(), 2);
    assert_int_equal(given_size(given_path("store/attachments/notes.txt")), 4);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_file_is_kept_under_the_hash_of_its_content),
        TEST(nothing_of_a_store_is_for_others_to_read),
        TEST(a_content_in_many_pieces_has_the_key_of_the_whole),
        TEST(one_content_of_two_cases_stays_until_both_are_gone),
        TEST(a_file_of_the_same_name_is_replaced),
        TEST(an_undo_moves_the_sheet_and_not_the_files),
        TEST(names_that_are_not_plain_are_refused),
        TEST(the_first_byte_over_a_limit_is_refused),
        TEST(arrivals_side_by_side_share_what_room_there_is),
        TEST(a_case_has_so_many_files_and_no_more),
        TEST(a_laid_out_case_has_its_files_under_their_names),
        TEST(only_what_was_laid_out_is_put_away),
        TEST(a_content_that_is_gone_is_said_and_comes_back),
        TEST(leftovers_of_a_crash_are_swept_and_nothing_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
