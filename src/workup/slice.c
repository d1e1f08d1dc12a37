#include "slice.h"

#include "document/field.h"

#include <string.h>

static void copy(void *to, const void *from, size_t at, size_t size)
{
    memcpy((char *)to + at, (const char *)from + at, size);
}

/* A row of a scratch struct has no place in the record. */
static bool is_stored(const struct ht_schema *schema, const struct ht_row *row)
{
    return row->at < schema->size;
}

static bool has_mark(const struct ht_row *row)
{
    return row->flags & (HT_WHEN_MARKED | HT_UNLESS_MARKED);
}

static void take_row(void *to, const void *from, const struct ht_row *row)
{
    copy(to, from, row->at, ht_field_size(row));
    if (ht_field_is_counted(row) && row->count_at != HT_ALL)
        copy(to, from, row->count_at, sizeof(size_t));
    if (has_mark(row))
        copy(to, from, row->mark_at, sizeof(bool));
    for (size_t i = 0; row->kind == HT_IS_MAP && i < row->child->row_count;
         i++)
        if (is_stored(row->child, &row->child->rows[i]))
            take_row((char *)to + row->at, (const char *)from + row->at,
                     &row->child->rows[i]);
}

static const struct ht_row *row_of(const struct ht_schema *schema,
                                   const char *key)
{
    for (size_t r = 0; r < schema->row_count; r++)
        if (strcmp(schema->rows[r].key, key) == 0)
            return &schema->rows[r];
    return NULL;
}

void ht_slice(void *to, const void *from, const struct ht_schema *schema,
              const char *const *keys)
{
    ht_record_clear(to, schema);
    for (; *keys; keys++) {
        const struct ht_row *row = row_of(schema, *keys);
        if (row)
            take_row(to, from, row);
    }
}

const struct ht_schema *ht_slice_child(const struct ht_schema *schema,
                                       const char *key)
{
    const struct ht_row *row = row_of(schema, key);
    return row ? row->child : NULL;
}

/* ---- hashing ----------------------------------------------------------- */

static void hash_numbers(struct ht_digest *digest, const double *value,
                         size_t count)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++)
        ht_digest_number(digest, value[i]);
}

static void hash_texts(struct ht_digest *digest, const char *const *text,
                       size_t count)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++)
        ht_digest_text(digest, text[i]);
}

static void hash_words(struct ht_digest *digest, const int *word, size_t count)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++)
        ht_digest_count(digest, (size_t)word[i]);
}

static void hash_records(struct ht_digest *digest, const char *items,
                         size_t count, const struct ht_schema *schema)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++)
        ht_slice_hash(digest, items + i * schema->size, schema);
}

static void hash_named(struct ht_digest *digest,
                       const struct ht_named_ratio *named, size_t count)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++) {
        ht_digest_text(digest, named[i].name);
        ht_digest_number(digest, named[i].ratio);
    }
}

static void hash_named_lists(struct ht_digest *digest,
                             const struct ht_named_numbers *named,
                             size_t count)
{
    ht_digest_count(digest, count);
    for (size_t i = 0; i < count; i++) {
        ht_digest_text(digest, named[i].name);
        hash_numbers(digest, named[i].list.value, named[i].list.count);
    }
}

static void hash_list(struct ht_digest *digest, const void *record,
                      const struct ht_row *row)
{
    size_t count = ht_field_count(row, record);
    const void *items = ht_field_items(row, record);
    switch (row->kind) {
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
        hash_numbers(digest, items, count);
        break;
    case HT_IS_TEXTS:
    case HT_IS_TEXT_ARRAY:
        hash_texts(digest, items, count);
        break;
    case HT_IS_WORDS:
        hash_words(digest, items, count);
        break;
    case HT_IS_NAMED:
        hash_named(digest, items, count);
        break;
    case HT_IS_NAMED_LISTS:
        hash_named_lists(digest, items, count);
        break;
    case HT_IS_CHARS_ARRAY:
        ht_digest_count(digest, count);
        for (size_t i = 0; i < count; i++)
            ht_digest_text(digest, (const char *)items + i * row->item_size);
        break;
    default: /* HT_IS_MAPS, HT_IS_MAP_ARRAY */
        hash_records(digest, items, count, row->child);
    }
}

static void hash_row(struct ht_digest *digest, const void *record,
                     const struct ht_row *row)
{
    const void *field = (const char *)record + row->at;
    ht_digest_text(digest, row->key);
    if (has_mark(row))
        ht_digest_count(digest, *((const bool *)record + row->mark_at));
    switch (row->kind) {
    case HT_IS_NUMBER:
        ht_digest_number(digest, *(const double *)field);
        break;
    case HT_IS_COUNT:
        ht_digest_count(digest, *(const size_t *)field);
        break;
    case HT_IS_UNSIGNED:
    case HT_IS_INT:
    case HT_IS_WORD:
    case HT_IS_WORD_SET:
        ht_digest_count(digest, (size_t) * (const int *)field);
        break;
    case HT_IS_BOOL:
        ht_digest_count(digest, *(const bool *)field);
        break;
    case HT_IS_TEXT:
        ht_digest_text(digest, *(const char *const *)field);
        break;
    case HT_IS_CHARS:
        ht_digest_text(digest, field);
        break;
    case HT_IS_MAP:
        ht_slice_hash(digest, field, row->child);
        break;
    default:
        hash_list(digest, record, row);
    }
}

void ht_slice_hash(struct ht_digest *digest, const void *record,
                   const struct ht_schema *schema)
{
    for (size_t r = 0; r < schema->row_count; r++)
        if (is_stored(schema, &schema->rows[r]))
            hash_row(digest, record, &schema->rows[r]);
}
