/* field.h - where the value of a row lies in its record. */
#ifndef HALFTURN_DOCUMENT_FIELD_H
#define HALFTURN_DOCUMENT_FIELD_H

#include "halfturn/document.h"

/* Bytes of the field itself. 0 for HT_IS_MAP: a child may share its parent's
 * struct, so a mapping is taken row by row. */
size_t ht_field_size(const struct ht_row *row);

/* Whether a count_at belongs to the row. */
bool ht_field_is_counted(const struct ht_row *row);

/* Items of a list. */
size_t ht_field_count(const struct ht_row *row, const void *record);

/* The first of them, inline or behind a pointer. */
const void *ht_field_items(const struct ht_row *row, const void *record);

#endif
