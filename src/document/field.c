#include "field.h"

#include <string.h>

size_t ht_field_size(const struct ht_row *row)
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

bool ht_field_is_counted(const struct ht_row *row)
{
    return row->kind == HT_IS_NUMBER_ARRAY || row->kind == HT_IS_WORDS ||
           row->kind == HT_IS_CHARS_ARRAY || row->kind == HT_IS_TEXT_ARRAY ||
           row->kind == HT_IS_MAPS || row->kind == HT_IS_MAP_ARRAY ||
           row->kind == HT_IS_NAMED || row->kind == HT_IS_NAMED_LISTS;
}

struct pointer_and_count {
    const void *items;
    size_t count;
};

size_t ht_field_count(const struct ht_row *row, const void *record)
{
    struct pointer_and_count list;
    size_t count;
    if (row->kind == HT_IS_NUMBERS || row->kind == HT_IS_TEXTS) {
        memcpy(&list, (const char *)record + row->at, sizeof list);
        return list.count;
    }
    if (row->count_at == HT_ALL)
        return row->most;
    memcpy(&count, (const char *)record + row->count_at, sizeof count);
    return count;
}

const void *ht_field_items(const struct ht_row *row, const void *record)
{
    const char *field = (const char *)record + row->at;
    const void *pointer;
    switch (row->kind) {
    case HT_IS_NUMBER_ARRAY:
    case HT_IS_CHARS_ARRAY:
    case HT_IS_TEXT_ARRAY:
    case HT_IS_MAP_ARRAY:
        return field;
    default:
        memcpy(&pointer, field, sizeof pointer);
        return pointer;
    }
}
