/* base.h - the database: opening, checking, bringing to this form. */
#ifndef HALFTURN_STORE_BASE_H
#define HALFTURN_STORE_BASE_H

#include "inside.h"

/* Form n of the tables is made by the first n texts, one after the other: an
 * older database gets those that it lacks. A text that was released is never
 * changed. */
struct forms {
    const char *const *sql;
    int count;
};
extern const struct forms ht_store_forms;

enum {
    STORE_APPLICATION = 0x48546375, /* application_id: who wrote it */
    STORE_CHECKED_MAX = 256 << 20   /* bytes; a larger one is not checked
                                       through when it is opened */
};

/* Opens cases.db in the store's folder, refuses it, or brings it to the last
 * form. */
enum ht_status ht_base_open(struct ht_store *store, const struct forms *forms,
                            struct ht_error *err);

#endif
