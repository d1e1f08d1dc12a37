#include "given_store.h"

#include "close.h"
#include "store/disk.h"

#include <dirent.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[200];

int given_begin(void **state)
{
    (void)state;
    const char *where = getenv("TMPDIR");
    if (access("/dev/shm", W_OK) == 0)
        where = "/dev/shm"; /* a hundred times as fast as a disk */
    if (!where || !*where)
        where = "/tmp";
    (void)snprintf(folder, sizeof folder, "%s/halfturn-store-XXXXXX", where);
    return mkdtemp(folder) ? 0 : -1;
}

int given_end(void **state)
{
    (void)state;
    ht_disk_remove(AT_FDCWD, folder);
    return access(folder, F_OK) == 0 ? -1 : 0;
}

const char *given_path(const char *name)
{
    static char path[8][600];
    static size_t next;
    char *given = path[next++ % 8];
    (void)snprintf(given, sizeof path[0], "%s/%s", folder, name);
    return given;
}

struct ht_store *given_open(void)
{
    struct ht_error err = { 0 };
    struct ht_store *store;
    if (ht_store_open(&store, STORE_FOLDER, NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    return store;
}

struct ht_store_case given_case(struct ht_store *store, const char *title)
{
    struct ht_error err = { 0 };
    struct ht_store_case made;
    if (ht_store_add(store, given_sheet(title, ""), NULL, &made, &err) !=
        HT_OK)
        fail_msg("%s", err.text);
    return made;
}

struct ht_arrival *given_arrival(struct ht_store *store, const void *bytes,
                                 size_t length)
{
    struct ht_error err = { 0 };
    struct ht_arrival *arrival;
    if (ht_store_begin(store, &arrival, &err) != HT_OK ||
        ht_arrival_write(arrival, bytes, length / 2, &err) != HT_OK ||
        ht_arrival_write(arrival, (const char *)bytes + length / 2,
                         length - length / 2, &err) != HT_OK)
        fail_msg("%s", err.text);
    return arrival;
}

struct ht_store_file given_attach(struct ht_store *store, int64_t id,
                                  const char *name, const char *text)
{
    struct ht_error err = { 0 };
    struct ht_store_file kept;
    struct ht_arrival *arrival = given_arrival(store, text, strlen(text));
    if (ht_store_keep(store, arrival, id, name, &kept, &err) != HT_OK)
        fail_msg("%s", err.text);
    return kept;
}

const char *given_sheet(const char *title, const char *more)
{
    static char json[70000];
    (void)snprintf(json, sizeof json, "{\"halfturn\": 1, \"title\": \"%s\"%s}",
                   title, more);
    return json;
}

void given_write(const char *path, const void *bytes, size_t length)
{
    FILE *file = fopen(path, "wb");
    if (!file || (length && fwrite(bytes, 1, length, file) != length) ||
        fclose(file) != 0)
        abort();
}

long given_size(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0 ? (long)about.st_size : -1;
}

size_t given_count(const char *path)
{
    size_t count = 0;
    DIR *open = opendir(path);
    while (open && readdir(open))
        count++;
    if (open)
        (void)closedir(open);
    return count > 2 ? count - 2 : 0;
}

static int first_value(void *value, int columns, char **texts, char **names)
{
    (void)names;
    if (columns > 0 && texts[0] && *(long long *)value == -1)
        *(long long *)value = strtoll(texts[0], NULL, 10);
    return 0;
}

long long given_sql(const char *sql)
{
    sqlite3 *base;
    char *why = NULL;
    long long value = -1;
    assert_int_equal(sqlite3_open(given_path("store/cases.db"), &base),
                     SQLITE_OK);
    (void)sqlite3_exec(base, "PRAGMA locking_mode=EXCLUSIVE", NULL, NULL,
                       NULL);
    if (sqlite3_exec(base, sql, first_value, &value, &why) != SQLITE_OK)
        fail_msg("%s: %s", sql, why);
    (void)sqlite3_close(base);
    return value;
}
