/* The one file that knows the hash. */
#include "digest.h"

#include "texts.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>

#define XXH_INLINE_ALL /* its state may stand on the stack only so */
#include <xxhash.h>

struct ht_digest {
    XXH3_state_t state;
};

static struct ht_key key_from(XXH128_hash_t hash)
{
    struct ht_key key;
    XXH128_canonical_t canonical;
    XXH128_canonicalFromHash(&canonical, hash);
    memcpy(key.byte, canonical.digest, sizeof key.byte);
    return key;
}

static void add(struct ht_digest *digest, const void *bytes, size_t length)
{
    (void)XXH3_128bits_update(&digest->state, bytes, length);
}

static void add_tagged(struct ht_digest *digest, char tag, uint64_t value)
{
    unsigned char bytes[9] = { (unsigned char)tag };
    for (size_t i = 0; i < 8; i++)
        bytes[1 + i] = (unsigned char)(value >> (8 * i) & 0xff);
    add(digest, bytes, sizeof bytes);
}

static void add_absent(struct ht_digest *digest)
{
    add(digest, "-", 1);
}

void ht_digest_number(struct ht_digest *digest, double value)
{
    uint64_t bits;
    static_assert(sizeof bits == sizeof value, "a double has 64 bits");
    memcpy(&bits, &value, sizeof bits);
    if (isnan(value))
        add_absent(digest);
    else
        add_tagged(digest, 'n', bits);
}

void ht_digest_count(struct ht_digest *digest, size_t count)
{
    add_tagged(digest, 'c', count);
}

void ht_digest_text(struct ht_digest *digest, const char *text)
{
    if (!text) {
        add_absent(digest);
        return;
    }
    add_tagged(digest, 't', strlen(text));
    add(digest, text, strlen(text));
}

void ht_digest_key(struct ht_digest *digest, const struct ht_key *key)
{
    if (!key) {
        add_absent(digest);
        return;
    }
    add(digest, "k", 1);
    add(digest, key->byte, sizeof key->byte);
}

bool ht_digest_make(struct ht_key *key, const char *version,
                    const char *stage,
                    bool (*fill)(struct ht_digest *digest,
                                 const void *context),
                    const void *context)
{
    struct ht_digest digest;
    (void)XXH3_128bits_reset(&digest.state);
    ht_digest_text(&digest, version);
    ht_digest_text(&digest, stage);
    if (!fill(&digest, context))
        return false;
    *key = key_from(XXH3_128bits_digest(&digest.state));
    return true;
}

void ht_key_write(char hex[HT_KEY_HEX], const struct ht_key *key)
{
    static const char digits[] = "0123456789abcdef";
    for (size_t i = 0; i < sizeof key->byte; i++) {
        hex[2 * i] = digits[key->byte[i] >> 4];
        hex[2 * i + 1] = digits[key->byte[i] & 15];
    }
    hex[HT_KEY_HEX - 1] = '\0';
}

struct ht_key ht_key_of_bytes(const void *bytes, size_t length)
{
    return key_from(XXH3_128bits(bytes, length));
}

/* The state stands where the processor wants it. */
struct ht_digest *ht_digest_open(unsigned char room[HT_DIGEST_ROOM])
{
    static_assert(sizeof(struct ht_digest) + _Alignof(struct ht_digest) <=
                      HT_DIGEST_ROOM, "it fits");
    size_t over = (uintptr_t)room % _Alignof(struct ht_digest);
    void *at = room + (over ? _Alignof(struct ht_digest) - over : 0);
    struct ht_digest *digest = at;
    (void)XXH3_128bits_reset(&digest->state);
    return digest;
}

void ht_digest_bytes(struct ht_digest *digest, const void *bytes,
                     size_t length)
{
    add(digest, bytes, length);
}

struct ht_key ht_digest_key_of(const struct ht_digest *digest)
{
    return key_from(XXH3_128bits_digest(&digest->state));
}

/* False: errno says why. */
static bool add_file(struct ht_digest *digest, int file)
{
    char block[16384];
    for (;;) {
        ssize_t got = read(file, block, sizeof block);
        if (got == 0)
            return true;
        if (got > 0)
            add(digest, block, (size_t)got);
        else if (errno != EINTR)
            return false;
    }
}

enum ht_status ht_key_of_file(struct ht_key *key, const char *path,
                              struct ht_error *err)
{
    struct ht_digest digest;
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return ht_fail(err, WORKUP_CANNOT_OPEN, path, strerror(errno));
    (void)XXH3_128bits_reset(&digest.state);
    bool fine = add_file(&digest, file);
    int failure = errno;
    (void)close(file);
    if (!fine)
        return ht_fail(err, WORKUP_CANNOT_READ, path, strerror(failure));
    *key = key_from(XXH3_128bits_digest(&digest.state));
    return HT_OK;
}
