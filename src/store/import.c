/* One case from a zip. The archive is from elsewhere: every entry is looked at
 * before the first one is unpacked, and what is unpacked is counted. */
#include "archive.h"
#include "attachment.h"
#include "cases.h"
#include "common/memory.h"
#include "texts.h"

#include <string.h>
#include <zip.h>

struct entry {
    const char *name;           /* the archive's */
    bool is_sheet;
    zip_uint64_t size;
    struct ht_arrival *arrival;
    struct ht_store_file file;
};

struct ht_unpacking {
    const char *called, *store_called; /* the archive and the store */
    const struct ht_ask *ask;
    uint64_t file_bytes_max;
    zip_t *zip;
    size_t count;
    struct entry entry[ARCHIVE_ENTRIES_MAX];
    struct kept_sheet sheet;
};

/* ---- looked at --------------------------------------------------------- */

static enum ht_status damaged(const struct ht_unpacking *import,
                              const char *why, struct ht_error *err)
{
    return ht_fail(err, STORE_ARCHIVE_DAMAGED, import->called, why);
}

static enum ht_status check_name(const struct ht_unpacking *import,
                                 size_t index, struct ht_error *err)
{
    static const size_t head = sizeof ARCHIVE_FILES - 1;
    const struct entry *entry = &import->entry[index];
    if (!entry->is_sheet &&
        (strncmp(entry->name, ARCHIVE_FILES, head) != 0 ||
         ht_store_check_name(entry->name + head, NULL) != HT_OK))
        return ht_fail(err, STORE_ARCHIVE_NAME, import->called, entry->name);
    for (size_t i = 0; i < index; i++)
        if (import->entry[i].name &&
            strcmp(import->entry[i].name, entry->name) == 0)
            return ht_fail(err, STORE_ARCHIVE_TWICE, import->called);
    return HT_OK;
}

/* A mode is said by archives from Unix only; others say of a folder by a bit
 * of DOS, and their folders end in '/', which is no plain name. */
static bool is_file(const struct ht_unpacking *import, zip_uint64_t index)
{
    zip_uint8_t system = 0;
    zip_uint32_t attributes = 0;
    if (zip_file_get_external_attributes(import->zip, index, 0, &system,
                                         &attributes) != 0)
        return false;
    if (system != ZIP_OPSYS_UNIX && system != ZIP_OPSYS_OS_X)
        return true;
    zip_uint32_t kind = attributes >> 16 & UNIX_KIND;
    return kind == 0 || kind == UNIX_FILE;
}

static enum ht_status check_size(const struct ht_unpacking *import,
                                 const struct entry *entry,
                                 const zip_stat_t *about,
                                 struct ht_error *err)
{
    if (entry->is_sheet && about->size > STORE_SHEET_MAX)
        return ht_fail(err, STORE_ARCHIVE_SHEET_BIG, import->called,
                       (unsigned long long)about->size, STORE_SHEET_MAX);
    if (about->size > import->file_bytes_max)
        return ht_fail(err, STORE_FILE_TOO_BIG,
                       (unsigned long long)import->file_bytes_max);
    if (about->size / ARCHIVE_RATIO_MAX > about->comp_size ||
        (about->comp_size == 0 && about->size > 0))
        return ht_fail(err, STORE_ARCHIVE_RATIO, import->called, entry->name,
                       (unsigned long long)about->comp_size,
                       (unsigned long long)about->size, ARCHIVE_RATIO_MAX);
    return HT_OK;
}

static enum ht_status check_entry(struct ht_unpacking *import, size_t index,
                                  struct ht_error *err)
{
    static const zip_uint64_t wanted = ZIP_STAT_NAME | ZIP_STAT_SIZE |
                                       ZIP_STAT_COMP_SIZE |
                                       ZIP_STAT_COMP_METHOD |
                                       ZIP_STAT_ENCRYPTION_METHOD;
    struct entry *entry = &import->entry[index];
    zip_stat_t about;
    if (zip_stat_index(import->zip, index, ZIP_FL_ENC_RAW, &about) != 0)
        return damaged(import, zip_strerror(import->zip), err);
    if ((about.valid & wanted) != wanted || !about.name)
        return damaged(import, "inconsistent", err);
    entry->name = about.name;
    entry->is_sheet = strcmp(about.name, ARCHIVE_SHEET) == 0;
    entry->size = about.size;
    enum ht_status status = check_name(import, index, err);
    if (status != HT_OK)
        return status;
    if (!is_file(import, index))
        return ht_fail(err, STORE_ARCHIVE_KIND, import->called, entry->name);
    if (about.encryption_method != ZIP_EM_NONE)
        return ht_fail(err, STORE_ARCHIVE_LOCKED, import->called, entry->name);
    if (about.comp_method != ZIP_CM_STORE &&
        about.comp_method != ZIP_CM_DEFLATE)
        return ht_fail(err, STORE_ARCHIVE_METHOD, import->called, entry->name);
    return check_size(import, entry, &about, err);
}

static enum ht_status check_entries(struct ht_unpacking *import,
                                    struct ht_error *err)
{
    enum ht_status status = HT_OK;
    unsigned long long all = 0;
    bool has_sheet = false;
    for (size_t i = 0; i < import->count && status == HT_OK; i++) {
        status = check_entry(import, i, err);
        if (status != HT_OK)
            return status;
        has_sheet = has_sheet || import->entry[i].is_sheet;
        if (import->entry[i].size > ARCHIVE_BYTES_MAX - all)
            return ht_fail(err, STORE_ARCHIVE_TOO_BIG, import->called,
                           ARCHIVE_BYTES_MAX);
        all += import->entry[i].size;
    }
    if (status == HT_OK && !has_sheet)
        status = ht_fail(err, STORE_ARCHIVE_NO_SHEET, import->called);
    return status;
}

/* ---- unpacked ---------------------------------------------------------- */

/* Where the bytes go: a text, or an arrival. */
static enum ht_status hand_on(struct ht_unpacking *import, struct entry *entry,
                              struct ht_text *text, const char *bytes,
                              size_t length, struct ht_error *err)
{
    if (!text)
        return ht_arrival_write(entry->arrival, bytes, length, err);
    ht_text_add_bytes(text, bytes, length);
    return ht_text_ok(text)
               ? HT_OK
               : ht_fail(err, STORE_NO_MEMORY, import->store_called);
}

/* The library compares the checksum when the end is reached. */
static enum ht_status unpack(struct ht_unpacking *import, size_t index,
                             struct ht_text *text, struct ht_error *err)
{
    char block[16384];
    struct entry *entry = &import->entry[index];
    enum ht_status status = HT_OK;
    zip_uint64_t sum = 0;
    zip_file_t *file = zip_fopen_index(import->zip, index, 0);
    if (!file)
        return damaged(import, zip_strerror(import->zip), err);
    while (status == HT_OK) {
        zip_int64_t got = zip_fread(file, block, sizeof block);
        if (got == 0)
            break;
        sum += got > 0 ? (zip_uint64_t)got : 0;
        if (!ht_goes_on(import->ask)) {
            status = ht_fail(err, STORE_STOPPED);
            break;
        }
        if (got < 0)
            status = damaged(import, zip_file_strerror(file), err);
        else if (sum > entry->size)
            break;
        else
            status = hand_on(import, entry, text, block, (size_t)got, err);
    }
    (void)zip_fclose(file);
    if (status == HT_OK && sum != entry->size)
        status = damaged(import, entry->name, err);
    return status;
}

static enum ht_status unpack_sheet(struct ht_unpacking *import, size_t index,
                                   struct ht_error *err)
{
    struct ht_text text = { 0 };
    enum ht_status status = unpack(import, index, &text, err);
    if (status == HT_OK)
        status = ht_sheet_keep(&import->sheet, ht_text_get(&text),
                               text.length, err);
    ht_text_free(&text);
    return status;
}

static enum ht_status unpack_file(struct ht_unpacking *import, size_t index,
                                  struct ht_error *err)
{
    struct entry *entry = &import->entry[index];
    enum ht_status status = unpack(import, index, NULL, err);
    return status == HT_OK
               ? ht_arrival_finish(entry->arrival,
                                   entry->name + sizeof ARCHIVE_FILES - 1,
                                   &entry->file, import->ask, err)
               : status;
}

/* ---- kept -------------------------------------------------------------- */

/* What tells it from another one of the same key: all that is in it. */
static enum ht_status make_asked(struct ht_unpacking *import, const char *key,
                                 struct asked *asked, struct ht_error *err)
{
    struct ht_text text = { 0 };
    ht_text_addf(&text, "archive\n%s\n", ht_text_get(&import->sheet.json));
    for (size_t i = 0; i < import->count; i++)
        if (import->entry[i].arrival)
            ht_text_addf(&text, "%s %s\n", import->entry[i].file.hash,
                         import->entry[i].file.name);
    enum ht_status status =
        ht_text_ok(&text)
            ? ht_asked_make(asked, key, 0, 0, ht_text_get(&text), err)
            : ht_fail(err, STORE_NO_MEMORY, import->store_called);
    ht_text_free(&text);
    return status;
}

static enum ht_status put_in(struct ht_store *store,
                             struct ht_unpacking *import,
                             struct ht_store_case *made, struct ht_error *err)
{
    enum ht_status status = ht_case_insert(store, &import->sheet, made, err);
    for (size_t i = 0; i < import->count && status == HT_OK; i++)
        if (import->entry[i].arrival)
            status = ht_arrival_put(store, import->entry[i].arrival, made->id,
                                    &import->entry[i].file, err);
    if (status == HT_OK)
        status = ht_arrivals_sync(store, err);
    return status;
}

static enum ht_status keep_in(struct ht_store *store,
                              struct ht_unpacking *import,
                              const struct asked *asked,
                              struct ht_store_case *made,
                              struct ht_error *err)
{
    bool known = false;
    enum ht_status status = ht_asked_find(store, asked, &known, made, err);
    if (status != HT_OK || known)
        return status;
    status = put_in(store, import, made, err);
    return status == HT_OK ? ht_asked_keep(store, asked, made, err) : status;
}

static enum ht_status open_zip(struct ht_unpacking *import, const char *path,
                               struct ht_error *err)
{
    zip_error_t error;
    int code = 0;
    import->zip = zip_open(path, ZIP_RDONLY | ZIP_CHECKCONS, &code);
    if (!import->zip && code == ZIP_ER_EXISTS)
        return ht_fail(err, STORE_ARCHIVE_TWICE, import->called);
    if (!import->zip) {
        zip_error_init_with_code(&error, code);
        enum ht_status status =
            damaged(import, zip_error_strerror(&error), err);
        zip_error_fini(&error);
        return status;
    }
    zip_int64_t count = zip_get_num_entries(import->zip, 0);
    if (count < 1 || count > ARCHIVE_ENTRIES_MAX)
        return ht_fail(err, STORE_ARCHIVE_ENTRIES, import->called,
                       (unsigned)count, ARCHIVE_ENTRIES_MAX);
    import->count = (size_t)count;
    return HT_OK;
}

/* ---- in steps, or in one ----------------------------------------------- */

/* A place for each file, so that unpacking needs no store. */
static enum ht_status make_places(struct ht_store *store,
                                  struct ht_unpacking *import,
                                  struct ht_error *err)
{
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < import->count && status == HT_OK; i++)
        if (!import->entry[i].is_sheet)
            status = ht_store_begin(store, &import->entry[i].arrival, err);
    return status;
}

enum ht_status ht_unpacking_begin(struct ht_store *store,
                                  struct ht_unpacking **unpacking,
                                  const char *path, const char *called,
                                  struct ht_error *err)
{
    *unpacking = NULL;
    enum ht_status status = ht_archive_look(path, called, err);
    if (status != HT_OK)
        return status;
    struct ht_unpacking *made = ht_allocate(1, sizeof *made);
    if (!made) {
        (void)ht_fail(err, STORE_NO_MEMORY, store->called);
        return HT_NO_MEMORY;
    }
    made->called = called;
    made->store_called = store->called;
    made->file_bytes_max = store->limits.file_bytes_max;
    status = open_zip(made, path, err);
    if (status == HT_OK)
        status = check_entries(made, err);
    if (status == HT_OK)
        status = make_places(store, made, err);
    if (status == HT_OK)
        *unpacking = made;
    else
        ht_unpacking_end(store, made);
    return status;
}

enum ht_status ht_unpacking_read(struct ht_unpacking *unpacking,
                                 const struct ht_ask *ask,
                                 struct ht_error *err)
{
    enum ht_status status = HT_OK;
    unpacking->ask = ask;
    for (size_t i = 0; i < unpacking->count && status == HT_OK; i++)
        status = unpacking->entry[i].is_sheet ? unpack_sheet(unpacking, i, err)
                                              : unpack_file(unpacking, i, err);
    return status;
}

enum ht_status ht_unpacking_keep(struct ht_store *store,
                                 struct ht_unpacking *unpacking,
                                 const char *key, struct ht_store_case *made,
                                 struct ht_error *err)
{
    struct asked asked;
    *made = (struct ht_store_case){ 0 };
    enum ht_status status = make_asked(unpacking, key, &asked, err);
    if (status == HT_OK)
        status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(
            store, keep_in(store, unpacking, &asked, made, err), err);
    if (status != HT_OK)
        *made = (struct ht_store_case){ 0 };
    return status;
}

void ht_unpacking_end(struct ht_store *store, struct ht_unpacking *unpacking)
{
    if (!unpacking)
        return;
    for (size_t i = 0; i < unpacking->count; i++)
        ht_store_drop(store, unpacking->entry[i].arrival);
    if (unpacking->zip)
        zip_discard(unpacking->zip);
    ht_sheet_drop(&unpacking->sheet);
    ht_release(unpacking);
}

enum ht_status ht_store_import(struct ht_store *store, const char *path,
                               const char *key, struct ht_store_case *made,
                               struct ht_error *err)
{
    struct ht_unpacking *unpacking;
    *made = (struct ht_store_case){ 0 };
    enum ht_status status = ht_unpacking_begin(store, &unpacking, path, path,
                                               err);
    if (status == HT_OK)
        status = ht_unpacking_read(unpacking, NULL, err);
    if (status == HT_OK)
        status = ht_unpacking_keep(store, unpacking, key, made, err);
    ht_unpacking_end(store, unpacking);
    return status;
}
