/* What the entries of an archive may not be. */
#include "given_archive.h"
#include "random.h"

#include "store/archive.h"
#include "store/texts.h"

#include <string.h>
#include <unistd.h>

/* ---- the entries ------------------------------------------------------- */

static void names_that_are_not_a_cases_are_refused(void **state)
{
    (void)state;
    static const char *const names[] = {
        "../up", "/files/a", "files/../a", "files/", "files/a/b",
        "files/.hidden", "case.yaml", "Files/a", "files\\a", "files/a\nb",
        "a", "files/a\\b"
    };
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct zip_part part = { names[i], "x", 1, ZIP_PART_STORED };
        assert_int_equal(import(with(part)), HT_BAD_FILE);
        assert_nothing_kept();
    }
    assert_not_let_in(with((struct zip_part){ "files/../a", "x", 1, 0 }),
                      STORE_ARCHIVE_NAME, given_path("part.zip"),
                      "files/../a");
    struct zip_bytes zip = good(); /* not UTF-8 */
    zip_put_for(&zip, "files/a.wav", "files/\xff.wav", 11);
    assert_int_equal(import(written(&zip)), HT_BAD_FILE);
    assert_nothing_kept();
}

static void a_name_twice_is_refused(void **state)
{
    (void)state;
    struct zip_bytes zip;
    zip_bytes_read(&zip, with((struct zip_part){ "case.jso_", "x", 1, 0 }));
    zip_put_for(&zip, "case.jso_", "case.json", 9);
    assert_not_let_in(written(&zip), STORE_ARCHIVE_TWICE,
                      given_path("bad.zip"));
}

static void links_and_locked_entries_are_refused(void **state)
{
    (void)state;
    const char *link =
        with((struct zip_part){ "files/a", "/etc/passwd", 11, ZIP_PART_LINK });
    assert_not_let_in(link, STORE_ARCHIVE_KIND, given_path("part.zip"),
                      "files/a");
    struct zip_bytes zip = good();
    zip_change_entry(&zip, "files/a.wav", ZIP_FIELD_FLAGS, 1);
    assert_not_let_in(written(&zip), STORE_ARCHIVE_LOCKED,
                      given_path("bad.zip"), "files/a.wav");
    zip = good();
    zip_change_entry(&zip, "files/a.wav", ZIP_FIELD_METHOD, 97);
    assert_not_let_in(written(&zip), STORE_ARCHIVE_METHOD,
                      given_path("bad.zip"), "files/a.wav");
}

static void a_packed_entry_grows_so_much_and_no_more(void **state)
{
    (void)state;
    static char zeros[1 << 20];
    const char *path = with((struct zip_part){ "files/a", zeros,
                                               sizeof zeros,
                                               ZIP_PART_PACKED });
    struct zip_bytes zip;
    zip_bytes_read(&zip, path);
    unsigned packed = zip_entry_field(&zip, "files/a", ZIP_FIELD_PACKED);
    assert_true(packed < sizeof zeros / 200);
    assert_not_let_in(path, STORE_ARCHIVE_RATIO, path, "files/a",
                      (unsigned long long)packed,
                      (unsigned long long)sizeof zeros, ARCHIVE_RATIO_MAX);
    assert_int_equal(import(with((struct zip_part){ "files/a", sheet,
                                                    sizeof sheet - 1,
                                                    ZIP_PART_PACKED })),
                     HT_OK);
}

/* Said to be small, and large: what comes out is counted. */
static void an_entry_that_lies_about_its_size_is_refused(void **state)
{
    (void)state;
    static const unsigned lies[] = { 1, 99999, 100001, 150000 };
    static char bytes[100000];
    for (size_t i = 0; i < sizeof bytes; i++)
        bytes[i] = (char)(i * i >> 7);
    for (size_t i = 0; i < sizeof lies / sizeof lies[0]; i++) {
        struct zip_bytes zip;
        zip_bytes_read(&zip,
                       with((struct zip_part){ "files/a", bytes,
                                               sizeof bytes,
                                               ZIP_PART_PACKED }));
        zip_change_entry(&zip, "files/a", ZIP_FIELD_SIZE, lies[i]);
        assert_int_equal(import(written(&zip)), HT_BAD_FILE);
        assert_nothing_kept();
    }
}

static void a_spoilt_byte_is_found_by_the_checksum(void **state)
{
    (void)state;
    struct zip_bytes zip = good();
    zip_put_for(&zip, "abcdef", "abcdeg", 6);
    assert_int_equal(import(written(&zip)), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "damaged: "));
    assert_nothing_kept();
}

static void sizes_over_the_limits_are_refused(void **state)
{
    (void)state;
    struct ht_store_limits limits = { 10, 0 };
    ht_store_close(store);
    assert_int_equal(ht_store_open(&store, STORE_FOLDER, &limits, &err),
                     HT_OK);
    limits.file_bytes_max = sizeof sheet;
    const char *large = with((struct zip_part){ "files/a", sheet,
                                                sizeof sheet - 1, 0 });
    assert_not_let_in(large, STORE_FILE_TOO_BIG, 10ULL);
    ht_store_close(store);
    limits = (struct ht_store_limits){ 1000, 100 };
    assert_int_equal(ht_store_open(&store, STORE_FOLDER, &limits, &err),
                     HT_OK);
    large = with((struct zip_part){ "files/a", given_sheet("long enough "
        "to be over the room that is left, with some more words and words "
        "still, and here it is over a hundred bytes long", ""), 120, 0 });
    assert_not_let_in(large, STORE_ALL_TOO_BIG, 100ULL);
}

/* Three times 2 GiB, of a packed size that does not give it away. */
static void more_than_is_unpacked_in_all_is_refused(void **state)
{
    (void)state;
    enum { PACKED = 11 << 20 };
    struct random_source random = { 5 };
    static uint64_t noise[PACKED / 8];
    static const char *const names[] = { "files/a", "files/b", "files/c" };
    struct zip_part parts[4] = {
        { "case.json", sheet, sizeof sheet - 1, ZIP_PART_STORED },
    };
    for (size_t i = 0; i < PACKED / 8; i++)
        noise[i] = random_bits(&random);
    for (size_t i = 0; i < 3; i++)
        parts[i + 1] = (struct zip_part){ names[i], noise, PACKED,
                                          ZIP_PART_PACKED };
    zip_make(given_path("a.zip"), parts, 4);
    for (size_t i = 0; i < 3; i++)
        zip_change_on_disk(given_path("a.zip"), names[i], ZIP_FIELD_SIZE,
                           0x7ffffff0);
    assert_not_let_in(given_path("a.zip"), STORE_ARCHIVE_TOO_BIG,
                      given_path("a.zip"), ARCHIVE_BYTES_MAX);
}

/* ---- the sheet --------------------------------------------------------- */

static const char *with_sheet(const char *json, size_t length)
{
    const struct zip_part part = { "case.json", json, length,
                                   ZIP_PART_STORED };
    const char *path = given_path("sheet.zip");
    (void)unlink(path);
    zip_make(path, &part, 1);
    return path;
}

static void an_archive_has_a_sheet_that_is_one(void **state)
{
    (void)state;
    static char large[STORE_SHEET_MAX + 1];
    static const char outside[] = "{\"halfturn\": 1, \"drive\": "
                                  "{\"recording\": \"../../a.wav\"}}";
    const struct zip_part part = { "files/a.wav", "x", 1, ZIP_PART_STORED };
    zip_make(given_path("a.zip"), &part, 1);
    assert_not_let_in(given_path("a.zip"), STORE_ARCHIVE_NO_SHEET,
                      given_path("a.zip"));
    memset(large, ' ', sizeof large);
    memcpy(large, sheet, sizeof sheet - 1);
    assert_not_let_in(with_sheet(large, sizeof large),
                      STORE_ARCHIVE_SHEET_BIG, given_path("sheet.zip"),
                      (unsigned long long)sizeof large, STORE_SHEET_MAX);
    assert_not_let_in(with_sheet(outside, sizeof outside - 1),
                      STORE_NAME_NOT_PLAIN, "../../a.wav",
                      HT_STORE_NAME_MAX);
    assert_int_equal(import(with_sheet("{\"halfturn\": 2}", 15)),
                     HT_BAD_FILE);
    assert_nothing_kept();
    assert_int_equal(import(with_sheet(sheet, sizeof sheet - 1)), HT_OK);
}

/* ---- any bytes --------------------------------------------------------- */

static void spoilt_archives_are_a_sentence_or_a_case(void **state)
{
    (void)state;
    const struct zip_bytes zip = good();
    struct random_source random = { 77 };
    int let_in = 0;
    for (int i = 0; i < 600; i++) {
        struct zip_bytes bad = zip;
        for (int j = 0; j <= i % 3; j++)
            bad.bytes[random_bits(&random) % zip.length] =
                (unsigned char)random_bits(&random);
        enum ht_status status = import(written(&bad));
        assert_true(status == HT_OK || err.text[0] != '\0');
        let_in += status == HT_OK;
        if (status == HT_OK)
            assert_int_equal(ht_store_remove(store, made.id, &err), HT_OK);
        made = (struct ht_store_case){ 0 };
        assert_nothing_kept();
    }
    print_message("600 spoilt archives, %d of them let in\n", let_in);
    assert_true(let_in < 300);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, archive_begin, archive_end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(names_that_are_not_a_cases_are_refused),
        TEST(a_name_twice_is_refused),
        TEST(links_and_locked_entries_are_refused),
        TEST(a_packed_entry_grows_so_much_and_no_more),
        TEST(an_entry_that_lies_about_its_size_is_refused),
        TEST(a_spoilt_byte_is_found_by_the_checksum),
        TEST(sizes_over_the_limits_are_refused),
        TEST(more_than_is_unpacked_in_all_is_refused),
        TEST(an_archive_has_a_sheet_that_is_one),
        TEST(spoilt_archives_are_a_sentence_or_a_case),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
