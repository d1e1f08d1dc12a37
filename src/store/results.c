/* What was worked out: kept for the asking, never the only copy. */
#include "cases.h"
#include "texts.h"

#include <string.h>

/* Of one case; the oldest go first. */
enum { RESULTS_MAX = 64 };

enum ht_status ht_case_forget_results(struct ht_store *store, int64_t id,
                                      struct ht_error *err)
{
    return ht_sql_run(store, err, "DELETE FROM results WHERE case_id = ?",
                      VALUES(NUMBER(id)));
}

static const char *settings_of(const struct ht_store_result_of *of)
{
    return of->settings ? of->settings : "";
}

static enum ht_status put(struct ht_store *store,
                          const struct ht_store_result_of *of,
                          const char *json, struct ht_error *err)
{
    struct ht_store_case now;
    enum ht_status status = ht_case_find(store, of->id, &now, err);
    if (status == HT_OK && (of->revision < 1 || of->revision > now.revision))
        status = ht_fail(err, STORE_RESULT_OF_NOTHING,
                         (long long)of->revision, (long long)of->id,
                         (long long)now.revision);
    if (status == HT_OK)
        status = ht_sql_run(
            store, err,
            "INSERT OR REPLACE INTO results (case_id, revision, what, "
            "version, settings, json) VALUES (?, ?, ?, ?, ?, ?)",
            VALUES(NUMBER(of->id), NUMBER(of->revision), TEXT(of->what),
                   TEXT(of->version), TEXT(settings_of(of)), TEXT(json)));
    if (status == HT_OK)
        status = ht_sql_run(store, err,
                            "DELETE FROM results WHERE case_id = ?1 AND "
                            "number NOT IN (SELECT number FROM results "
                            "WHERE case_id = ?1 ORDER BY number DESC "
                            "LIMIT ?2)",
                            VALUES(NUMBER(of->id), NUMBER(RESULTS_MAX)));
    return status;
}

enum ht_status ht_store_put_result(struct ht_store *store,
                                   const struct ht_store_result_of *of,
                                   const char *json, struct ht_error *err)
{
    if (strlen(json) > HT_STORE_RESULT_MAX)
        return ht_fail(err, STORE_RESULT_TOO_BIG, strlen(json),
                       HT_STORE_RESULT_MAX);
    enum ht_status status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(store, put(store, of, json, err), err);
    return status;
}

enum ht_status ht_store_get_result(struct ht_store *store,
                                   const struct ht_store_result_of *of,
                                   struct ht_text *json, struct ht_error *err)
{
    struct query query;
    size_t length;
    bool there = false;
    ht_query_start(&query, store,
                   "SELECT json FROM results WHERE case_id = ? AND "
                   "revision = ? AND what = ? AND version = ? AND "
                   "settings = ?",
                   VALUES(NUMBER(of->id), NUMBER(of->revision),
                          TEXT(of->what), TEXT(of->version),
                          TEXT(settings_of(of))));
    if (ht_query_row(&query)) {
        const char *text = ht_query_text(&query, 0, &length);
        there = true;
        ht_text_add_bytes(json, text, length);
    }
    enum ht_status status = ht_query_end(&query, err);
    if (status == HT_OK && !there)
        return ht_fail(err, STORE_NO_RESULT, (long long)of->id);
    if (status == HT_OK && !ht_text_ok(json))
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    return status;
}
