/* json_rows.h - rows of the tables that write the JSON output.
 *
 * type: the view's struct; field, count: its members; unit: a HT_QUANTITY_..
 */
#ifndef HALFTURN_REPORT_JSON_ROWS_H
#define HALFTURN_REPORT_JSON_ROWS_H

#include "halfturn/document.h"

#include <stddef.h>

#define KEY(type, name, what, field, text)                                     \
    { .key = name, .kind = HT_IS_##what, .at = offsetof(struct type, field),   \
      .help = text }
#define SI(type, name, unit, field, text)                                      \
    { .key = name, .kind = HT_IS_NUMBER, .quantity = HT_QUANTITY_##unit,       \
      .at = offsetof(struct type, field), .help = text }
#define SI_LIST(type, name, unit, field, text)                                 \
    { .key = name, .kind = HT_IS_NUMBERS, .quantity = HT_QUANTITY_##unit,      \
      .at = offsetof(struct type, field), .help = text }
#define LIST(type, name, field, count, table, text)                            \
    { .key = name, .kind = HT_IS_MAPS, .at = offsetof(struct type, field),     \
      .count_at = offsetof(struct type, count), .child = &(table),             \
      .flags = HT_KEEP_EMPTY, .help = text }
#define MAP(type, name, field, table, text)                                    \
    { .key = name, .kind = HT_IS_MAP, .at = offsetof(struct type, field),      \
      .child = &(table), .help = text }
#define TEXTS(type, name, field, text)                                         \
    { .key = name, .kind = HT_IS_TEXTS, .at = offsetof(struct type, field),    \
      .flags = HT_KEEP_EMPTY, .help = text }
#define SCHEMA(variable, name_, help_, rows_, type_)                           \
    const struct ht_schema variable = { HT_SCHEMA(name_, help_, rows_, type_) }

#endif
