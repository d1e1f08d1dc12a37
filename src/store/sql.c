/* Statements, transactions, and what the database's codes mean to people. */
#include "inside.h"
#include "texts.h"

#include <string.h>

enum ht_status ht_sql_failed(struct ht_store *store, int code,
                             struct ht_error *err)
{
    const char *folder = store->called;
    if (code == SQLITE_IOERR_NOMEM)
        code = SQLITE_NOMEM;
    switch (code & 0xff) {
    case SQLITE_NOMEM:
        return ht_fail(err, STORE_NO_MEMORY, folder);
    case SQLITE_FULL:
        return ht_fail(err, STORE_DISK_FULL, folder);
    case SQLITE_IOERR:
        return ht_fail(err, STORE_DISK_FAILED, folder, sqlite3_errstr(code));
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return ht_fail(err, STORE_BUSY, folder);
    case SQLITE_PERM:
    case SQLITE_READONLY:
    case SQLITE_CANTOPEN:
        return ht_fail(err, STORE_NOT_OPENED, folder, sqlite3_errstr(code));
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_CONSTRAINT: /* we write nothing that breaks one */
    case SQLITE_MISMATCH:
        return ht_fail(err, STORE_DAMAGED, folder, sqlite3_errstr(code));
    default:
        return ht_fail(err, STORE_BUG, folder, sqlite3_errmsg(store->base));
    }
}

static int bind(sqlite3_stmt *statement, int at, const struct value *value)
{
    if (value->kind == IS_NUMBER)
        return sqlite3_bind_int64(statement, at, value->number);
    if (value->kind == IS_TEXT)
        return sqlite3_bind_text(statement, at, value->bytes, -1,
                                 SQLITE_STATIC);
    return sqlite3_bind_blob64(statement, at, value->bytes, value->length,
                               SQLITE_STATIC);
}

void ht_query_start(struct query *query, struct ht_store *store,
                    const char *sql, const struct value *values, size_t count)
{
    *query = (struct query){ .store = store };
    query->code = sqlite3_prepare_v2(store->base, sql, -1, &query->statement,
                                     NULL);
    for (size_t i = 0; i < count && query->code == SQLITE_OK; i++)
        query->code = bind(query->statement, (int)i + 1, &values[i]);
}

bool ht_query_row(struct query *query)
{
    if (query->code != SQLITE_OK)
        return false;
    int code = sqlite3_step(query->statement);
    if (code != SQLITE_ROW)
        query->code = code;
    return code == SQLITE_ROW;
}

const char *ht_query_text(struct query *query, int column, size_t *length)
{
    const unsigned char *text = sqlite3_column_text(query->statement, column);
    if (!text && sqlite3_errcode(query->store->base) == SQLITE_NOMEM)
        query->code = SQLITE_NOMEM;
    if (length)
        *length = text ? (size_t)sqlite3_column_bytes(query->statement, column)
                       : 0;
    return text ? (const char *)text : "";
}

int64_t ht_query_number(struct query *query, int column)
{
    return sqlite3_column_int64(query->statement, column);
}

enum ht_status ht_query_end(struct query *query, struct ht_error *err)
{
    if (query->statement && !sqlite3_stmt_readonly(query->statement))
        while (ht_query_row(query))
            ;
    (void)sqlite3_finalize(query->statement);
    query->statement = NULL;
    if (query->code == SQLITE_OK || query->code == SQLITE_DONE)
        return HT_OK;
    return ht_sql_failed(query->store, query->code, err);
}

enum ht_status ht_sql_run(struct ht_store *store, struct ht_error *err,
                          const char *sql, const struct value *values,
                          size_t count)
{
    struct query query;
    ht_query_start(&query, store, sql, values, count);
    (void)ht_query_row(&query);
    return ht_query_end(&query, err);
}

enum ht_status ht_sql_number(struct ht_store *store, struct ht_error *err,
                             int64_t *number, const char *sql,
                             const struct value *values, size_t count)
{
    struct query query;
    ht_query_start(&query, store, sql, values, count);
    if (ht_query_row(&query))
        *number = ht_query_number(&query, 0);
    return ht_query_end(&query, err);
}

/* A reader that turns writer after a commit is refused at once, whatever the
 * timeout says; so whoever may write says so at the beginning. */
enum ht_status ht_sql_begin(struct ht_store *store, struct ht_error *err)
{
    return ht_sql_run(store, err, "BEGIN IMMEDIATE", NULL, 0);
}

enum ht_status ht_sql_settle(struct ht_store *store, enum ht_status status,
                             struct ht_error *err)
{
    if (status == HT_OK)
        status = ht_sql_run(store, err, "COMMIT", NULL, 0);
    if (!sqlite3_get_autocommit(store->base))
        (void)ht_sql_run(store, NULL, "ROLLBACK", NULL, 0);
    return status;
}
