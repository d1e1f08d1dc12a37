/* What is long is done without the store, while others use it; and it can be
 * stopped. */
#include "given_archive.h"

#include "store/texts.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { FILE_BYTES = 1 << 20 };

struct patience {
    int left;                   /* times that it is said to go on */
};

static bool while_it_lasts(void *context)
{
    struct patience *patience = context;
    return patience->left-- > 0;
}

static void fill_case(void)
{
    static char bytes[FILE_BYTES + 1];
    memset(bytes, 'x', FILE_BYTES);
    (void)given_case(store, "long");
    (void)given_attach(store, 1, "a.wav", bytes);
}

static void assert_no_leavings(size_t contents)
{
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    assert_int_equal(given_count(given_path("store/attachments")), contents);
}

static void a_case_that_goes_while_it_is_packed_is_packed_whole(void **state)
{
    (void)state;
    struct ht_packing *packing;
    struct ht_store_file *list;
    size_t count;
    const char *path = given_path("a.zip");
    fill_case();
    assert_int_equal(ht_packing_begin(store, &packing, 1, &err), HT_OK);
    assert_int_equal(ht_store_remove(store, 1, &err), HT_OK);
    assert_int_equal(ht_packing_write(packing, path, "sent", NULL, &err),
                     HT_OK);
    ht_packing_end(store, packing);
    assert_no_leavings(0);
    assert_int_equal(import(given_path("a.zip")), HT_OK);
    assert_int_equal(ht_store_files(store, made.id, &list, &count, &err),
                     HT_OK);
    assert_int_equal(count, 1);
    assert_int_equal(list[0].bytes, FILE_BYTES);
    ht_store_release(list);
}

/* Asked at each of the first times, it ends; asked later, it is through. */
static void packing_stops_when_it_is_told(void **state)
{
    (void)state;
    size_t stopped = 0;
    fill_case();
    for (int patient = 0;; patient++) {
        struct patience patience = { patient };
        struct ht_ask ask = { while_it_lasts, &patience };
        struct ht_packing *packing;
        assert_int_equal(ht_packing_begin(store, &packing, 1, &err), HT_OK);
        enum ht_status status = ht_packing_write(
            packing, given_path("a.zip"), "sent", &ask, &err);
        ht_packing_end(store, packing);
        assert_no_leavings(1);
        if (status == HT_OK)
            break;
        assert_refused(status, STORE_STOPPED);
        assert_int_equal(access(given_path("a.zip"), F_OK), -1);
        stopped++;
    }
    /* 16 pieces looked through, and some more while they are packed */
    assert_true(stopped > 20);
}

static void unpacking_stops_when_it_is_told(void **state)
{
    (void)state;
    size_t stopped = 0;
    fill_case();
    assert_int_equal(ht_store_export(store, 1, given_path("a.zip"), &err),
                     HT_OK);
    assert_int_equal(ht_store_remove(store, 1, &err), HT_OK);
    for (int patient = 0;; patient++) {
        struct patience patience = { patient };
        struct ht_ask ask = { while_it_lasts, &patience };
        struct ht_unpacking *unpacking;
        assert_int_equal(ht_unpacking_begin(store, &unpacking,
                                            given_path("a.zip"), "sent",
                                            &err),
                         HT_OK);
        enum ht_status status = ht_unpacking_read(unpacking, &ask, &err);
        ht_unpacking_end(store, unpacking);
        assert_no_leavings(0);
        if (status == HT_OK)
            break;
        assert_refused(status, STORE_STOPPED);
        stopped++;
    }
    assert_true(stopped > FILE_BYTES / 16384);
}

/* Cases are made and changed while another one is unpacked. */
static void the_store_is_used_while_a_case_is_unpacked(void **state)
{
    (void)state;
    struct ht_unpacking *unpacking;
    fill_case();
    assert_int_equal(ht_store_export(store, 1, given_path("a.zip"), &err),
                     HT_OK);
    assert_int_equal(ht_unpacking_begin(store, &unpacking,
                                        given_path("a.zip"), "sent", &err),
                     HT_OK);
    (void)given_case(store, "meanwhile");
    assert_int_equal(ht_unpacking_read(unpacking, NULL, &err), HT_OK);
    (void)given_attach(store, 2, "b.csv", "1,2");
    assert_int_equal(ht_unpacking_keep(store, unpacking, NULL, &made, &err),
                     HT_OK);
    ht_unpacking_end(store, unpacking);
    assert_int_equal(made.id, 3);
    assert_string_equal(made.title, "long");
    assert_no_leavings(2);
}

static void an_archive_sent_twice_with_one_key_is_one_case(void **state)
{
    (void)state;
    struct ht_store_case first;
    (void)good();
    const char *path = given_path("good.zip");
    assert_int_equal(ht_store_import(store, path, "once", &first, &err),
                     HT_OK);
    assert_int_equal(ht_store_import(store, path, "once", &made, &err),
                     HT_OK);
    assert_int_equal(made.id, first.id);
    assert_int_equal(ht_store_import(store, path, "again", &made, &err),
                     HT_OK);
    assert_int_equal(made.id, first.id + 1);
    assert_int_equal(ht_store_import(store, path, NULL, &made, &err), HT_OK);
    assert_int_equal(made.id, first.id + 2);
    /* the same sheet with another file in it is something else */
    const struct zip_part parts[] = {
        { "case.json", sheet, sizeof sheet - 1, ZIP_PART_STORED },
        { "files/a.wav", "abcdeg", 6, ZIP_PART_STORED },
    };
    zip_make(given_path("other.zip"), parts, 2);
    assert_refused(ht_store_import(store, given_path("other.zip"), "once",
                                   &made, &err),
                   STORE_KEY_OF_OTHER, "once");
    assert_int_equal(made.id, 0);
    /* and so is that sheet by itself */
    assert_refused(ht_store_add(store, sheet, "once", &made, &err),
                   STORE_KEY_OF_OTHER, "once");
}

static void a_file_on_its_way_in_stops_when_it_is_told(void **state)
{
    (void)state;
    struct patience patience = { 0 };
    struct ht_ask ask = { while_it_lasts, &patience };
    struct ht_store_file kept;
    (void)given_case(store, "long");
    struct ht_arrival *arrival = given_arrival(store, "abc", 3);
    assert_refused(ht_arrival_flush(arrival, &ask, &err), STORE_STOPPED);
    patience.left = 2;
    assert_int_equal(ht_arrival_flush(arrival, &ask, &err), HT_OK);
    assert_int_equal(patience.left, 0);
    assert_int_equal(ht_arrival_flush(arrival, &ask, &err), HT_OK);
    assert_int_equal(ht_store_keep(store, arrival, 1, "a", &kept, &err),
                     HT_OK);
    assert_int_equal(kept.bytes, 3);
}

static void a_store_can_keep_to_itself_where_it_stands(void **state)
{
    (void)state;
    char name[120];
    fill_case();
    struct ht_store_file kept = given_attach(store, 1, "b.csv", "1,2,3");
    ht_store_call_short(store);
    (void)snprintf(name, sizeof name, "store/attachments/%s", kept.hash);
    assert_int_equal(unlink(given_path(name)), 0);
    assert_refused(ht_store_export(store, 1, given_path("a.zip"), &err),
                   STORE_FILE_GONE, "store", kept.hash, strerror(ENOENT));
}

/* Whatever goes is put aside, and goes when the store is tidied, or opened. */
static void what_goes_can_be_put_aside(void **state)
{
    (void)state;
    char path[500];
    fill_case();
    ht_store_put_off(store);
    assert_int_equal(ht_store_lay_out(store, 1, path, sizeof path, &err),
                     HT_OK);
    (void)given_attach(store, 1, "a.wav", "other"); /* the first one goes */
    (void)given_attach(store, 1, "b.wav", "other"); /* the same once more */
    ht_store_put_away(store, path);
    ht_store_drop(store, given_arrival(store, "abc", 3));
    assert_int_equal(given_count(given_path("store/attachments")), 1);
    assert_int_equal(given_count(given_path("store/arriving")), 4);
    given_write(given_path("store/arriving/gone-west"), "x", 1);
    ht_store_tidy(store);
    assert_int_equal(given_count(given_path("store/arriving")), 1);
    assert_int_equal(ht_store_detach(store, 1, "a.wav", &err), HT_OK);
    assert_int_equal(given_count(given_path("store/attachments")), 1);
    assert_int_equal(ht_store_remove(store, 1, &err), HT_OK);
    assert_int_equal(given_count(given_path("store/attachments")), 0);
    assert_int_equal(given_count(given_path("store/arriving")), 2);
    ht_store_close(store);
    store = given_open();
    assert_int_equal(given_count(given_path("store/arriving")), 1);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, archive_begin, archive_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_case_that_goes_while_it_is_packed_is_packed_whole),
        TEST(packing_stops_when_it_is_told),
        TEST(unpacking_stops_when_it_is_told),
        TEST(the_store_is_used_while_a_case_is_unpacked),
        TEST(an_archive_sent_twice_with_one_key_is_one_case),
        TEST(a_file_on_its_way_in_stops_when_it_is_told),
        TEST(what_goes_can_be_put_aside),
        TEST(a_store_can_keep_to_itself_where_it_stands),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
