/* A case as a zip: out, in again, and what is no whole archive. */
#include "given_archive.h"

#include "store/archive.h"
#include "store/texts.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- out and in -------------------------------------------------------- */

static void fill_case(void)
{
    char json[200];
    (void)snprintf(json, sizeof json, ", \"drive\": {\"recording\": \"a.wav\","
                                      " \"speed\": \"not there yet.csv\"}");
    assert_int_equal(ht_store_add(store, given_sheet("Hums", json), NULL,
                                  &made, &err),
                     HT_OK);
    (void)given_attach(store, made.id, "a.wav", "sound");
    (void)given_attach(store, made.id, "\xc3\xa9t\xc3\xa9.csv", "t,v");
    (void)given_attach(store, made.id, "empty", "");
}

static void a_case_comes_back_from_its_archive(void **state)
{
    (void)state;
    struct ht_text before = { 0 }, after = { 0 };
    struct ht_store_file *files, *kept;
    size_t count, again;
    fill_case();
    assert_int_equal(ht_store_get(store, 1, &made, &before, &err), HT_OK);
    assert_int_equal(ht_store_export(store, 1, given_path("a.zip"), &err),
                     HT_OK);
    assert_int_equal(import(given_path("a.zip")), HT_OK);
    assert_int_equal(made.id, 2);
    assert_string_equal(made.title, "Hums");
    assert_int_equal(ht_store_get(store, 2, &made, &after, &err), HT_OK);
    assert_string_equal(ht_text_get(&before), ht_text_get(&after));
    assert_int_equal(ht_store_files(store, 1, &files, &count, &err), HT_OK);
    assert_int_equal(ht_store_files(store, 2, &kept, &again, &err), HT_OK);
    assert_int_equal(count, 3);
    assert_int_equal(again, 3);
    for (size_t i = 0; i < count; i++)
        assert_memory_equal(&files[i], &kept[i], sizeof files[i]);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    ht_store_release(files);
    ht_store_release(kept);
    ht_text_free(&before);
    ht_text_free(&after);
}

static void a_case_without_files_is_an_archive_too(void **state)
{
    (void)state;
    (void)given_case(store, "bare");
    assert_int_equal(ht_store_export(store, 1, given_path("a.zip"), &err),
                     HT_OK);
    assert_int_equal(import(given_path("a.zip")), HT_OK);
    assert_string_equal(made.title, "bare");
}

static void the_same_case_gives_the_same_bytes(void **state)
{
    (void)state;
    struct zip_bytes one, other;
    fill_case();
    (void)setenv("TZ", "Pacific/Auckland", 1);
    assert_int_equal(ht_store_export(store, 1, given_path("a.zip"), &err),
                     HT_OK);
    (void)setenv("TZ", "UTC", 1);
    given_write(given_path("b.zip"), "something else", 14);
    assert_int_equal(ht_store_export(store, 1, given_path("b.zip"), &err),
                     HT_OK);
    zip_bytes_read(&one, given_path("a.zip"));
    zip_bytes_read(&other, given_path("b.zip"));
    assert_int_equal(one.length, other.length);
    assert_memory_equal(one.bytes, other.bytes, one.length);
}

static void an_archive_may_arrive_and_leave_by_an_arrival(void **state)
{
    (void)state;
    struct ht_arrival *arrival;
    fill_case();
    assert_int_equal(ht_store_begin(store, &arrival, &err), HT_OK);
    assert_int_equal(ht_store_export(store, 1, ht_arrival_path(arrival),
                                     &err),
                     HT_OK);
    assert_int_equal(import(ht_arrival_path(arrival)), HT_OK);
    ht_store_drop(store, arrival);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
}

static void what_cannot_be_exported_is_said(void **state)
{
    (void)state;
    char name[120];
    fill_case();
    struct ht_store_file kept = given_attach(store, 1, "b.csv", "1,2,3");
    assert_refused(ht_store_export(store, 7, given_path("a.zip"), &err),
                   STORE_NO_CASE, 7LL);
    assert_refused(ht_store_export(store, 1, given_path("none/a.zip"), &err),
                   STORE_EXPORT_STOPPED, given_path("none/a.zip"),
                   strerror(ENOENT));
    (void)snprintf(name, sizeof name, "store/attachments/%s", kept.hash);
    assert_int_equal(unlink(given_path(name)), 0);
    assert_refused(ht_store_export(store, 1, given_path("a.zip"), &err),
                   STORE_FILE_GONE, STORE_FOLDER, kept.hash,
                   strerror(ENOENT));
    ht_store_close(store);
    (void)given_sql("UPDATE contents SET bytes = 5000000000");
    store = given_open();
    assert_refused(ht_store_export(store, 1, given_path("a.zip"), &err),
                   STORE_EXPORT_TOO_BIG, 1LL,
                   ARCHIVE_BYTES_MAX - STORE_SHEET_MAX);
    assert_int_equal(access(given_path("a.zip"), F_OK), -1);
}

/* ---- the frame --------------------------------------------------------- */

static void only_a_whole_archive_is_let_in(void **state)
{
    (void)state;
    const struct zip_bytes zip = good();
    struct zip_bytes bad = zip;
    assert_int_equal(import(written(&zip)), HT_OK);
    assert_int_equal(ht_store_remove(store, made.id, &err), HT_OK);
    assert_not_let_in(given_path("none"), STORE_ARCHIVE_NOT_OPENED,
                      given_path("none"), strerror(ENOENT));
    assert_not_let_in(STORE_FOLDER, STORE_ARCHIVE_NO_END, STORE_FOLDER);
    for (size_t cut = 1; cut <= zip.length; cut += cut < 60 ? 1 : 37) {
        bad.length = zip.length - cut;
        assert_not_let_in(written(&bad), STORE_ARCHIVE_NO_END,
                          given_path("bad.zip"));
    }
    bad.length = zip.length + 1; /* a byte behind */
    assert_not_let_in(written(&bad), STORE_ARCHIVE_NO_END,
                      given_path("bad.zip"));
    memmove(bad.bytes + 1, bad.bytes, zip.length); /* and before */
    assert_not_let_in(written(&bad), STORE_ARCHIVE_NO_END,
                      given_path("bad.zip"));
    bad = zip; /* a comment, even if it stands where it should */
    bad.bytes[zip.length - 2] = 1;
    bad.length++;
    assert_not_let_in(written(&bad), STORE_ARCHIVE_NO_END,
                      given_path("bad.zip"));
}

static void as_many_entries_as_a_case_can_have(void **state)
{
    (void)state;
    struct zip_part parts[HT_STORE_CASE_FILES_MAX + 2] = {
        { "case.json", sheet, sizeof sheet - 1, ZIP_PART_STORED },
    };
    char names[HT_STORE_CASE_FILES_MAX + 1][20];
    for (int i = 0; i <= HT_STORE_CASE_FILES_MAX; i++) {
        (void)snprintf(names[i], sizeof names[i], "files/%d", i);
        parts[i + 1] = (struct zip_part){ names[i], names[i], 7,
                                          ZIP_PART_STORED };
    }
    zip_make(given_path("a.zip"), parts, HT_STORE_CASE_FILES_MAX + 2);
    assert_not_let_in(given_path("a.zip"), STORE_ARCHIVE_ENTRIES,
                      given_path("a.zip"), 66u, ARCHIVE_ENTRIES_MAX);
    (void)unlink(given_path("a.zip"));
    zip_make(given_path("a.zip"), parts, HT_STORE_CASE_FILES_MAX + 1);
    assert_int_equal(import(given_path("a.zip")), HT_OK);
}

static void more_entries_in_the_table_than_said_are_found(void **state)
{
    (void)state;
    struct zip_bytes zip = good();
    zip.bytes[zip.length - 14] = zip.bytes[zip.length - 12] = 1;
    assert_int_equal(import(written(&zip)), HT_BAD_FILE);
    assert_nothing_kept();
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, archive_begin, archive_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_case_comes_back_from_its_archive),
        TEST(a_case_without_files_is_an_archive_too),
        TEST(the_same_case_gives_the_same_bytes),
        TEST(an_archive_may_arrive_and_leave_by_an_arrival),
        TEST(what_cannot_be_exported_is_said),
        TEST(only_a_whole_archive_is_let_in),
        TEST(as_many_entries_as_a_case_can_have),
        TEST(more_entries_in_the_table_than_said_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
