/* A record in which nothing is said. */
#include "field.h"
#include "reading.h"

#include <math.h>
#include <string.h>

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

/* Once, then the same bytes again. `items` holds noughts. */
static void items_clear(const struct ht_row *row, char *items)
{
    size_t size = row->child->size;
    rows_clear(row->child, items);
    for (size_t i = 1; i < row->most; i++)
        memcpy(items + i * size, items, size);
}

void ht_row_clear(const struct ht_row *row, void *record)
{
    char *field = (char *)record + row->at;
    size_t none = 0;
    memset(field, 0, ht_field_size(row));
    if (row->kind == HT_IS_NUMBER)
        fill_nan(field, 1);
    if (row->kind == HT_IS_NUMBER_ARRAY)
        fill_nan(field, row->most);
    if (row->kind == HT_IS_MAP)
        rows_clear(row->child, field);
    if (row->kind == HT_IS_MAP_ARRAY)
        items_clear(row, field);
    if (ht_field_is_counted(row) && row->count_at != HT_ALL)
        memcpy((char *)record + row->count_at, &none, sizeof none);
    if (row->flags & HT_WHEN_MARKED)
        *((bool *)record + row->mark_at) = false;
}

void ht_record_clear(void *record, const struct ht_schema *schema)
{
    memset(record, 0, schema->size);
    rows_clear(schema, record);
}
