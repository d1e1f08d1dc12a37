/* inside.h - an open store, and how its parts ask the database.
 *
 * A function that fails has filled *err and left no transaction open but its
 * caller's. */
#ifndef HALFTURN_STORE_INSIDE_H
#define HALFTURN_STORE_INSIDE_H

#include "halfturn/store.h"

#include <sqlite3.h>

struct ht_store {
    sqlite3 *base;
    char *folder;
    const char *called;         /* the same or its last part, in refusals */
    int at;                     /* the folder, locked */
    int attachments, arriving;  /* folders in it */
    struct ht_store_limits limits;
    unsigned long long names;   /* given out in arriving/ so far */
    bool puts_off;              /* what goes is moved to arriving/gone-... */
};

enum {
    STORE_CELL_MAX = 64 << 20,  /* bytes of one value in the database */
    STORE_SHEET_MAX = 64 << 10, /* bytes of a sheet, as the reader has it */
    STORE_OWN_NAME = 32         /* bytes of a name in arriving/ */
};

/* ---- statements -------------------------------------------------------- */

enum value_kind { IS_NUMBER, IS_TEXT, IS_BYTES };
struct value {
    enum value_kind kind;
    int64_t number;
    const void *bytes;          /* NULL: null */
    size_t length;
};
#define NUMBER(n) { IS_NUMBER, (n), NULL, 0 }
#define TEXT(t) { IS_TEXT, 0, (t), 0 }
#define BYTES(b, n) { IS_BYTES, 0, (b), (n) }
#define VALUES(...)                                                            \
    (const struct value[]){ __VA_ARGS__ },                                     \
        sizeof((const struct value[]){ __VA_ARGS__ }) / sizeof(struct value)

struct query {
    struct ht_store *store;
    sqlite3_stmt *statement;
    int code;                   /* sticks when something failed */
};

/* The values stay the caller's and must live until ht_query_end. */
void ht_query_start(struct query *query, struct ht_store *store,
                    const char *sql, const struct value *values,
                    size_t count);
bool ht_query_row(struct query *query); /* false: no more, or failed */
/* Of the present row: "" for null; *length may be NULL. */
const char *ht_query_text(struct query *query, int column, size_t *length);
int64_t ht_query_number(struct query *query, int column);
/* A statement that writes is run to its end first. */
enum ht_status ht_query_end(struct query *query, struct ht_error *err);

/* Without rows to read. */
enum ht_status ht_sql_run(struct ht_store *store, struct ht_error *err,
                          const char *sql, const struct value *values,
                          size_t count);
/* The number in the first column of the first row; as it was without one. */
enum ht_status ht_sql_number(struct ht_store *store, struct ht_error *err,
                             int64_t *number, const char *sql,
                             const struct value *values, size_t count);

/* A transaction that may write, from its beginning. */
enum ht_status ht_sql_begin(struct ht_store *store, struct ht_error *err);
/* Commits after HT_OK, else rolls back and hands the status on. */
enum ht_status ht_sql_settle(struct ht_store *store, enum ht_status status,
                             struct ht_error *err);

/* What went wrong with the database just now, in a sentence. */
enum ht_status ht_sql_failed(struct ht_store *store, int code,
                             struct ht_error *err);

#endif
