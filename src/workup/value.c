#include "value.h"

#include "common/memory.h"

struct ht_value *ht_value_create(size_t result_bytes)
{
    size_t bytes = sizeof(struct ht_value) + result_bytes;
    struct ht_value *value = ht_allocate(1, bytes);
    if (!value)
        return NULL;
    value->bytes = bytes;
    atomic_init(&value->holders, 1);
    return value;
}

void ht_value_hold(struct ht_value *value)
{
    atomic_fetch_add_explicit(&value->holders, 1, memory_order_relaxed);
}

void ht_value_drop(struct ht_value *value)
{
    while (value && atomic_fetch_sub_explicit(&value->holders, 1,
                                              memory_order_acq_rel) == 1) {
        struct ht_value *leans_on = value->leans_on;
        if (value->clear)
            value->clear(value->result);
        ht_release(value);
        value = leans_on;
    }
}
