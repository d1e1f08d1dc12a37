/* slice.h - the part of a sheet that a stage reads.
 *
 * A stage is handed a slice: a record in which everything it does not read is
 * unknown. The same slice is hashed into its key, by the schema, field by
 * field. So no stage can read what does not key it, and a key that is added
 * to the sheet is hashed from its first day. Lists and texts stay the
 * sheet's memory.
 */
#ifndef HALFTURN_WORKUP_SLICE_H
#define HALFTURN_WORKUP_SLICE_H

#include "digest.h"

#include "halfturn/document.h"

/* The rows with these keys (NULL at the end) out of *from; *to, of the same
 * schema, says nothing else. */
void ht_slice(void *to, const void *from, const struct ht_schema *schema,
              const char *const *keys);

/* The schema of a mapping, or of a list's mappings, inside. */
const struct ht_schema *ht_slice_child(const struct ht_schema *schema,
                                       const char *key);

void ht_slice_hash(struct ht_digest *digest, const void *record,
                   const struct ht_schema *schema);

#endif
