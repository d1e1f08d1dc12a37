/* A file on its way in: written under a name of ours, hashed as it comes. */
#include "attachment.h"
#include "cases.h"
#include "common/memory.h"
#include "disk.h"
#include "texts.h"
#include "workup/digest.h"

#include <errno.h>
#include <fcntl.h>
#include <nettle/sha2.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct ht_arrival {
    int file;
    bool cut;                   /* a piece of it was refused */
    bool moved;                 /* into attachments/ */
    uint64_t bytes, file_max, room;
    bool flushed;
    struct ht_store_file content; /* its hash, key, bytes: once flushed */
    struct sha256_ctx sha;
    struct ht_digest *digest;
    unsigned char digest_room[HT_DIGEST_ROOM];
    char name[STORE_OWN_NAME];
    char path[];
};

void ht_own_name(struct ht_store *store, const char *kind,
                 char name[STORE_OWN_NAME])
{
    (void)snprintf(name, STORE_OWN_NAME, "%s-%llu", kind, ++store->names);
}

static enum ht_status room_left(struct ht_store *store, uint64_t *room,
                                struct ht_error *err)
{
    int64_t used = 0;
    enum ht_status status =
        ht_sql_number(store, err, &used,
                      "SELECT coalesce(sum(bytes), 0) FROM contents", NULL, 0);
    uint64_t all = store->limits.all_bytes_max;
    *room = (uint64_t)used < all ? all - (uint64_t)used : 0;
    return status;
}

static struct ht_arrival *allocate(struct ht_store *store)
{
    static const char between[] = "/arriving/";
    size_t length = strlen(store->folder) + sizeof between + STORE_OWN_NAME;
    struct ht_arrival *made = ht_allocate(1, sizeof *made + length);
    if (!made)
        return NULL;
    ht_own_name(store, "in", made->name);
    (void)snprintf(made->path, length, "%s%s%s", store->folder, between,
                   made->name);
    return made;
}

enum ht_status ht_store_begin(struct ht_store *store,
                              struct ht_arrival **arrival,
                              struct ht_error *err)
{
    uint64_t room;
    *arrival = NULL;
    enum ht_status status = room_left(store, &room, err);
    if (status != HT_OK)
        return status;
    struct ht_arrival *made = allocate(store);
    if (!made)
        return ht_fail(err, STORE_NO_MEMORY, store->called);
    made->file = openat(store->arriving, made->name,
                        O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC,
                        0600);
    if (made->file < 0) {
        status = ht_fail(err, STORE_ARRIVAL_NOT_MADE, store->called,
                         strerror(errno));
        ht_release(made);
        return status;
    }
    made->file_max = store->limits.file_bytes_max;
    made->room = room;
    sha256_init(&made->sha);
    made->digest = ht_digest_open(made->digest_room);
    *arrival = made;
    return HT_OK;
}

const char *ht_arrival_path(const struct ht_arrival *arrival)
{
    return arrival->path;
}

enum ht_status ht_arrival_write(struct ht_arrival *arrival, const void *bytes,
                                size_t length, struct ht_error *err)
{
    if (arrival->cut)
        return ht_fail(err, STORE_ARRIVAL_CUT);
    arrival->cut = true;
    if (length > arrival->file_max - arrival->bytes)
        return ht_fail(err, STORE_FILE_TOO_BIG,
                       (unsigned long long)arrival->file_max);
    if (arrival->bytes + length > arrival->room)
        return ht_fail(err, STORE_ALL_TOO_BIG,
                       (unsigned long long)arrival->room);
    if (!ht_disk_write(arrival->file, bytes, length))
        return ht_fail(err, STORE_ARRIVAL_STOPPED, strerror(errno));
    sha256_update(&arrival->sha, length, bytes);
    ht_digest_bytes(arrival->digest, bytes, length);
    arrival->bytes += length;
    arrival->cut = false;
    return HT_OK;
}

void ht_store_drop(struct ht_store *store, struct ht_arrival *arrival)
{
    if (!arrival)
        return;
    if (arrival->file >= 0)
        (void)close(arrival->file);
    if (!arrival->moved)
        ht_own_remove(store, arrival->name);
    ht_release(arrival);
}

/* ---- into the store ---------------------------------------------------- */

/* Piece by piece, so that it can be stopped: what is left for fsync is
 * little. */
static bool push_out(const struct ht_arrival *arrival,
                     const struct ht_ask *ask)
{
    static const uint64_t piece = (uint64_t)4 << 20;
    for (uint64_t at = 0; at < arrival->bytes; at += piece) {
        if (!ht_goes_on(ask))
            return false;
        ht_disk_push(arrival->file, at, piece);
    }
    return ht_goes_on(ask);
}

enum ht_status ht_arrival_flush(struct ht_arrival *arrival,
                                const struct ht_ask *ask,
                                struct ht_error *err)
{
    unsigned char digest[SHA256_DIGEST_SIZE];
    if (arrival->flushed)
        return HT_OK;
    if (arrival->cut || arrival->file < 0)
        return ht_fail(err, STORE_ARRIVAL_CUT);
    if (!push_out(arrival, ask))
        return ht_fail(err, STORE_STOPPED);
    bool synced = fchmod(arrival->file, 0400) == 0 &&
                  fsync(arrival->file) == 0;
    int failure = errno;
    bool closed = close(arrival->file) == 0;
    arrival->file = -1;
    if (!synced || !closed)
        return ht_fail(err, STORE_ARRIVAL_STOPPED,
                       strerror(synced ? errno : failure));
    sha256_digest(&arrival->sha, sizeof digest, digest);
    ht_hash_write(arrival->content.hash, digest);
    arrival->content.key = ht_digest_key_of(arrival->digest);
    arrival->content.bytes = arrival->bytes;
    arrival->flushed = true;
    return HT_OK;
}

enum ht_status ht_arrival_finish(struct ht_arrival *arrival, const char *name,
                                 struct ht_store_file *file,
                                 const struct ht_ask *ask,
                                 struct ht_error *err)
{
    enum ht_status status = ht_arrival_flush(arrival, ask, err);
    *file = arrival->content;
    ht_text_into(file->name, sizeof file->name, name);
    return status;
}

/* What arrived at the same time was not counted when this began. */
static enum ht_status check_room(struct ht_store *store,
                                 const struct ht_store_file *file,
                                 struct ht_error *err)
{
    int64_t known = 0;
    uint64_t room;
    enum ht_status status =
        ht_sql_number(store, err, &known,
                      "SELECT 1 FROM contents WHERE hash = ?",
                      VALUES(TEXT(file->hash)));
    if (status != HT_OK || known)
        return status;
    status = room_left(store, &room, err);
    if (status == HT_OK && file->bytes > room)
        status = ht_fail(err, STORE_ALL_TOO_BIG, (unsigned long long)room);
    return status;
}

static enum ht_status check_count(struct ht_store *store, int64_t id,
                                  const char *name, struct ht_error *err)
{
    int64_t others = 0;
    enum ht_status status = ht_sql_number(
        store, err, &others,
        "SELECT count(*) FROM files WHERE case_id = ? AND name <> ?",
        VALUES(NUMBER(id), TEXT(name)));
    if (status == HT_OK && others >= HT_STORE_CASE_FILES_MAX)
        status = ht_fail(err, STORE_TOO_MANY_FILES, (long long)id,
                         HT_STORE_CASE_FILES_MAX);
    return status;
}

static enum ht_status insert(struct ht_store *store, int64_t id,
                             const struct ht_store_file *file,
                             struct ht_error *err)
{
    enum ht_status status = ht_sql_run(
        store, err,
        "INSERT INTO contents (hash, key, bytes) VALUES (?, ?, ?) "
        "ON CONFLICT (hash) DO NOTHING",
        VALUES(TEXT(file->hash), BYTES(file->key.byte, sizeof file->key.byte),
               NUMBER((int64_t)file->bytes)));
    if (status == HT_OK)
        status = ht_sql_run(
            store, err,
            "INSERT INTO files (case_id, name, hash) VALUES (?1, ?2, ?3) "
            "ON CONFLICT (case_id, name) DO UPDATE SET hash = ?3",
            VALUES(NUMBER(id), TEXT(file->name), TEXT(file->hash)));
    return status;
}

/* Moved also where that content is known: what stood there may have been
 * spoilt or gone. */
enum ht_status ht_arrival_put(struct ht_store *store,
                              struct ht_arrival *arrival, int64_t id,
                              const struct ht_store_file *file,
                              struct ht_error *err)
{
    enum ht_status status = check_count(store, id, file->name, err);
    if (status == HT_OK)
        status = check_room(store, file, err);
    if (status == HT_OK)
        status = insert(store, id, file, err);
    if (status != HT_OK)
        return status;
    ht_content_put_aside(store, file->hash);
    if (renameat(store->arriving, arrival->name, store->attachments,
                 file->hash) != 0)
        return ht_fail(err, STORE_NOT_PUT, store->called, strerror(errno));
    arrival->moved = true;
    return HT_OK;
}

enum ht_status ht_arrivals_sync(struct ht_store *store, struct ht_error *err)
{
    if (fsync(store->attachments) != 0)
        return ht_fail(err, STORE_NOT_PUT, store->called, strerror(errno));
    return HT_OK;
}

static enum ht_status keep_in(struct ht_store *store,
                              struct ht_arrival *arrival, int64_t id,
                              const struct ht_store_file *file,
                              struct unused *unused, struct ht_error *err)
{
    struct ht_store_case found;
    enum ht_status status = ht_case_find(store, id, &found, err);
    if (status == HT_OK)
        status = ht_arrival_put(store, arrival, id, file, err);
    if (status == HT_OK)
        status = ht_arrivals_sync(store, err);
    if (status == HT_OK)
        status = ht_case_forget_results(store, id, err);
    if (status == HT_OK)
        status = ht_unused_take(store, unused, err);
    return status;
}

enum ht_status ht_store_keep(struct ht_store *store, struct ht_arrival *arrival,
                             int64_t id, const char *name,
                             struct ht_store_file *kept, struct ht_error *err)
{
    struct ht_store_file file = { 0 };
    struct unused unused = { 0 };
    *kept = file;
    enum ht_status status = ht_store_check_name(name, err);
    if (status == HT_OK)
        status = ht_arrival_finish(arrival, name, &file, NULL, err);
    if (status == HT_OK)
        status = ht_sql_begin(store, err);
    if (status == HT_OK)
        status = ht_sql_settle(
            store, keep_in(store, arrival, id, &file, &unused, err), err);
    if (status == HT_OK) {
        ht_unused_remove(store, &unused);
        *kept = file;
    }
    ht_store_drop(store, arrival);
    return status;
}
