/* Keys of saves: the same save sent twice is made once. */
#include "cases.h"
#include "texts.h"

#include <string.h>

/* Kept; a key is asked for again within minutes. */
enum { ANSWERS_MAX = 10000 };

static bool is_key(const char *key)
{
    size_t length = strlen(key);
    for (const char *c = key; *c; c++)
        if (*c < '!' || *c > '~')
            return false;
    return length > 0 && length <= HT_STORE_KEY_MAX;
}

enum ht_status ht_asked_make(struct asked *asked, const char *key, int64_t id,
                             int64_t from, const char *json,
                             struct ht_error *err)
{
    *asked = (struct asked){ .key = key };
    if (!key)
        return HT_OK;
    if (!is_key(key))
        return ht_fail(err, STORE_KEY_LENGTH, HT_STORE_KEY_MAX);
    struct ht_key of_sheet = ht_key_of_bytes(json, strlen(json));
    unsigned char all[sizeof of_sheet + 2 * sizeof id];
    memcpy(all, &of_sheet, sizeof of_sheet);
    memcpy(all + sizeof of_sheet, &id, sizeof id);
    memcpy(all + sizeof of_sheet + sizeof id, &from, sizeof from);
    asked->print = ht_key_of_bytes(all, sizeof all);
    return HT_OK;
}

enum ht_status ht_asked_find(struct ht_store *store, const struct asked *asked,
                             bool *known, struct ht_store_case *answer,
                             struct ht_error *err)
{
    struct query query;
    bool same = true;
    *known = false;
    if (!asked->key)
        return HT_OK;
    ht_query_start(&query, store,
                   "SELECT print = ?2, case_id, revision, title, changed_s, "
                   "can_undo, can_redo FROM answers WHERE key = ?1",
                   VALUES(TEXT(asked->key),
                          BYTES(&asked->print, sizeof asked->print)));
    if (ht_query_row(&query)) {
        *known = true;
        same = ht_query_number(&query, 0) != 0;
        answer->id = ht_query_number(&query, 1);
        answer->revision = ht_query_number(&query, 2);
        ht_text_into(answer->title, sizeof answer->title,
                     ht_query_text(&query, 3, NULL));
        answer->changed_s = ht_query_number(&query, 4);
        answer->can_undo = ht_query_number(&query, 5) != 0;
        answer->can_redo = ht_query_number(&query, 6) != 0;
    }
    enum ht_status status = ht_query_end(&query, err);
    if (status == HT_OK && same)
        return HT_OK;
    *answer = (struct ht_store_case){ 0 };
    return status == HT_OK ? ht_fail(err, STORE_KEY_OF_OTHER, asked->key)
                           : status;
}

enum ht_status ht_asked_keep(struct ht_store *store, const struct asked *asked,
                             const struct ht_store_case *answer,
                             struct ht_error *err)
{
    if (!asked->key)
        return HT_OK;
    enum ht_status status = ht_sql_run(
        store, err,
        "INSERT INTO answers (key, print, case_id, revision, title, "
        "changed_s, can_undo, can_redo) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        VALUES(TEXT(asked->key), BYTES(&asked->print, sizeof asked->print),
               NUMBER(answer->id), NUMBER(answer->revision),
               TEXT(answer->title), NUMBER(answer->changed_s),
               NUMBER(answer->can_undo), NUMBER(answer->can_redo)));
    if (status == HT_OK)
        status = ht_sql_run(store, err,
                            "DELETE FROM answers WHERE number <= "
                            "(SELECT max(number) FROM answers) - ?",
                            VALUES(NUMBER(ANSWERS_MAX)));
    return status;
}
