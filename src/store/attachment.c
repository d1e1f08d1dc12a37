/* Contents on the disk: read again, no longer needed, left over. */
#include "attachment.h"

#include "disk.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <nettle/sha2.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char digits[] = "0123456789abcdef";

void ht_hash_write(char hash[HT_STORE_HASH], const unsigned char *digest)
{
    for (size_t i = 0; i < SHA256_DIGEST_SIZE; i++) {
        hash[2 * i] = digits[digest[i] >> 4];
        hash[2 * i + 1] = digits[digest[i] & 15];
    }
    hash[HT_STORE_HASH - 1] = '\0';
}

bool ht_is_hash(const char *text)
{
    return strlen(text) == HT_STORE_HASH - 1 &&
           strspn(text, digits) == HT_STORE_HASH - 1;
}

/* ---- read again -------------------------------------------------------- */

static enum ht_status gone(const struct content *content, struct ht_error *err)
{
    return ht_fail(err, STORE_FILE_GONE, content->called, content->hash,
                   strerror(errno));
}

enum ht_status ht_content_read(const struct content *content,
                               struct ht_error *err)
{
    char block[65536], now[HT_STORE_HASH];
    unsigned char digest[SHA256_DIGEST_SIZE];
    struct sha256_ctx sha;
    sha256_init(&sha);
    if (content->from < 0)
        return gone(content, err);
    for (;;) {
        ptrdiff_t got = ht_disk_read(content->from, block, sizeof block);
        if (got < 0)
            return gone(content, err);
        if (got == 0)
            break;
        sha256_update(&sha, (size_t)got, (const uint8_t *)block);
        if (content->to >= 0 &&
            !ht_disk_write(content->to, block, (size_t)got))
            return ht_fail(err, STORE_BACKUP_STOPPED, content->where,
                           strerror(errno));
        if (!ht_goes_on(content->ask))
            return ht_fail(err, STORE_STOPPED);
    }
    sha256_digest(&sha, sizeof digest, digest);
    ht_hash_write(now, digest);
    if (strcmp(now, content->hash) != 0)
        return ht_fail(err, STORE_FILE_SPOILT, content->called,
                       content->hash);
    return HT_OK;
}

/* ---- no longer needed -------------------------------------------------- */

enum ht_status ht_unused_take(struct ht_store *store, struct unused *unused,
                              struct ht_error *err)
{
    struct query query;
    ht_query_start(&query, store,
                   "DELETE FROM contents WHERE hash IN (SELECT hash FROM "
                   "contents c WHERE NOT EXISTS (SELECT 1 FROM files f "
                   "WHERE f.hash = c.hash) LIMIT ?) RETURNING hash",
                   VALUES(NUMBER(HT_STORE_CASE_FILES_MAX)));
    while (unused->count < HT_STORE_CASE_FILES_MAX && ht_query_row(&query)) {
        const char *hash = ht_query_text(&query, 0, NULL);
        if (ht_is_hash(hash))
            memcpy(unused->hash[unused->count++], hash, HT_STORE_HASH);
    }
    return ht_query_end(&query, err);
}

void ht_unused_remove(struct ht_store *store, const struct unused *unused)
{
    for (size_t i = 0; i < unused->count; i++) {
        char name[STORE_OWN_NAME];
        ht_own_name(store, "gone", name);
        if (!store->puts_off ||
            renameat(store->attachments, unused->hash[i], store->arriving,
                     name) != 0)
            (void)unlinkat(store->attachments, unused->hash[i], 0);
    }
}

void ht_content_put_aside(struct ht_store *store, const char *hash)
{
    char name[STORE_OWN_NAME];
    ht_own_name(store, "gone", name);
    if (store->puts_off)
        (void)linkat(store->attachments, hash, store->arriving, name, 0);
}

void ht_own_remove(const struct ht_store *store, const char *name)
{
    char gone[sizeof "gone-" + STORE_OWN_NAME];
    (void)snprintf(gone, sizeof gone, "gone-%s", name);
    if (!store->puts_off ||
        renameat(store->arriving, name, store->arriving, gone) != 0)
        ht_disk_remove(store->arriving, name);
}

/* ---- left over --------------------------------------------------------- */

/* Names of ours only: somebody may have put a file of their own here. */
static void sweep_arriving(void *context, const char *name)
{
    static const char *const heads[] = { "in-", "out-", "gone-", "gone-in-",
                                         "gone-out-" };
    struct ht_store *store = context;
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        size_t head = strlen(heads[i]);
        if (strncmp(name, heads[i], head) != 0)
            continue;
        size_t number = strspn(name + head, "0123456789");
        /* the zip library writes beside its target: in-3.AbCdEf */
        char behind = name[head + number];
        if (number > 0 && (behind == '\0' || behind == '.'))
            ht_disk_remove(store->arriving, name);
    }
}

static void sweep_gone(void *context, const char *name)
{
    if (strncmp(name, "gone-", 5) == 0)
        sweep_arriving(context, name);
}

void ht_store_tidy(struct ht_store *store)
{
    (void)ht_disk_list(store->arriving, sweep_gone, store);
}

struct sweep {
    struct ht_store *store;
    enum ht_status status;
    struct ht_error *err;
};

static void sweep_content(void *context, const char *name)
{
    struct sweep *sweep = context;
    struct ht_store *store = sweep->store;
    int64_t known = 0;
    if (sweep->status != HT_OK || !ht_is_hash(name))
        return;
    sweep->status = ht_sql_number(store, sweep->err, &known,
                                  "SELECT 1 FROM files WHERE hash = ?",
                                  VALUES(TEXT(name)));
    if (sweep->status == HT_OK && !known)
        (void)unlinkat(store->attachments, name, 0);
}

enum ht_status ht_attachments_sweep(struct ht_store *store,
                                    struct ht_error *err)
{
    struct sweep sweep = { store, HT_OK, err };
    if (!ht_disk_list(store->arriving, sweep_arriving, store) ||
        !ht_disk_list(store->attachments, sweep_content, &sweep))
        return ht_fail(err, STORE_FOLDER_NOT_OPENED, store->called,
                       strerror(errno));
    return sweep.status;
}
