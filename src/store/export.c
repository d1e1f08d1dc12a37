/* One case as a zip. Nothing is packed: sounds gain little, and a table that
 * packs too well would not be let in again. */
#include "archive.h"
#include "attachment.h"
#include "cases.h"
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

struct export {
    struct ht_store *store;
    const char *path;
    zip_t *zip;
    bool no_memory;
    struct ht_store_case now;
    struct ht_text json;
    struct case_files files;
};

/* The time of the last save, the same in every time zone; the format begins
 * with 1980. */
static void set_time(struct export *export, zip_uint64_t index)
{
    struct tm utc = { 0 };
    time_t seconds = (time_t)export->now.changed_s;
    zip_uint16_t date = 1 << 5 | 1, clock = 0;
    if (gmtime_r(&seconds, &utc) && utc.tm_year >= 80 && utc.tm_year < 200) {
        date = (zip_uint16_t)((utc.tm_year - 80) << 9 |
                              (utc.tm_mon + 1) << 5 | utc.tm_mday);
        clock = (zip_uint16_t)(utc.tm_hour << 11 | utc.tm_min << 5 |
                               utc.tm_sec / 2);
    }
    (void)zip_file_set_dostime(export->zip, index, clock, date, 0);
}

static bool add_entry(struct export *export, const char *name,
                      zip_source_t *source)
{
    if (!source)
        return false;
    zip_int64_t index =
        zip_file_add(export->zip, name, source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        zip_source_free(source);
        return false;
    }
    set_time(export, (zip_uint64_t)index);
    return zip_set_file_compression(export->zip, (zip_uint64_t)index,
                                    ZIP_CM_STORE, 0) == 0 &&
           zip_file_set_external_attributes(
               export->zip, (zip_uint64_t)index, 0, ZIP_OPSYS_UNIX,
               (zip_uint32_t)(UNIX_FILE | 0600) << 16) == 0;
}

static bool add_file(struct export *export, const struct ht_store_file *file)
{
    char name[sizeof ARCHIVE_FILES + HT_STORE_NAME_MAX];
    struct ht_text path = { 0 };
    ht_text_addf(&path, "%s/attachments/%s", export->store->folder,
                 file->hash);
    (void)snprintf(name, sizeof name, ARCHIVE_FILES "%s", file->name);
    export->no_memory = !ht_text_ok(&path);
    bool added = !export->no_memory &&
                 add_entry(export, name,
                           zip_source_file(export->zip, ht_text_get(&path), 0,
                                           -1));
    ht_text_free(&path);
    return added;
}

static bool add_all(struct export *export)
{
    bool added = add_entry(export, ARCHIVE_SHEET,
                           zip_source_buffer(export->zip,
                                             ht_text_get(&export->json),
                                             export->json.length, 0));
    for (size_t i = 0; i < export->files.count && added; i++)
        added = add_file(export, &export->files.file[i]);
    return added;
}

static enum ht_status stopped(const struct export *export, const char *why,
                              struct ht_error *err)
{
    return ht_fail(err, STORE_EXPORT_STOPPED, export->path, why);
}

/* ---- before and after -------------------------------------------------- */

static enum ht_status check_contents(struct export *export,
                                     struct ht_error *err)
{
    enum ht_status status = HT_OK;
    uint64_t bytes = 0;
    for (size_t i = 0; i < export->files.count; i++)
        if (__builtin_add_overflow(bytes, export->files.file[i].bytes, &bytes))
            bytes = UINT64_MAX;
    if (bytes > ARCHIVE_BYTES_MAX - STORE_SHEET_MAX)
        return ht_fail(err, STORE_EXPORT_TOO_BIG, (long long)export->now.id,
                       ARCHIVE_BYTES_MAX - STORE_SHEET_MAX);
    for (size_t i = 0; i < export->files.count && status == HT_OK; i++)
        status = ht_content_read(export->store, export->files.file[i].hash,
                                 -1, "", err);
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

static enum ht_status write_zip(struct export *export, struct ht_error *err)
{
    enum ht_status status = HT_OK;
    zip_error_t error;
    int code = 0;
    export->zip = zip_open(export->path, ZIP_CREATE | ZIP_TRUNCATE, &code);
    if (!export->zip) {
        zip_error_init_with_code(&error, code);
        status = stopped(export, zip_error_strerror(&error), err);
        zip_error_fini(&error);
        return status;
    }
    if (add_all(export) && zip_close(export->zip) == 0)
        return HT_OK;
    status = export->no_memory
                 ? ht_fail(err, STORE_NO_MEMORY, export->store->folder)
                 : stopped(export, zip_strerror(export->zip), err);
    zip_discard(export->zip);
    return status;
}

enum ht_status ht_store_export(struct ht_store *store, int64_t id,
                               const char *path, struct ht_error *err)
{
    struct export export = { .store = store, .path = path };
    enum ht_status status = ht_store_get(store, id, &export.now, &export.json,
                                         err);
    if (status == HT_OK)
        status = ht_files_read(store, id, &export.files, err);
    if (status == HT_OK)
        status = check_contents(&export, err);
    if (status == HT_OK) {
        if (!make_file(path))
            status = stopped(&export, strerror(errno), err);
        else {
            status = write_zip(&export, err);
            if (status == HT_OK && !sync_file(path))
                status = stopped(&export, strerror(errno), err);
            if (status != HT_OK)
                (void)unlink(path);
        }
    }
    ht_text_free(&export.json);
    return status;
}
