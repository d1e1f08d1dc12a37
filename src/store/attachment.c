/* Contents on the disk: read again, no longer needed, left over. */
#include "attachment.h"

#include "disk.h"
#include "texts.h"

#include <errno.h>
#include <fcntl.h>
#include <nettle/sha2.h>
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

static enum ht_status read_through(struct ht_store *store, const char *hash,
                                   int from, int to, const char *where,
                                   struct ht_error *err)
{
    char block[16384], now[HT_STORE_HASH];
    unsigned char digest[SHA256_DIGEST_SIZE];
    struct sha256_ctx sha;
    sha256_init(&sha);
    for (;;) {
        ptrdiff_t got = ht_disk_read(from, block, sizeof block);
        if (got < 0)
            return ht_fail(err, STORE_FILE_GONE, store->folder, hash,
                           strerror(errno));
        if (got == 0)
            break;
        sha256_update(&sha, (size_t)got, (const uint8_t *)block);
        if (to >= 0 && !ht_disk_write(to, block, (size_t)got))
            return ht_fail(err, STORE_BACKUP_STOPPED, where, strerror(errno));
    }
    sha256_digest(&sha, sizeof digest, digest);
    ht_hash_write(now, digest);
    if (strcmp(now, hash) != 0)
        return ht_fail(err, STORE_FILE_SPOILT, store->folder, hash);
    return HT_OK;
}

enum ht_status ht_content_read(struct ht_store *store, const char *hash,
                               int to, const char *where,
                               struct ht_error *err)
{
    int from = openat(store->attachments, hash,
                      O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (from < 0)
        return ht_fail(err, STORE_FILE_GONE, store->folder, hash,
                       strerror(errno));
    enum ht_status status = read_through(store, hash, from, to, where, err);
    (void)close(from);
    return status;
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
    for (size_t i = 0; i < unused->count; i++)
        (void)unlinkat(store->attachments, unused->hash[i], 0);
}

/* ---- left over --------------------------------------------------------- */

/* Names of ours only: somebody may have put a file of their own here. */
static void sweep_arriving(void *context, const char *name)
{
    struct ht_store *store = context;
    size_t head = strncmp(name, "in-", 3) == 0    ? 3
                  : strncmp(name, "out-", 4) == 0 ? 4
                                                  : 0;
    size_t number = strspn(name + head, "0123456789");
    /* the zip library writes beside its target: in-3.AbCdEf */
    char behind = name[head + number];
    if (head > 0 && number > 0 && (behind == '\0' || behind == '.'))
        ht_disk_remove(store->arriving, name);
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
        return ht_fail(err, STORE_FOLDER_NOT_OPENED, store->folder,
                       strerror(errno));
    return sweep.status;
}
