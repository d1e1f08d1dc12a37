/* Values by key, and in the order of their last use. */
#include "value.h"

#include "common/memory.h"

#include <string.h>

enum { BUCKETS = 1024 }; /* some tens of values a case: short chains */

struct ht_keeper {
    struct ht_keeper_figures figures;
    struct ht_value *newest, *oldest;
    struct ht_value *bucket[BUCKETS];
};

struct ht_keeper *ht_keeper_create(size_t most_bytes)
{
    struct ht_keeper *keeper = ht_allocate(1, sizeof *keeper);
    if (keeper)
        keeper->figures.most_bytes = most_bytes;
    return keeper;
}

struct ht_keeper_figures ht_keeper_figures(const struct ht_keeper *keeper)
{
    return keeper->figures;
}

static struct ht_value **bucket_of(struct ht_keeper *keeper,
                                   const struct ht_key *key)
{
    return &keeper->bucket[(key->byte[14] << 8 | key->byte[15]) % BUCKETS];
}

static void link_newest(struct ht_keeper *keeper, struct ht_value *value)
{
    value->newer = NULL;
    value->older = keeper->newest;
    *(keeper->newest ? &keeper->newest->newer : &keeper->oldest) = value;
    keeper->newest = value;
}

static void unlink_value(struct ht_keeper *keeper, struct ht_value *value)
{
    *(value->newer ? &value->newer->older : &keeper->newest) = value->older;
    *(value->older ? &value->older->newer : &keeper->oldest) = value->newer;
}

static void drop_oldest(struct ht_keeper *keeper)
{
    struct ht_value *value = keeper->oldest;
    struct ht_value **at = bucket_of(keeper, &value->key);
    while (*at != value)
        at = &(*at)->next;
    *at = value->next;
    unlink_value(keeper, value);
    keeper->figures.values--;
    keeper->figures.bytes -= value->bytes;
    ht_value_drop(value);
}

struct ht_value *ht_keeper_find(struct ht_keeper *keeper,
                                const struct ht_key *key)
{
    struct ht_value *value = *bucket_of(keeper, key);
    while (value && memcmp(&value->key, key, sizeof *key) != 0)
        value = value->next;
    if (!value) {
        keeper->figures.missed++;
        return NULL;
    }
    keeper->figures.found++;
    unlink_value(keeper, value);
    link_newest(keeper, value);
    ht_value_hold(value);
    return value;
}

void ht_keeper_add(struct ht_keeper *keeper, struct ht_value *value)
{
    struct ht_value **bucket = bucket_of(keeper, &value->key);
    if (value->bytes > keeper->figures.most_bytes)
        return; /* all others would go for nothing */
    value->next = *bucket;
    *bucket = value;
    link_newest(keeper, value);
    ht_value_hold(value);
    keeper->figures.values++;
    keeper->figures.bytes += value->bytes;
    while (keeper->figures.bytes > keeper->figures.most_bytes) {
        drop_oldest(keeper);
        keeper->figures.dropped++;
    }
}

void ht_keeper_free(struct ht_keeper *keeper)
{
    while (keeper && keeper->oldest)
        drop_oldest(keeper);
    ht_release(keeper);
}
