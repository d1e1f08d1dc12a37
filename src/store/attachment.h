/* attachment.h - contents on the disk, and who still needs them. */
#ifndef HALFTURN_STORE_ATTACHMENT_H
#define HALFTURN_STORE_ATTACHMENT_H

#include "inside.h"

/* ---- arriving ---------------------------------------------------------- */

/* A content that has arrived whole and stands on the disk under its own name
 * in arriving/. */
enum ht_status ht_arrival_finish(struct ht_arrival *arrival, const char *name,
                                 struct ht_store_file *file,
                                 const struct ht_ask *ask,
                                 struct ht_error *err);
/* Into attachments/, and as the case's file of that name, within the caller's
 * transaction. */
enum ht_status ht_arrival_put(struct ht_store *store,
                              struct ht_arrival *arrival, int64_t id,
                              const struct ht_store_file *file,
                              struct ht_error *err);
/* What was put is durable under its name; before the commit. */
enum ht_status ht_arrivals_sync(struct ht_store *store, struct ht_error *err);

/* A name for something in arriving/ that no other has: one process, and
 * nothing there when it began. */
void ht_own_name(struct ht_store *store, const char *kind,
                 char name[STORE_OWN_NAME]);

/* ---- kept -------------------------------------------------------------- */

/* A kept content, read through to see that it is what was attached, and copied
 * on the way to the file `to` (-1: is not). */
struct content {
    const char *called;         /* the store, in refusals */
    const char *hash;
    int from, to;               /* closed by the caller */
    const char *where;          /* the copy, in refusals */
    const struct ht_ask *ask;
};
enum ht_status ht_content_read(const struct content *content,
                               struct ht_error *err);

/* Contents that no case needs any more. Taken out of the database within the
 * caller's transaction, removed from the disk after its commit; a crash in
 * between leaves files that the next opening removes. */
struct unused {
    size_t count;
    char hash[HT_STORE_CASE_FILES_MAX][HT_STORE_HASH];
};
enum ht_status ht_unused_take(struct ht_store *store, struct unused *unused,
                              struct ht_error *err);
void ht_unused_remove(struct ht_store *store, const struct unused *unused);

/* A file or folder of ours in arriving/ goes, or is put aside. */
void ht_own_remove(const struct ht_store *store, const char *name);
/* A content that another file will stand for stays, put aside, where removing
 * is put off. */
void ht_content_put_aside(struct ht_store *store, const char *hash);

/* When a store is opened: whatever stands in arriving/ under a name of ours,
 * and contents that the database does not know. */
enum ht_status ht_attachments_sweep(struct ht_store *store,
                                    struct ht_error *err);

/* Hexadecimal digits of a SHA-256, and nothing else. */
bool ht_is_hash(const char *text);
void ht_hash_write(char hash[HT_STORE_HASH], const unsigned char *digest);

#endif
