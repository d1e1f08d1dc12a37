/* value.h - a stage's result, shared by all who hold it.
 *
 * Never changed once made. The count of holders may be changed by several
 * threads at once; everything else is written before a value is shared. The
 * links belong to the keeper, and to the thread that has it.
 */
#ifndef HALFTURN_WORKUP_VALUE_H
#define HALFTURN_WORKUP_VALUE_H

#include "halfturn/workup.h"

#include <stdatomic.h>

struct ht_value {
    struct ht_key key;
    size_t bytes;               /* with all that it alone holds */
    void (*clear)(void *result);/* releases what it points to; or NULL */
    struct ht_value *leans_on;  /* whose memory it points into; or NULL */
    atomic_size_t holders;
    struct ht_value *newer, *older, *next; /* the keeper's */
    max_align_t result[];
};

/* One holder, a result of zeros; NULL: out of memory. */
struct ht_value *ht_value_create(size_t result_bytes);
void ht_value_hold(struct ht_value *value);
void ht_value_drop(struct ht_value *value); /* NULL is accepted */

/* The keeper's own way in: NULL when there is none of this key; else it is
 * the newest now, and the caller is one of its holders. */
struct ht_value *ht_keeper_find(struct ht_keeper *keeper,
                                const struct ht_key *key);
/* Must not be there yet. */
void ht_keeper_add(struct ht_keeper *keeper, struct ht_value *value);

#endif
