/* A whole store once more, by SQLite's own backup. */
#include "attachment.h"
#include "disk.h"
#include "inside.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum ht_status stopped(const char *folder, const char *why,
                              struct ht_error *err)
{
    return ht_fail(err, STORE_BACKUP_STOPPED, folder, why);
}

/* ---- the database ------------------------------------------------------ */

static int copy_pages(sqlite3 *to, sqlite3 *from)
{
    sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
    if (!backup)
        return sqlite3_errcode(to);
    (void)sqlite3_backup_step(backup, -1);
    return sqlite3_backup_finish(backup);
}

static enum ht_status copy_base(struct ht_store *store, int at,
                                const char *folder, struct ht_error *err)
{
    sqlite3 *copy = NULL;
    struct ht_text path = { 0 };
    int file = openat(at, "cases.db", O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC,
                      0600);
    if (file < 0 || close(file) != 0)
        return stopped(folder, strerror(errno), err);
    ht_text_addf(&path, "%s/cases.db", folder);
    if (!ht_text_ok(&path))
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    int code = sqlite3_open_v2(ht_text_get(&path), &copy,
                               SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX |
                                   SQLITE_OPEN_EXRESCODE,
                               NULL);
    if (code == SQLITE_OK)
        code = copy_pages(copy, store->base);
    int closed = sqlite3_close(copy);
    ht_text_free(&path);
    if (code == SQLITE_OK)
        code = closed;
    if (code == SQLITE_NOMEM || code == SQLITE_IOERR_NOMEM)
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    return code == SQLITE_OK ? HT_OK
                             : stopped(folder, sqlite3_errstr(code), err);
}

/* ---- the attachments --------------------------------------------------- */

static enum ht_status copy_content(struct ht_store *store, const char *hash,
                                   int to, const char *folder,
                                   struct ht_error *err)
{
    int file = openat(to, hash, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC,
                      0400);
    if (file < 0)
        return stopped(folder, strerror(errno), err);
    struct content content = {
        .called = store->called, .hash = hash, .to = file, .where = folder,
        .from = openat(store->attachments, hash,
                       O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC)
    };
    enum ht_status status = ht_content_read(&content, err);
    if (content.from >= 0)
        (void)close(content.from);
    if (status == HT_OK && fsync(file) != 0)
        status = stopped(folder, strerror(errno), err);
    if (close(file) != 0 && status == HT_OK)
        status = stopped(folder, strerror(errno), err);
    return status;
}

static enum ht_status copy_contents(struct ht_store *store, int to,
                                    const char *folder, struct ht_error *err)
{
    enum ht_status status = HT_OK;
    struct query query;
    ht_query_start(&query, store,
                   "SELECT DISTINCT hash FROM files ORDER BY hash", NULL, 0);
    while (status == HT_OK && ht_query_row(&query)) {
        const char *hash = ht_query_text(&query, 0, NULL);
        if (ht_is_hash(hash))
            status = copy_content(store, hash, to, folder, err);
        else
            query.code = SQLITE_CORRUPT;
    }
    enum ht_status ended = ht_query_end(&query, status == HT_OK ? err : NULL);
    return status == HT_OK ? ended : status;
}

static enum ht_status copy_all(struct ht_store *store, int at,
                               const char *folder, struct ht_error *err)
{
    int attachments = ht_disk_folder(at, "attachments");
    if (attachments < 0)
        return stopped(folder, strerror(errno), err);
    enum ht_status status = copy_contents(store, attachments, folder, err);
    if (status == HT_OK && fsync(attachments) != 0)
        status = stopped(folder, strerror(errno), err);
    (void)close(attachments);
    if (status == HT_OK)
        status = copy_base(store, at, folder, err);
    if (status == HT_OK &&
        (fsync(at) != 0 || !ht_disk_sync_above(folder)))
        status = stopped(folder, strerror(errno), err);
    return status;
}

enum ht_status ht_store_backup(struct ht_store *store, const char *folder,
                               struct ht_error *err)
{
    if (mkdir(folder, 0700) != 0)
        return ht_fail(err, STORE_BACKUP_NOT_MADE, folder, strerror(errno));
    int at = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    enum ht_status status =
        at >= 0 ? copy_all(store, at, folder, err)
                : stopped(folder, strerror(errno), err);
    if (at >= 0)
        (void)close(at);
    if (status != HT_OK)
        ht_disk_remove(AT_FDCWD, folder);
    return status;
}
