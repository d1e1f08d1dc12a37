/* A record in which nothing is said. */
#include "reading.h"

#include <math.h>
#include <string.h>

static size_t field_size(const struct ht_row *row)
{
    switch (row->kind) {
    case HT_IS_NUMBER:
        return sizeof(double);
    case HT_IS_COUNT:
        return sizeof(size_t);
    case HT_IS_UNSIGNED:
    case HT_IS_INT:
    case HT_IS_WORD:
    case HT_IS_WORD_SET:
        return sizeof(int);
    case HT_IS_BOOL:
        return sizeof(bool);
    case HT_IS_CHARS:
        return row->most;
    case HT_IS_NUMBERS:
    case HT_IS_TEXTS:
        return sizeof(void *) + sizeof(size_t);
    case HT_IS_NUMBER_ARRAY:
        return row->most * sizeof(double);
    case HT_IS_CHARS_ARRAY:
        return row->most * row->item_size;
    case HT_IS_TEXT_ARRAY:
        return row->most * sizeof(char *);
    case HT_IS_MAP:
        return 0; /* row by row: the child may share the parent's struct */
    case HT_IS_MAP_ARRAY:
        return row->most * row->child->size;
    default:
        return sizeof(void *);
    }
}

static bool has_count(const struct ht_row *row)
{
    return row->kind == HT_IS_NUMBER_ARRAY || row->kind == HT_IS_WORDS ||
           row->kind == HT_IS_CHARS_ARRAY || row->kind == HT_IS_TEXT_ARRAY ||
           row->kind == HT_IS_MAPS || row->kind == HT_IS_MAP_ARRAY ||
           row->kind == HT_IS_NAMED || row->kind == HT_IS_NAMED_LISTS;
}

static void fill_nan(char *field, size_t count)
{
    double nothing = NAN;
    for (size_t i = 0; i < count; i++)
        memcpy(field + i * sizeof nothing, &nothing, sizeof nothing);
}

static void rows_clear(const struct ht_schema *schema, void *record)
{
    for (size_t r = 0; r < schema->row_count; r++)
        if (schema->rows[r].at < schema->size) /* else scratch only */
            ht_row_clear(&schema->rows[r], record);
}

void ht_row_clear(const struct ht_row *row, void *record)
{
    char *field = (char *)record + row->at;
    size_t none = 0;
    memset(field, 0, field_size(row));
    if (row->kind == HT_IS_NUMBER)
        fill_nan(field, 1);
    if (row->kind == HT_IS_NUMBER_ARRAY)
        fill_nan(field, row->most);
    if (row->kind == HT_IS_MAP)
        rows_clear(row->child, field);
    for (size_t i = 0; row->kind == HT_IS_MAP_ARRAY && i < row->most; i++)
        rows_clear(row->child, field + i * row->child->size);
    if (has_count(row) && row->count_at != HT_ALL)
        memcpy((char *)record + row->count_at, &none, sizeof none);
    if (row->flags & HT_WHEN_MARKED)
        *((bool *)record + row->mark_at) = false;
}

void ht_record_clear(void *record, const struct ht_schema *schema)
{
    memset(record, 0, schema->size);
    rows_clear(schema, record);
}
