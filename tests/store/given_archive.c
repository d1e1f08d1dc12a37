#include "given_archive.h"

#include <unistd.h>

struct ht_store *store;
struct ht_error err;
struct ht_store_case made;

int archive_begin(void **state)
{
    if (given_begin(state) != 0)
        return -1;
    err = (struct ht_error){ 0 };
    store = given_open();
    return 0;
}

int archive_end(void **state)
{
    ht_store_close(store);
    return given_end(state);
}

enum ht_status import(const char *path)
{
    return ht_store_import(store, path, NULL, &made, &err);
}

void assert_nothing_kept(void)
{
    struct ht_store_case *list;
    size_t count;
    assert_int_equal(made.id, 0);
    assert_int_equal(ht_store_list(store, &list, &count, &err), HT_OK);
    assert_int_equal(count, 0);
    ht_store_release(list);
    assert_int_equal(given_count(given_path("store/arriving")), 0);
    assert_int_equal(given_count(given_path("store/attachments")), 0);
}

struct zip_bytes good(void)
{
    const struct zip_part parts[] = {
        { "case.json", sheet, sizeof sheet - 1, ZIP_PART_STORED },
        { "files/a.wav", "abcdef", 6, ZIP_PART_STORED },
    };
    struct zip_bytes zip;
    (void)unlink(given_path("good.zip"));
    zip_make(given_path("good.zip"), parts, 2);
    zip_bytes_read(&zip, given_path("good.zip"));
    return zip;
}

const char *written(const struct zip_bytes *zip)
{
    const char *path = given_path("bad.zip");
    given_write(path, zip->bytes, zip->length);
    return path;
}

const char *with(struct zip_part part)
{
    const struct zip_part parts[] = {
        { "case.json", sheet, sizeof sheet - 1, ZIP_PART_STORED }, part
    };
    const char *path = given_path("part.zip");
    (void)unlink(path);
    zip_make(path, parts, 2);
    return path;
}
