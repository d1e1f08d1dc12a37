#include "base.h"

#include "common/memory.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { BUSY_MS = 5000 };

/* So that it is nobody else's to read; what SQLite makes beside it takes after
 * it. */
static bool make_file(struct ht_store *store)
{
    int file = openat(store->at, "cases.db",
                      O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
    return file >= 0 && close(file) == 0;
}

static enum ht_status open_file(struct ht_store *store, struct ht_error *err)
{
    struct ht_text path = { 0 };
    ht_text_addf(&path, "%s/cases.db", store->folder);
    if (!ht_text_ok(&path))
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    int code = sqlite3_open_v2(ht_text_get(&path), &store->base,
                               SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX |
                                   SQLITE_OPEN_EXRESCODE,
                               NULL);
    ht_text_free(&path);
    return code == SQLITE_OK ? HT_OK : ht_sql_failed(store, code, err);
}

/* What a file from elsewhere may not do to us. Triggers and views we have
 * none of. */
static void forbid(sqlite3 *base)
{
    static const struct {
        int what, value;
    } words[] = {
        { SQLITE_DBCONFIG_DEFENSIVE, 1 },
        { SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0 },
        { SQLITE_DBCONFIG_DQS_DDL, 0 },
        { SQLITE_DBCONFIG_DQS_DML, 0 },
        { SQLITE_DBCONFIG_ENABLE_TRIGGER, 0 },
        { SQLITE_DBCONFIG_ENABLE_VIEW, 0 },
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        (void)sqlite3_db_config(base, words[i].what, words[i].value, NULL);
    (void)sqlite3_limit(base, SQLITE_LIMIT_LENGTH, STORE_CELL_MAX + 1024);
    (void)sqlite3_limit(base, SQLITE_LIMIT_ATTACHED, 0);
    (void)sqlite3_busy_timeout(base, BUSY_MS);
}

/* One process: no shared memory, whose pages could be missing on a full disk
 * when they are touched. */
static enum ht_status set_up(struct ht_store *store, struct ht_error *err)
{
    static const char *const before[] = {
        "PRAGMA locking_mode=EXCLUSIVE", "PRAGMA mmap_size=0",
        "PRAGMA cell_size_check=ON", "PRAGMA foreign_keys=ON",
        "PRAGMA synchronous=FULL"
    };
    enum ht_status status = HT_OK;
    forbid(store->base);
    for (size_t i = 0; i < sizeof before / sizeof before[0] && status == HT_OK;
         i++)
        status = ht_sql_run(store, err, before[i], NULL, 0);
    return status;
}

/* ---- whose it is ------------------------------------------------------- */

struct found {
    int64_t application, form, tables;
};

static enum ht_status look(struct ht_store *store, struct found *found,
                           struct ht_error *err)
{
    enum ht_status status = ht_sql_number(store, err, &found->tables,
                                          "SELECT count(*) FROM sqlite_schema",
                                          NULL, 0);
    if (status == HT_OK)
        status = ht_sql_number(store, err, &found->application,
                               "PRAGMA application_id", NULL, 0);
    if (status == HT_OK)
        status = ht_sql_number(store, err, &found->form,
                               "PRAGMA user_version", NULL, 0);
    return status;
}

static enum ht_status check_owner(struct ht_store *store,
                                  const struct found *found,
                                  const struct forms *forms,
                                  struct ht_error *err)
{
    bool fresh = found->tables == 0 && found->application == 0 &&
                 found->form == 0;
    if (fresh)
        return HT_OK;
    if (found->application != STORE_APPLICATION || found->form < 1)
        return ht_fail(err, STORE_NOT_OURS, store->called);
    if (found->form > forms->count)
        return ht_fail(err, STORE_NEWER, store->called, (int)found->form,
                       forms->count);
    return HT_OK;
}

static const char schema_sql[] =
    "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema "
    "ORDER BY type, name";

static bool same_row(struct query *one, struct query *other)
{
    for (int i = 0; i < 4; i++)
        if (strcmp(ht_query_text(one, i, NULL),
                   ht_query_text(other, i, NULL)) != 0)
            return false;
    return true;
}

/* Two lists of the same length and rows. */
static bool same_schema(struct query *one, struct query *other)
{
    for (;;) {
        bool more = ht_query_row(one);
        if (ht_query_row(other) != more)
            return false;
        if (!more)
            return true;
        if (!same_row(one, other))
            return false;
    }
}

/* The tables that the form should have, made in memory. */
static enum ht_status make_model(struct ht_store *model,
                                 const struct forms *forms, int64_t form,
                                 struct ht_error *err)
{
    int code = sqlite3_open_v2(":memory:", &model->base,
                               SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX |
                                   SQLITE_OPEN_MEMORY,
                               NULL);
    for (int i = 0; i < form && code == SQLITE_OK; i++)
        code = sqlite3_exec(model->base, forms->sql[i], NULL, NULL, NULL);
    return code == SQLITE_OK ? HT_OK : ht_sql_failed(model, code, err);
}

/* Before anything else of the schema is believed. */
static enum ht_status check_form(struct ht_store *store,
                                 const struct forms *forms, int64_t form,
                                 struct ht_error *err)
{
    struct ht_store model = { .folder = store->folder,
                              .called = store->called };
    struct query wanted = { 0 }, there = { 0 };
    enum ht_status status = make_model(&model, forms, form, err);
    bool same = false;
    if (status == HT_OK) {
        ht_query_start(&wanted, &model, schema_sql, NULL, 0);
        ht_query_start(&there, store, schema_sql, NULL, 0);
        same = same_schema(&wanted, &there);
        enum ht_status other = ht_query_end(&wanted, err);
        status = ht_query_end(&there, err);
        if (status == HT_OK)
            status = other;
    }
    (void)sqlite3_close(model.base);
    if (status == HT_OK && !same)
        return ht_fail(err, STORE_OTHER_FORM, store->called, (int)form);
    return status;
}

static enum ht_status check_through(struct ht_store *store,
                                    struct ht_error *err)
{
    char said[256] = "";
    struct query query;
    ht_query_start(&query, store, "PRAGMA quick_check(1)", NULL, 0);
    if (ht_query_row(&query))
        (void)snprintf(said, sizeof said, "%s",
                       ht_query_text(&query, 0, NULL));
    enum ht_status status = ht_query_end(&query, err);
    if (status == HT_OK && strcmp(said, "ok") != 0)
        return ht_fail(err, STORE_CHECK_FAILED, store->called, said);
    if (status != HT_OK)
        return status;
    ht_query_start(&query, store, "PRAGMA foreign_key_check", NULL, 0);
    if (ht_query_row(&query))
        query.code = SQLITE_CONSTRAINT_FOREIGNKEY;
    return ht_query_end(&query, err);
}

/* ---- the last form ----------------------------------------------------- */

static enum ht_status add_forms(struct ht_store *store,
                                const struct forms *forms, int64_t form,
                                struct ht_error *err)
{
    char last[80];
    int code = SQLITE_OK;
    for (int64_t i = form; i < forms->count && code == SQLITE_OK; i++)
        code = sqlite3_exec(store->base, forms->sql[i], NULL, NULL, NULL);
    (void)snprintf(last, sizeof last,
                   "PRAGMA application_id=%d; PRAGMA user_version=%d",
                   STORE_APPLICATION, forms->count);
    if (code == SQLITE_OK)
        code = sqlite3_exec(store->base, last, NULL, NULL, NULL);
    return code == SQLITE_OK ? HT_OK : ht_sql_failed(store, code, err);
}

/* In one transaction with the number of the form: all of it, or nothing. */
static enum ht_status bring_up(struct ht_store *store,
                               const struct forms *forms, int64_t form,
                               struct ht_error *err)
{
    if (form == forms->count)
        return HT_OK;
    enum ht_status status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = add_forms(store, forms, form, err);
    return ht_sql_settle(store, status, err);
}

/* An answer other than "wal" can only come of a disk that takes none. */
static enum ht_status keep_log(struct ht_store *store, struct ht_error *err)
{
    struct query query;
    ht_query_start(&query, store, "PRAGMA journal_mode=WAL", NULL, 0);
    if (ht_query_row(&query) &&
        strcmp(ht_query_text(&query, 0, NULL), "wal") != 0)
        query.code = SQLITE_IOERR;
    return ht_query_end(&query, err);
}

static enum ht_status check(struct ht_store *store, const struct forms *forms,
                            int64_t form, struct ht_error *err)
{
    struct stat file;
    enum ht_status status = check_form(store, forms, form, err);
    if (status == HT_OK &&
        (fstatat(store->at, "cases.db", &file, 0) != 0 ||
         file.st_size <= STORE_CHECKED_MAX))
        status = check_through(store, err);
    return status;
}

enum ht_status ht_base_open(struct ht_store *store, const struct forms *forms,
                            struct ht_error *err)
{
    struct found found = { 0 };
    if (!make_file(store))
        return ht_fail(err, STORE_NOT_OPENED, store->called, strerror(errno));
    enum ht_status status = open_file(store, err);
    if (status == HT_OK)
        status = set_up(store, err);
    if (status == HT_OK)
        status = look(store, &found, err);
    if (status == HT_OK)
        status = check_owner(store, &found, forms, err);
    if (status == HT_OK && found.form > 0)
        status = check(store, forms, found.form, err);
    if (status == HT_OK)
        status = keep_log(store, err);
    if (status == HT_OK)
        status = bring_up(store, forms, found.form, err);
    return status;
}
