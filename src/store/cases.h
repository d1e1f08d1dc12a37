/* cases.h - cases within a transaction that the caller holds. */
#ifndef HALFTURN_STORE_CASES_H
#define HALFTURN_STORE_CASES_H

#include "sheet.h"

/* HT_NOT_THERE: no such case. */
enum ht_status ht_case_find(struct ht_store *store, int64_t id,
                            struct ht_store_case *found,
                            struct ht_error *err);
enum ht_status ht_case_insert(struct ht_store *store,
                              const struct kept_sheet *sheet,
                              struct ht_store_case *made,
                              struct ht_error *err);

/* Results of what it was before its files changed. */
enum ht_status ht_case_forget_results(struct ht_store *store, int64_t id,
                                      struct ht_error *err);

/* ---- keys of saves ----------------------------------------------------- */

/* What is asked for, by which a second asking with the same key is told from
 * another one. */
struct asked {
    const char *key;            /* NULL: none */
    struct ht_key print;
};

enum ht_status ht_asked_make(struct asked *asked, const char *key, int64_t id,
                             int64_t from, const char *json,
                             struct ht_error *err);
/* *known: it was answered, as in *answer. */
enum ht_status ht_asked_find(struct ht_store *store, const struct asked *asked,
                             bool *known, struct ht_store_case *answer,
                             struct ht_error *err);
enum ht_status ht_asked_keep(struct ht_store *store, const struct asked *asked,
                             const struct ht_store_case *answer,
                             struct ht_error *err);

#endif
