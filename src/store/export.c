/* One case as a zip. Nothing is packed: sounds gain little, and a table that
 * packs too well would not be let in again. */
#include "archive.h"
#include "attachment.h"
#include "cases.h"
#include "common/memory.h"
#include "disk.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>
#include <zip.h>

struct ht_packing {
    const char *called;         /* the store, and the archive, in refusals */
    const char *archive;
    const struct ht_ask *ask;
    zip_t *zip;
    bool no_memory;
    struct ht_store_case now;
    struct ht_text json;
    struct case_files files;
    char folder[4096];          /* the files under their names */
};

/* The time of the last save, the same in every time zone; the format begins
 * with 1980. */
static void set_time(struct ht_packing *packing, zip_uint64_t index)
{
    struct tm utc = { 0 };
    time_t seconds = (time_t)packing->now.changed_s;
    zip_uint16_t date = 1 << 5 | 1, clock = 0;
    if (gmtime_r(&seconds, &utc) && utc.tm_year >= 80 && utc.tm_year < 200) {
        date = (zip_uint16_t)((utc.tm_year - 80) << 9 |
                              (utc.tm_mon + 1) << 5 | utc.tm_mday);
        clock = (zip_uint16_t)(utc.tm_hour << 11 | utc.tm_min << 5 |
                               utc.tm_sec / 2);
    }
    (void)zip_file_set_dostime(packing->zip, index, clock, date, 0);
}

static bool add_entry(struct ht_packing *packing, const char *name,
                      zip_source_t *source)
{
    if (!source)
        return false;
    zip_int64_t index =
        zip_file_add(packing->zip, name, source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        zip_source_free(source);
        return false;
    }
    set_time(packing, (zip_uint64_t)index);
    return zip_set_file_compression(packing->zip, (zip_uint64_t)index,
                                    ZIP_CM_STORE, 0) == 0 &&
           zip_file_set_external_attributes(
               packing->zip, (zip_uint64_t)index, 0, ZIP_OPSYS_UNIX,
               (zip_uint32_t)(UNIX_FILE | 0600) << 16) == 0;
}

static void write_path(struct ht_text *path, const struct ht_packing *packing,
                       const struct ht_store_file *file)
{
    ht_text_addf(path, "%s/%s", packing->folder, file->name);
}

static bool add_file(struct ht_packing *packing,
                     const struct ht_store_file *file)
{
    char name[sizeof ARCHIVE_FILES + HT_STORE_NAME_MAX];
    struct ht_text path = { 0 };
    write_path(&path, packing, file);
    (void)snprintf(name, sizeof name, ARCHIVE_FILES "%s", file->name);
    packing->no_memory = !ht_text_ok(&path);
    bool added = !packing->no_memory &&
                 add_entry(packing, name,
                           zip_source_file(packing->zip, ht_text_get(&path),
                                           0, -1));
    ht_text_free(&path);
    return added;
}

static bool add_all(struct ht_packing *packing)
{
    bool added = add_entry(packing, ARCHIVE_SHEET,
                           zip_source_buffer(packing->zip,
                                             ht_text_get(&packing->json),
                                             packing->json.length, 0));
    for (size_t i = 0; i < packing->files.count && added; i++)
        added = add_file(packing, &packing->files.file[i]);
    return added;
}

static enum ht_status stopped(const struct ht_packing *packing,
                              const char *why, struct ht_error *err)
{
    if (!ht_goes_on(packing->ask))
        return ht_fail(err, STORE_STOPPED);
    return ht_fail(err, STORE_EXPORT_STOPPED, packing->archive, why);
}

/* ---- before and after -------------------------------------------------- */

static enum ht_status check_content(const struct ht_packing *packing,
                                    const struct ht_store_file *file,
                                    struct ht_error *err)
{
    struct ht_text path = { 0 };
    write_path(&path, packing, file);
    if (!ht_text_ok(&path)) {
        ht_text_free(&path);
        return ht_fail(err, STORE_NO_MEMORY, packing->called);
    }
    struct content content = {
        .called = packing->called, .hash = file->hash, .to = -1, .where = "",
        .ask = packing->ask,
        .from = open(ht_text_get(&path), O_RDONLY | O_NONBLOCK | O_CLOEXEC)
    };
    enum ht_status status = ht_content_read(&content, err);
    if (content.from >= 0)
        (void)close(content.from);
    ht_text_free(&path);
    return status;
}

static enum ht_status check_contents(const struct ht_packing *packing,
                                     struct ht_error *err)
{
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < packing->files.count && status == HT_OK; i++)
        status = check_content(packing, &packing->files.file[i], err);
    return status;
}

/* Made here, so that it is nobody else's to read. */
static bool make_file(const char *path)
{
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    return file >= 0 && close(file) == 0;
}

static bool sync_file(const char *path)
{
    int file = open(path, O_RDONLY | O_CLOEXEC);
    bool synced = file >= 0 && fsync(file) == 0;
    int failure = errno;
    if (file >= 0)
        (void)close(file);
    errno = failure;
    return synced && ht_disk_sync_above(path);
}

static int wants_no_more(zip_t *zip, void *context)
{
    const struct ht_packing *packing = context;
    (void)zip;
    return !ht_goes_on(packing->ask);
}

static enum ht_status write_zip(struct ht_packing *packing, const char *path,
                                struct ht_error *err)
{
    enum ht_status status = HT_OK;
    zip_error_t error;
    int code = 0;
    packing->zip = zip_open(path, ZIP_CREATE | ZIP_TRUNCATE, &code);
    if (!packing->zip) {
        zip_error_init_with_code(&error, code);
        status = stopped(packing, zip_error_strerror(&error), err);
        zip_error_fini(&error);
        return status;
    }
    (void)zip_register_cancel_callback_with_state(packing->zip, wants_no_more,
                                                  NULL, packing);
    if (add_all(packing) && zip_close(packing->zip) == 0)
        return HT_OK;
    status = packing->no_memory
                 ? ht_fail(err, STORE_NO_MEMORY, packing->called)
                 : stopped(packing, zip_strerror(packing->zip), err);
    zip_discard(packing->zip);
    return status;
}

/* ---- in three steps, or in one ----------------------------------------- */

static enum ht_status check_size(const struct ht_packing *packing,
                                 struct ht_error *err)
{
    uint64_t bytes = 0;
    for (size_t i = 0; i < packing->files.count; i++)
        if (__builtin_add_overflow(bytes, packing->files.file[i].bytes,
                                   &bytes))
            bytes = UINT64_MAX;
    if (bytes > ARCHIVE_BYTES_MAX - STORE_SHEET_MAX)
        return ht_fail(err, STORE_EXPORT_TOO_BIG, (long long)packing->now.id,
                       ARCHIVE_BYTES_MAX - STORE_SHEET_MAX);
    return HT_OK;
}

enum ht_status ht_packing_begin(struct ht_store *store,
                                struct ht_packing **packing, int64_t id,
                                struct ht_error *err)
{
    struct ht_packing *made = ht_allocate(1, sizeof *made);
    *packing = NULL;
    if (!made) {
        (void)ht_fail(err, STORE_NO_MEMORY, store->called);
        return HT_NO_MEMORY;
    }
    made->called = store->called;
    enum ht_status status =
        ht_store_get(store, id, &made->now, &made->json, err);
    if (status == HT_OK)
        status = ht_files_read(store, id, &made->files, err);
    if (status == HT_OK)
        status = check_size(made, err);
    if (status == HT_OK)
        status = ht_store_lay_out(store, id, made->folder,
                                  sizeof made->folder, err);
    if (status == HT_OK)
        *packing = made;
    else
        ht_packing_end(store, made);
    return status;
}

enum ht_status ht_packing_write(struct ht_packing *packing, const char *path,
                                const char *called,
                                const struct ht_ask *ask,
                                struct ht_error *err)
{
    packing->archive = called;
    packing->ask = ask;
    enum ht_status status = check_contents(packing, err);
    if (status == HT_OK && !make_file(path))
        return stopped(packing, strerror(errno), err);
    if (status == HT_OK) {
        status = write_zip(packing, path, err);
        if (status != HT_OK)
            (void)unlink(path);
    }
    return status;
}

void ht_packing_end(struct ht_store *store, struct ht_packing *packing)
{
    if (!packing)
        return;
    if (packing->folder[0])
        ht_store_put_away(store, packing->folder);
    ht_text_free(&packing->json);
    ht_release(packing);
}

enum ht_status ht_store_export(struct ht_store *store, int64_t id,
                               const char *path, struct ht_error *err)
{
    struct ht_packing *packing;
    enum ht_status status = ht_packing_begin(store, &packing, id, err);
    if (status == HT_OK)
        status = ht_packing_write(packing, path, path, NULL, err);
    if (status == HT_OK && !sync_file(path)) {
        status = stopped(packing, strerror(errno), err);
        (void)unlink(path);
    }
    ht_packing_end(store, packing);
    return status;
}
