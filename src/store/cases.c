#include "cases.h"

#include "attachment.h"
#include "common/memory.h"
#include "texts.h"

#include <string.h>
#include <time.h>

#define CASE_COLUMNS                                                           \
    "c.id, c.revision, s.title, c.changed_s, "                                 \
    "EXISTS (SELECT 1 FROM steps e WHERE e.case_id = c.id "                    \
    "AND e.step < c.step), "                                                   \
    "EXISTS (SELECT 1 FROM steps l WHERE l.case_id = c.id "                    \
    "AND l.step > c.step) "
#define CASE_AND_JSON CASE_COLUMNS ", s.json "
#define CASE_TABLES                                                            \
    "FROM cases c JOIN steps s ON s.case_id = c.id AND s.step = c.step "

static void take_case(struct query *query, struct ht_store_case *found)
{
    *found = (struct ht_store_case){ .id = ht_query_number(query, 0),
                                     .revision = ht_query_number(query, 1) };
    ht_text_into(found->title, sizeof found->title,
                 ht_query_text(query, 2, NULL));
    found->changed_s = ht_query_number(query, 3);
    found->can_undo = ht_query_number(query, 4) != 0;
    found->can_redo = ht_query_number(query, 5) != 0;
}

static enum ht_status find(struct ht_store *store, int64_t id,
                           struct ht_store_case *found, struct ht_text *json,
                           struct ht_error *err)
{
    struct query query;
    size_t length = 0;
    bool there = false;
    ht_query_start(&query, store,
                   "SELECT " CASE_AND_JSON CASE_TABLES
                   "WHERE c.id = ?",
                   VALUES(NUMBER(id)));
    if (ht_query_row(&query)) {
        there = true;
        take_case(&query, found);
        const char *text = json ? ht_query_text(&query, 6, &length) : NULL;
        if (text)
            ht_text_add_bytes(json, text, length);
    }
    enum ht_status status = ht_query_end(&query, err);
    if (status == HT_OK && json && !ht_text_ok(json))
        status = ht_fail(err, STORE_NO_MEMORY, store->called);
    if (status == HT_OK && !there)
        status = ht_fail(err, STORE_NO_CASE, (long long)id);
    return status;
}

enum ht_status ht_case_find(struct ht_store *store, int64_t id,
                            struct ht_store_case *found, struct ht_error *err)
{
    return find(store, id, found, NULL, err);
}

enum ht_status ht_store_get(struct ht_store *store, int64_t id,
                            struct ht_store_case *found, struct ht_text *json,
                            struct ht_error *err)
{
    *found = (struct ht_store_case){ 0 };
    enum ht_status status = find(store, id, found, json, err);
    if (status != HT_OK)
        *found = (struct ht_store_case){ 0 };
    return status;
}

/* ---- a new sheet ------------------------------------------------------- */

static enum ht_status insert_step(struct ht_store *store, int64_t id,
                                  int64_t step,
                                  const struct kept_sheet *sheet,
                                  struct ht_error *err)
{
    return ht_sql_run(store, err,
                      "INSERT INTO steps (case_id, step, title, json) "
                      "VALUES (?, ?, ?, ?)",
                      VALUES(NUMBER(id), NUMBER(step), TEXT(sheet->title),
                             TEXT(ht_text_get(&sheet->json))));
}

enum ht_status ht_case_insert(struct ht_store *store,
                              const struct kept_sheet *sheet,
                              struct ht_store_case *made,
                              struct ht_error *err)
{
    enum ht_status status = ht_sql_run(
        store, err,
        "INSERT INTO cases (revision, step, changed_s) VALUES (1, 1, ?)",
        VALUES(NUMBER((int64_t)time(NULL))));
    int64_t id = sqlite3_last_insert_rowid(store->base);
    if (status == HT_OK)
        status = insert_step(store, id, 1, sheet, err);
    if (status == HT_OK)
        status = ht_case_find(store, id, made, err);
    return status;
}

static enum ht_status change(struct ht_store *store, int64_t id, int64_t step,
                             struct ht_error *err)
{
    return ht_sql_run(store, err,
                      "UPDATE cases SET revision = revision + 1, step = ?2, "
                      "changed_s = ?3 WHERE id = ?1",
                      VALUES(NUMBER(id), NUMBER(step),
                             NUMBER((int64_t)time(NULL))));
}

static enum ht_status step_of(struct ht_store *store, int64_t id,
                              int64_t *step, struct ht_error *err)
{
    return ht_sql_number(store, err, step,
                         "SELECT step FROM cases WHERE id = ?",
                         VALUES(NUMBER(id)));
}

/* What was undone goes, and the oldest ones over the number kept. */
static enum ht_status add_step(struct ht_store *store, int64_t id,
                               const struct kept_sheet *sheet,
                               struct ht_error *err)
{
    int64_t step = 0;
    enum ht_status status = step_of(store, id, &step, err);
    if (status == HT_OK)
        status = ht_sql_run(store, err,
                            "DELETE FROM steps WHERE case_id = ?1 AND "
                            "(step > ?2 OR step <= ?2 + 1 - ?3)",
                            VALUES(NUMBER(id), NUMBER(step),
                                   NUMBER(HT_STORE_REVISIONS_MAX)));
    if (status == HT_OK)
        status = insert_step(store, id, step + 1, sheet, err);
    if (status == HT_OK)
        status = change(store, id, step + 1, err);
    return status;
}

static enum ht_status check_revision(struct ht_store *store, int64_t id,
                                     int64_t from, struct ht_store_case *now,
                                     struct ht_error *err)
{
    enum ht_status status = ht_case_find(store, id, now, err);
    if (status == HT_OK && now->revision != from)
        status = ht_fail(err, STORE_OTHER_REVISION, (long long)id,
                         (long long)now->revision, (long long)from);
    return status;
}

/* ---- saves ------------------------------------------------------------- */

struct save {
    int64_t id, from;           /* 0: a new case */
    struct kept_sheet sheet;
    struct asked asked;
};

static enum ht_status save_once(struct ht_store *store,
                                const struct save *save,
                                struct ht_store_case *now,
                                struct ht_error *err)
{
    if (save->id == 0)
        return ht_case_insert(store, &save->sheet, now, err);
    enum ht_status status = check_revision(store, save->id, save->from, now,
                                           err);
    if (status == HT_OK)
        status = add_step(store, save->id, &save->sheet, err);
    if (status == HT_OK)
        status = ht_case_find(store, save->id, now, err);
    return status;
}

static enum ht_status save_in(struct ht_store *store, const struct save *save,
                              struct ht_store_case *now, struct ht_error *err)
{
    bool known = false;
    enum ht_status status = ht_asked_find(store, &save->asked, &known, now,
                                          err);
    if (status != HT_OK || known)
        return status;
    status = save_once(store, save, now, err);
    if (status == HT_OK)
        status = ht_asked_keep(store, &save->asked, now, err);
    return status;
}

static enum ht_status save(struct ht_store *store, struct save *what,
                           const char *json, const char *key,
                           struct ht_store_case *now, struct ht_error *err)
{
    *now = (struct ht_store_case){ 0 };
    enum ht_status status = ht_asked_make(&what->asked, key, what->id,
                                          what->from, json, err);
    if (status == HT_OK)
        status = ht_sheet_keep(&what->sheet, json, strlen(json), err);
    if (status != HT_OK)
        return status;
    status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(store, save_in(store, what, now, err), err);
    ht_sheet_drop(&what->sheet);
    if (status != HT_OK && status != HT_BAD_USE)
        *now = (struct ht_store_case){ 0 };
    return status;
}

enum ht_status ht_store_add(struct ht_store *store, const char *json,
                            const char *key, struct ht_store_case *made,
                            struct ht_error *err)
{
    return save(store, &(struct save){ 0 }, json, key, made, err);
}

enum ht_status ht_store_save(struct ht_store *store, int64_t id, int64_t from,
                             const char *json, const char *key,
                             struct ht_store_case *now, struct ht_error *err)
{
    *now = (struct ht_store_case){ 0 };
    if (id < 1)
        return ht_fail(err, STORE_NO_CASE, (long long)id);
    return save(store, &(struct save){ .id = id, .from = from }, json, key,
                now, err);
}

/* ---- back and forth ---------------------------------------------------- */

static enum ht_status move_to(struct ht_store *store, int64_t id,
                              int64_t from, bool back,
                              struct ht_store_case *now, struct ht_error *err)
{
    static const char *const next[] = {
        "SELECT min(step) FROM steps WHERE case_id = ?1 AND step > "
        "(SELECT step FROM cases WHERE id = ?1)",
        "SELECT max(step) FROM steps WHERE case_id = ?1 AND step < "
        "(SELECT step FROM cases WHERE id = ?1)"
    };
    int64_t step = 0;
    enum ht_status status = check_revision(store, id, from, now, err);
    if (status == HT_OK)
        status = ht_sql_number(store, err, &step, next[back],
                               VALUES(NUMBER(id)));
    if (status == HT_OK && step == 0)
        return back ? ht_fail(err, STORE_NOTHING_TO_UNDO, (long long)id)
                    : ht_fail(err, STORE_NOTHING_TO_REDO, (long long)id);
    if (status == HT_OK)
        status = change(store, id, step, err);
    if (status == HT_OK)
        status = ht_case_find(store, id, now, err);
    return status;
}

static enum ht_status move(struct ht_store *store, int64_t id, int64_t from,
                           bool back, struct ht_store_case *now,
                           struct ht_error *err)
{
    *now = (struct ht_store_case){ 0 };
    enum ht_status status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(
            store, move_to(store, id, from, back, now, err), err);
    if (status != HT_OK && status != HT_BAD_USE)
        *now = (struct ht_store_case){ 0 };
    return status;
}

enum ht_status ht_store_undo(struct ht_store *store, int64_t id, int64_t from,
                             struct ht_store_case *now, struct ht_error *err)
{
    return move(store, id, from, true, now, err);
}

enum ht_status ht_store_redo(struct ht_store *store, int64_t id, int64_t from,
                             struct ht_store_case *now, struct ht_error *err)
{
    return move(store, id, from, false, now, err);
}

/* ---- all of them ------------------------------------------------------- */

enum ht_status ht_store_remove(struct ht_store *store, int64_t id,
                               struct ht_error *err)
{
    struct ht_store_case found;
    struct unused unused = { 0 };
    enum ht_status status = ht_sql_begin(store, err);
    if (status != HT_OK)
        return status;
    status = ht_case_find(store, id, &found, err);
    if (status == HT_OK)
        status = ht_sql_run(store, err, "DELETE FROM cases WHERE id = ?",
                            VALUES(NUMBER(id)));
    if (status == HT_OK)
        status = ht_unused_take(store, &unused, err);
    status = ht_sql_settle(store, status, err);
    if (status == HT_OK)
        ht_unused_remove(store, &unused);
    return status;
}

enum ht_status ht_store_list(struct ht_store *store,
                             struct ht_store_case **list, size_t *count,
                             struct ht_error *err)
{
    struct query query;
    size_t room = 0, filled = 0;
    void *cases = NULL;
    bool fits = true;
    *list = NULL;
    *count = 0;
    ht_query_start(&query, store,
                   "SELECT " CASE_COLUMNS CASE_TABLES
                   "ORDER BY c.changed_s DESC, c.id DESC",
                   NULL, 0);
    while (fits && ht_query_row(&query)) {
        fits = ht_grow(&cases, &room, filled + 1,
                       sizeof(struct ht_store_case));
        if (fits)
            take_case(&query, (struct ht_store_case *)cases + filled++);
    }
    enum ht_status status = ht_query_end(&query, err);
    if (status == HT_OK && !fits)
        status = ht_fail(err, STORE_NO_MEMORY, store->called);
    if (status != HT_OK) {
        ht_release(cases);
        return status;
    }
    *list = cases;
    *count = filled;
    return HT_OK;
}
