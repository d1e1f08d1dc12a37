/* store.h. One store for all rows; the last one closes it. What SQLite and
 * libzip ask for is theirs (tests/store/test_faults.c refuses it). */
#include "row.h"

#include "halfturn/store.h"
#include "store/disk.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static struct ht_store *store;
static struct ht_store_case now;

static const char json[] = "{\"halfturn\": 1, \"title\": \"Hums\", \"drive\": "
                           "{\"recording\": \"a.wav\", \"speed\": \"b.csv\"}}";

/* In memory where there is such a place: a store waits for its disk. */
static const char *path_of(const char *name)
{
    static char path[3][120];
    static size_t next;
    char *given_path = path[next++ % 3];
    if (access("/dev/shm", W_OK) == 0)
        (void)snprintf(given_path, sizeof path[0], "/dev/shm%s-%s",
                       strrchr(given.folder, '/'), name);
    else
        (void)snprintf(given_path, sizeof path[0], "%s/%s", given.folder,
                       name);
    return given_path;
}

/* Case 1 at `now`, with a file and something to undo. */
static struct ht_store *ready(void)
{
    struct ht_arrival *arrival;
    struct ht_store_file kept;
    if (store)
        return store;
    if (ht_store_open(&store, path_of("store"), NULL, NULL) != HT_OK ||
        ht_store_add(store, json, NULL, &now, NULL) != HT_OK ||
        ht_store_save(store, 1, 1, json, NULL, &now, NULL) != HT_OK ||
        ht_store_begin(store, &arrival, NULL) != HT_OK ||
        ht_arrival_write(arrival, "abc", 3, NULL) != HT_OK ||
        ht_store_keep(store, arrival, 1, "a.wav", &kept, NULL) != HT_OK)
        ROW_DEMAND(false);
    return store;
}

static enum ht_status open_store(struct ht_error *err)
{
    struct ht_store *other;
    watch_begin();
    enum ht_status status = ht_store_open(&other, path_of("other"), NULL, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (other != NULL));
    ht_store_close(other);
    ht_disk_remove(AT_FDCWD, path_of("other"));
    return status;
}

/* ---- cases ------------------------------------------------------------- */

static enum ht_status add_case(struct ht_error *err)
{
    struct ht_store_case made;
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_add(store, json, "key", &made, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (made.id > 0));
    return status;
}

static enum ht_status save_case(struct ht_error *err)
{
    struct ht_store_case saved;
    (void)ready();
    watch_begin();
    enum ht_status status =
        ht_store_save(store, 1, now.revision, json, NULL, &saved, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (saved.revision == now.revision + 1));
    if (status == HT_OK)
        now = saved;
    return status;
}

static enum ht_status move_back_and_forth(struct ht_error *err)
{
    (void)ready();
    watch_begin();
    ROW_DEMAND(ht_store_undo(store, 1, now.revision, &now, err) == HT_OK);
    ROW_DEMAND(ht_store_redo(store, 1, now.revision, &now, err) == HT_OK);
    watch_end();
    return HT_OK;
}

static enum ht_status get_case(struct ht_error *err)
{
    struct ht_store_case found;
    struct ht_text text = { 0 };
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_get(store, 1, &found, &text, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (found.id == 1));
    ROW_DEMAND(row_text(&text) == status);
    return status;
}

static enum ht_status remove_case(struct ht_error *err)
{
    struct ht_store_case made;
    (void)ready();
    ROW_DEMAND(ht_store_add(store, json, NULL, &made, err) == HT_OK);
    watch_begin();
    enum ht_status status = ht_store_remove(store, made.id, err);
    watch_end();
    return status;
}

static enum ht_status list_cases(struct ht_error *err)
{
    struct ht_store_case *list;
    size_t count;
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_list(store, &list, &count, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (list && count > 0));
    ht_store_release(list);
    return status;
}

static enum ht_status release_list(struct ht_error *err)
{
    struct ht_store_case *list;
    size_t count;
    (void)ready();
    enum ht_status status = ht_store_list(store, &list, &count, err);
    watch_begin();
    ht_store_release(list);
    watch_end();
    return status;
}

/* ---- files ------------------------------------------------------------- */

static enum ht_status begin_arrival(struct ht_error *err)
{
    struct ht_arrival *arrival;
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_begin(store, &arrival, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (arrival != NULL));
    ht_store_drop(store, arrival);
    return status;
}

static enum ht_status keep_and_detach(struct ht_error *err)
{
    struct ht_arrival *arrival, *other;
    struct ht_store_file kept;
    (void)ready();
    ROW_DEMAND(ht_store_begin(store, &arrival, err) == HT_OK);
    ROW_DEMAND(ht_store_begin(store, &other, err) == HT_OK);
    watch_begin();
    ROW_DEMAND(ht_arrival_write(arrival, "abcd", 4, err) == HT_OK);
    ROW_DEMAND(access(ht_arrival_path(arrival), F_OK) == 0);
    ROW_DEMAND(ht_arrival_flush(arrival, NULL, err) == HT_OK);
    ROW_DEMAND(ht_store_check_name("b.csv", err) == HT_OK);
    enum ht_status status = ht_store_keep(store, arrival, 1, "b.csv", &kept,
                                          err);
    ROW_DEMAND(ht_store_detach(store, 1, "b.csv", err) == HT_OK);
    ht_store_drop(store, other);
    watch_end();
    return status;
}

static enum ht_status list_files(struct ht_error *err)
{
    struct ht_store_file *list;
    size_t count;
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_files(store, 1, &list, &count, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (list && count == 1));
    ht_store_release(list);
    return status;
}

static enum ht_status lay_out(struct ht_error *err)
{
    char path[200];
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_lay_out(store, 1, path, sizeof path,
                                             err);
    ht_store_put_away(store, path);
    watch_end();
    ROW_DEMAND(access(path, F_OK) != 0);
    return status;
}

/* ---- the rest ---------------------------------------------------------- */

static const struct ht_store_result_of result = { 1, 1, "rank", "1", "" };

static enum ht_status put_result(struct ht_error *err)
{
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_put_result(store, &result, "{}", err);
    watch_end();
    return status;
}

static enum ht_status get_result(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)ready();
    ROW_DEMAND(ht_store_put_result(store, &result, "{}", err) == HT_OK);
    watch_begin();
    enum ht_status status = ht_store_get_result(store, &result, &text, err);
    watch_end();
    ROW_DEMAND(row_text(&text) == status);
    return status;
}

static enum ht_status back_up(struct ht_error *err)
{
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_backup(store, path_of("copy"), err);
    watch_end();
    ROW_DEMAND((access(path_of("copy"), F_OK) == 0) == (status == HT_OK));
    ht_disk_remove(AT_FDCWD, path_of("copy"));
    return status;
}

static enum ht_status export_case(struct ht_error *err)
{
    const char *path = path_of("case.zip");
    (void)ready();
    watch_begin();
    enum ht_status status = ht_store_export(store, 1, path, err);
    watch_end();
    ROW_DEMAND((access(path, F_OK) == 0) == (status == HT_OK));
    (void)unlink(path);
    return status;
}

static enum ht_status import_case(struct ht_error *err)
{
    struct ht_store_case made;
    const char *path = path_of("case.zip");
    (void)ready();
    ROW_DEMAND(ht_store_export(store, 1, path, err) == HT_OK);
    watch_begin();
    enum ht_status status = ht_store_import(store, path, NULL, &made, err);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (made.id > 0));
    (void)unlink(path);
    return status;
}

/* The parts that need no store are done while it is another's. */
static enum ht_status pack_and_unpack(struct ht_error *err)
{
    struct ht_packing *packing;
    struct ht_unpacking *unpacking = NULL;
    struct ht_store_case made = { 0 };
    const char *path = path_of("case.zip");
    (void)ready();
    watch_begin();
    ht_store_call_short(store);
    ht_store_put_off(store);
    enum ht_status status = ht_packing_begin(store, &packing, 1, err);
    if (status == HT_OK)
        status = ht_packing_write(packing, path, path, NULL, err);
    if (status == HT_OK)
        status = ht_unpacking_begin(store, &unpacking, path, path, err);
    if (status == HT_OK)
        status = ht_unpacking_read(unpacking, NULL, err);
    if (status == HT_OK)
        status = ht_unpacking_keep(store, unpacking, NULL, &made, err);
    ht_unpacking_end(store, unpacking);
    ht_packing_end(store, packing);
    ht_store_tidy(store);
    watch_end();
    ROW_DEMAND((status == HT_OK) == (made.id > 0));
    (void)unlink(path);
    return status;
}

static enum ht_status close_store(struct ht_error *err)
{
    (void)err;
    (void)ready();
    watch_begin();
    ht_store_close(store);
    ht_store_close(NULL);
    watch_end();
    store = NULL;
    ht_disk_remove(AT_FDCWD, path_of("store"));
    return HT_OK;
}

const struct row rows_store[] = {
    { "ht_store_open", ALLOCATES, open_store },
    { "ht_store_add", ALLOCATES, add_case },
    { "ht_store_save", ALLOCATES, save_case },
    { "ht_store_undo", NO_MEMORY_NEEDED, move_back_and_forth },
    { "ht_store_redo", NO_MEMORY_NEEDED, move_back_and_forth },
    { "ht_store_get", ALLOCATES, get_case },
    { "ht_store_remove", NO_MEMORY_NEEDED, remove_case },
    { "ht_store_list", ALLOCATES, list_cases },
    { "ht_store_release", NO_MEMORY_NEEDED, release_list },
    { "ht_store_begin", ALLOCATES, begin_arrival },
    { "ht_arrival_write", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_store_check_name", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_arrival_flush", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_arrival_path", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_store_keep", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_store_drop", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_store_detach", NO_MEMORY_NEEDED, keep_and_detach },
    { "ht_store_files", ALLOCATES, list_files },
    { "ht_store_lay_out", NO_MEMORY_NEEDED, lay_out },
    { "ht_store_put_away", NO_MEMORY_NEEDED, lay_out },
    { "ht_store_put_result", NO_MEMORY_NEEDED, put_result },
    { "ht_store_get_result", ALLOCATES, get_result },
    { "ht_store_backup", ALLOCATES, back_up },
    { "ht_store_export", ALLOCATES, export_case },
    { "ht_store_import", ALLOCATES, import_case },
    { "ht_store_call_short", ALLOCATES, pack_and_unpack },
    { "ht_store_put_off", ALLOCATES, pack_and_unpack },
    { "ht_store_tidy", ALLOCATES, pack_and_unpack },
    { "ht_packing_begin", ALLOCATES, pack_and_unpack },
    { "ht_packing_write", ALLOCATES, pack_and_unpack },
    { "ht_packing_end", ALLOCATES, pack_and_unpack },
    { "ht_unpacking_begin", ALLOCATES, pack_and_unpack },
    { "ht_unpacking_read", ALLOCATES, pack_and_unpack },
    { "ht_unpacking_keep", ALLOCATES, pack_and_unpack },
    { "ht_unpacking_end", ALLOCATES, pack_and_unpack },
    { "ht_store_close", NO_MEMORY_NEEDED, close_store },
    { 0 },
};
