/* store.h - cases kept in a database, their files beside it.
 *
 * A case is its sheet, written as JSON by the sheet's own tables, plus
 * attachments: files named by the SHA-256 of their content. There is no second
 * model. Every save makes a new revision; older ones stay for undo.
 *
 * A folder holds everything:
 *   cases.db       SQLite: WAL, synchronous FULL, STRICT tables. Nothing of
 *                  ours copies, renames or removes it or its -wal.
 *   attachments/   one file for each content, read only
 *   arriving/      what is being received; emptied when the store is opened
 *                  by the one process that may write
 *
 * A function that says HT_OK has committed: a crash after it loses nothing
 * (a power cut neither, as far as SQLite and the disk keep their word). One
 * that says anything else has changed nothing.
 *
 * What a failing disk refused at the very commit may be there all the same
 * after a crash, whole: docs/store.md.
 *
 * One thread at a time may use a store. One process at a time may have it open
 * (it holds a lock on the folder): a second one is told HT_CANNOT_WRITE.
 */
#ifndef HALFTURN_STORE_H
#define HALFTURN_STORE_H

#include "halfturn/status.h"
#include "halfturn/text.h"
#include "halfturn/workup.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct ht_store;

enum {
    HT_STORE_HASH = 65,         /* SHA-256 in hexadecimal, with the final 0 */
    HT_STORE_KEY_MAX = 64,      /* characters of a save's key */
    HT_STORE_NAME_MAX = 120,    /* bytes of an attachment's name */
    HT_STORE_CASE_FILES_MAX = 64,
    HT_STORE_REVISIONS_MAX = 200,/* kept for one case; the oldest go first */
    HT_STORE_RESULT_MAX = 32 << 20 /* bytes of one result */
};

struct ht_store_limits {
    uint64_t file_bytes_max;    /* one attachment; 0: 2 GiB */
    uint64_t all_bytes_max;     /* all attachments; 0: 64 GiB */
};

/* Opens the folder, making it and the database when they are not there, and
 * bringing an older database to this version's form in one transaction. A
 * database of a newer version, of another program, or that fails its check is
 * refused with what to do, and left as it is. */
enum ht_status ht_store_open(struct ht_store **store, const char *folder,
                             const struct ht_store_limits *limits,
                             struct ht_error *err);
/* From now on a refusal names the folder by its last part only: for those who
 * need not know where it stands. */
void ht_store_call_short(struct ht_store *store);
/* To remove a large file takes its time. From now on what is no longer needed
 * is put aside instead, and ht_store_tidy, in any thread, removes it (as the
 * next opening does). Dropping, putting away and ending are then short, and
 * may be done in any thread too. */
void ht_store_put_off(struct ht_store *store);
void ht_store_tidy(struct ht_store *store);
void ht_store_close(struct ht_store *store); /* NULL is accepted */

/* ---- cases ------------------------------------------------------------- */

struct ht_store_case {
    int64_t id;                 /* 1.. */
    int64_t revision;           /* 1..; rises with every save, undo and redo */
    char title[200];            /* of its sheet; "" none */
    int64_t changed_s;          /* Unix time of the last save */
    bool can_undo, can_redo;
};

/* `json` is the sheet as JSON; it must read as a sheet (HT_BAD_FILE otherwise,
 * with the first problem) and may name only files by plain names: no '/', no
 * "..", not absolute. It is written anew by the sheet's tables. `key` (may be
 * NULL): chosen by the caller, printable ASCII; a second save of the same with
 * the same key is answered as the first was and makes nothing. The key of
 * another save is refused with HT_BAD_USE. The last 10000 keys are known. */
enum ht_status ht_store_add(struct ht_store *store, const char *json,
                            const char *key, struct ht_store_case *made,
                            struct ht_error *err);

/* Refused with HT_BAD_USE when the case is at another revision than `from`;
 * *now then tells the present one. HT_NOT_THERE: no such case. */
enum ht_status ht_store_save(struct ht_store *store, int64_t id, int64_t from,
                             const char *json, const char *key,
                             struct ht_store_case *now, struct ht_error *err);

/* One step back or forth among the kept revisions. Attachments stay: only the
 * sheet moves. HT_BAD_USE: nothing to undo, or another revision. */
enum ht_status ht_store_undo(struct ht_store *store, int64_t id, int64_t from,
                             struct ht_store_case *now, struct ht_error *err);
enum ht_status ht_store_redo(struct ht_store *store, int64_t id, int64_t from,
                             struct ht_store_case *now, struct ht_error *err);

/* The case and its sheet's JSON, appended to *json (may be NULL). */
enum ht_status ht_store_get(struct ht_store *store, int64_t id,
                            struct ht_store_case *found, struct ht_text *json,
                            struct ht_error *err);
enum ht_status ht_store_remove(struct ht_store *store, int64_t id,
                               struct ht_error *err);

/* Newest change first; *list belongs to the caller (ht_store_release). */
enum ht_status ht_store_list(struct ht_store *store,
                             struct ht_store_case **list, size_t *count,
                             struct ht_error *err);
void ht_store_release(void *list);

/* ---- attachments ------------------------------------------------------- */

struct ht_store_file {
    char name[HT_STORE_NAME_MAX + 1]; /* as the sheet names it */
    char hash[HT_STORE_HASH];
    struct ht_key key;          /* of its content: ht_workup_options.known */
    uint64_t bytes;
};

/* HT_BAD_FILE: a file of a case may not be called so. Plain, as above, and not
 * with a '.' in front. */
enum ht_status ht_store_check_name(const char *name, struct ht_error *err);

/* A file on its way in. Pieces may be written by one thread while others use
 * the store; begin, keep and drop belong to the store's thread. Kept or dropped
 * before the store is closed. */
struct ht_arrival;
enum ht_status ht_store_begin(struct ht_store *store,
                              struct ht_arrival **arrival,
                              struct ht_error *err);
/* HT_TOO_BIG at the first byte over the limits. */
enum ht_status ht_arrival_write(struct ht_arrival *arrival, const void *bytes,
                                size_t length, struct ht_error *err);
/* All that was written is on the disk; ht_store_keep has then little left to
 * do. Nothing more may be written. In any thread, while others use the
 * store. */
enum ht_status ht_arrival_flush(struct ht_arrival *arrival,
                                const struct ht_ask *ask,
                                struct ht_error *err);
/* Content and row are on the disk when this says HT_OK. A file of that name in
 * the case is replaced. Releases the arrival, also on failure. The name must be
 * plain, as above, and not begin with '.'. A case's results go when its files
 * change. */
enum ht_status ht_store_keep(struct ht_store *store, struct ht_arrival *arrival,
                             int64_t id, const char *name,
                             struct ht_store_file *kept, struct ht_error *err);
/* Removes what arrived; NULL is accepted. */
void ht_store_drop(struct ht_store *store, struct ht_arrival *arrival);
/* Where it is written, until it is kept or dropped: for ht_store_export to
 * write to, ht_store_import to read from. */
const char *ht_arrival_path(const struct ht_arrival *arrival);

enum ht_status ht_store_files(struct ht_store *store, int64_t id,
                              struct ht_store_file **list, size_t *count,
                              struct ht_error *err);
enum ht_status ht_store_detach(struct ht_store *store, int64_t id,
                               const char *name, struct ht_error *err);

/* A new folder in which every file of the case stands under its name (links to
 * the attachments): what a workup reads. Remove it with ht_store_put_away.
 * `path` has room for `size` bytes. */
enum ht_status ht_store_lay_out(struct ht_store *store, int64_t id, char *path,
                                size_t size, struct ht_error *err);
void ht_store_put_away(struct ht_store *store, const char *path);

/* ---- results ----------------------------------------------------------- */

/* What was worked out for one revision by one version of the program with one
 * set of settings; `what` is "rank", "angles", ... The files of a case may
 * change while it is at one revision: let their keys stand in `settings`, or a
 * workup that ends late puts what was worked out from the old ones. A case
 * keeps its last 64 results. */
struct ht_store_result_of {
    int64_t id, revision;
    const char *what, *version, *settings;
};
enum ht_status ht_store_put_result(struct ht_store *store,
                                   const struct ht_store_result_of *of,
                                   const char *json, struct ht_error *err);
/* HT_NOT_THERE: none. Appends to *json. */
enum ht_status ht_store_get_result(struct ht_store *store,
                                   const struct ht_store_result_of *of,
                                   struct ht_text *json, struct ht_error *err);

/* ---- whole stores and cases on the move -------------------------------- */

/* A copy of the database by SQLite's backup, and of the attachments (each of
 * them checked), in a new folder that can be opened as a store. Nothing is left
 * of one that failed. */
enum ht_status ht_store_backup(struct ht_store *store, const char *folder,
                               struct ht_error *err);

/* One case as a zip: case.json, and its files under files/. Written to `path`
 * (an arrival's or the caller's own), in the place of what is there; the same
 * case gives the same bytes. History, results and keys stay behind. */
enum ht_status ht_store_export(struct ht_store *store, int64_t id,
                               const char *path, struct ht_error *err);
/* Refused, with what was found: more than 65 entries, names that are not those
 * above or stand twice, a file over the limits, more than 200 times its
 * packed size or 4 GiB in all, encryption, links, anything before or behind the
 * archive, a sheet that names files by other than plain names. (It may name one
 * that is not in the archive: then the case lacks it as it did where it was
 * exported.) Nothing of a refused archive is kept. `key` as in ht_store_add:
 * the same archive with the same key makes one case. */
enum ht_status ht_store_import(struct ht_store *store, const char *path,
                               const char *key, struct ht_store_case *made,
                               struct ht_error *err);

/* The same in steps, for a store that is used meanwhile: begin, keep and end
 * belong to the store's thread and are short; write and read are the long ones
 * and may be done in any other. `called` is what refusals name the archive,
 * and stays the caller's. What was begun is ended before the store is closed;
 * NULL is accepted there. */
struct ht_packing;
enum ht_status ht_packing_begin(struct ht_store *store,
                                struct ht_packing **packing, int64_t id,
                                struct ht_error *err);
/* In the case's state at the beginning. Not flushed. */
enum ht_status ht_packing_write(struct ht_packing *packing, const char *path,
                                const char *called,
                                const struct ht_ask *ask,
                                struct ht_error *err);
void ht_packing_end(struct ht_store *store, struct ht_packing *packing);

struct ht_unpacking;
enum ht_status ht_unpacking_begin(struct ht_store *store,
                                  struct ht_unpacking **unpacking,
                                  const char *path, const char *called,
                                  struct ht_error *err);
enum ht_status ht_unpacking_read(struct ht_unpacking *unpacking,
                                 const struct ht_ask *ask,
                                 struct ht_error *err);
/* Once. */
enum ht_status ht_unpacking_keep(struct ht_store *store,
                                 struct ht_unpacking *unpacking,
                                 const char *key, struct ht_store_case *made,
                                 struct ht_error *err);
void ht_unpacking_end(struct ht_store *store, struct ht_unpacking *unpacking);

#endif
