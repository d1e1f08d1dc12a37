/* A case's files: listed, detached, laid out for a workup. */
#include "attachment.h"
#include "cases.h"
#include "common/memory.h"
#include "disk.h"
#include "files.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A name or hash from the database becomes a path: it is looked at again. */
static bool take_file(struct query *query, struct ht_store_file *file)
{
    size_t key_bytes = (size_t)sqlite3_column_bytes(query->statement, 2);
    const char *name = ht_query_text(query, 0, NULL);
    const char *hash = ht_query_text(query, 1, NULL);
    if (ht_store_check_name(name, NULL) != HT_OK || !ht_is_hash(hash) ||
        key_bytes != sizeof file->key.byte)
        return false;
    *file = (struct ht_store_file){ 0 };
    ht_text_into(file->name, sizeof file->name, name);
    memcpy(file->hash, hash, sizeof file->hash);
    memcpy(file->key.byte, sqlite3_column_blob(query->statement, 2),
           key_bytes);
    file->bytes = (uint64_t)ht_query_number(query, 3);
    return true;
}

enum ht_status ht_files_read(struct ht_store *store, int64_t id,
                             struct case_files *files, struct ht_error *err)
{
    struct query query;
    struct ht_store_case found;
    files->count = 0;
    enum ht_status status = ht_case_find(store, id, &found, err);
    if (status != HT_OK)
        return status;
    ht_query_start(&query, store,
                   "SELECT f.name, f.hash, c.key, c.bytes FROM files f "
                   "JOIN contents c ON c.hash = f.hash WHERE f.case_id = ? "
                   "ORDER BY f.name",
                   VALUES(NUMBER(id)));
    while (ht_query_row(&query))
        if (files->count == HT_STORE_CASE_FILES_MAX ||
            !take_file(&query, &files->file[files->count++]))
            query.code = SQLITE_CORRUPT;
    return ht_query_end(&query, err);
}

enum ht_status ht_store_files(struct ht_store *store, int64_t id,
                              struct ht_store_file **list, size_t *count,
                              struct ht_error *err)
{
    struct case_files files;
    *list = NULL;
    *count = 0;
    enum ht_status status = ht_files_read(store, id, &files, err);
    if (status != HT_OK || files.count == 0)
        return status;
    *list = ht_allocate(files.count, sizeof **list);
    if (!*list)
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    memcpy(*list, files.file, files.count * sizeof **list);
    *count = files.count;
    return HT_OK;
}

static enum ht_status detach_in(struct ht_store *store, int64_t id,
                                const char *name, struct unused *unused,
                                struct ht_error *err)
{
    struct ht_store_case found;
    enum ht_status status = ht_case_find(store, id, &found, err);
    if (status == HT_OK)
        status = ht_sql_run(store, err,
                            "DELETE FROM files WHERE case_id = ? AND name = ?",
                            VALUES(NUMBER(id), TEXT(name)));
    if (status == HT_OK && sqlite3_changes(store->base) == 0)
        status = ht_fail(err, STORE_NO_FILE, (long long)id, name);
    if (status == HT_OK)
        status = ht_case_forget_results(store, id, err);
    if (status == HT_OK)
        status = ht_unused_take(store, unused, err);
    return status;
}

enum ht_status ht_store_detach(struct ht_store *store, int64_t id,
                               const char *name, struct ht_error *err)
{
    struct unused unused = { 0 };
    enum ht_status status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(
            store, detach_in(store, id, name, &unused, err), err);
    if (status == HT_OK)
        ht_unused_remove(store, &unused);
    return status;
}

/* ---- laid out ---------------------------------------------------------- */

/* A second name of the same file, which stays when the case loses it; where
 * the disk knows no such names, a link to the first. */
static bool link_file(struct ht_store *store, int folder,
                      const struct ht_store_file *file)
{
    char first[HT_STORE_HASH + 32];
    if (linkat(store->attachments, file->hash, folder, file->name, 0) == 0)
        return true;
    if (errno != EPERM && errno != EMLINK && errno != EOPNOTSUPP &&
        errno != ENOSYS)
        return false;
    (void)snprintf(first, sizeof first, "../../attachments/%s", file->hash);
    return symlinkat(first, folder, file->name) == 0;
}

static enum ht_status link_all(struct ht_store *store, int folder,
                               const struct case_files *files,
                               struct ht_error *err)
{
    for (size_t i = 0; i < files->count; i++) {
        const struct ht_store_file *file = &files->file[i];
        if (link_file(store, folder, file))
            continue;
        if (errno == ENOENT)
            return ht_fail(err, STORE_FILE_GONE, store->called, file->hash,
                           strerror(errno));
        return ht_fail(err, STORE_NOT_LAID_OUT, store->called,
                       strerror(errno));
    }
    return HT_OK;
}

static enum ht_status fill_folder(struct ht_store *store, const char *name,
                                  const struct case_files *files,
                                  struct ht_error *err)
{
    int folder = ht_disk_folder(store->arriving, name);
    if (folder < 0)
        return ht_fail(err, STORE_NOT_LAID_OUT, store->called,
                       strerror(errno));
    enum ht_status status = link_all(store, folder, files, err);
    (void)close(folder);
    if (status != HT_OK)
        ht_disk_remove(store->arriving, name);
    return status;
}

enum ht_status ht_store_lay_out(struct ht_store *store, int64_t id, char *path,
                                size_t size, struct ht_error *err)
{
    struct case_files files;
    char name[STORE_OWN_NAME];
    if (size > 0)
        path[0] = '\0';
    enum ht_status status = ht_files_read(store, id, &files, err);
    if (status != HT_OK)
        return status;
    ht_own_name(store, "out", name);
    int length = snprintf(path, size, "%s/arriving/%s", store->folder, name);
    if (length < 0 || (size_t)length >= size)
        status = ht_fail(err, STORE_PATH_TOO_LONG, store->called, size);
    else
        status = fill_folder(store, name, &files, err);
    if (status != HT_OK && size > 0)
        path[0] = '\0';
    return status;
}

/* Only what ht_store_lay_out made. */
void ht_store_put_away(struct ht_store *store, const char *path)
{
    static const char between[] = "/arriving/";
    size_t folder = strlen(store->folder);
    if (strncmp(path, store->folder, folder) != 0 ||
        strncmp(path + folder, between, sizeof between - 1) != 0)
        return;
    const char *name = path + folder + sizeof between - 1;
    if (strncmp(name, "out-", 4) == 0 && !strchr(name, '/'))
        ht_own_remove(store, name);
}
