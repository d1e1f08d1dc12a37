/* digest.h - a key from the fields that a result was worked out from.
 *
 * XXH3 with 128 bits (Yann Collet's xxHash). Each field goes in with its
 * kind, a list and a text with their length, all numbers as 8 bytes, least
 * first: no two lists of fields are the same bytes, and no byte depends on
 * the machine. Every NaN is one: absent. -0 and 0 are two, as a result may
 * show which it was. Cannot fail.
 */
#ifndef HALFTURN_WORKUP_DIGEST_H
#define HALFTURN_WORKUP_DIGEST_H

#include "halfturn/workup.h"

struct ht_digest;

/* The key of the program's version, the stage's name and all that `fill` adds;
 * false when `fill` says so. */
bool ht_digest_make(struct ht_key *key, const char *version,
                    const char *stage,
                    bool (*fill)(struct ht_digest *digest,
                                 const void *context),
                    const void *context);

void ht_digest_number(struct ht_digest *digest, double value);
void ht_digest_count(struct ht_digest *digest, size_t count);
void ht_digest_text(struct ht_digest *digest, const char *text); /* or NULL */
void ht_digest_key(struct ht_digest *digest,
                   const struct ht_key *key);                    /* or NULL */

/* The key of a content that comes in pieces: what ht_key_of_bytes gives for
 * the whole. `room` holds the state and is not moved or copied. */
enum { HT_DIGEST_ROOM = 704 };
struct ht_digest *ht_digest_open(unsigned char room[HT_DIGEST_ROOM]);
void ht_digest_bytes(struct ht_digest *digest, const void *bytes,
                     size_t length);
struct ht_key ht_digest_key_of(const struct ht_digest *digest);

#endif
