/* A struct as JSON, by its schema. */
#include "field.h"
#include "json.h"
#include "texts.h"

#include "halfturn/sheet.h"

#include <math.h>
#include <string.h>

/* One field on its way out. */
struct field {
    struct ht_json *json;
    const struct ht_row *row;
    const char *record;
    const struct unit *unit;
};

static const void *at(const struct field *field)
{
    return field->record + field->row->at;
}

static json_t *number_value(const struct field *field, double value)
{
    if (!isfinite(value))
        return NULL;
    double written = value / field->unit->factor;
    if ((field->row->flags & HT_WHOLE) && fabs(written) < 1e15)
        return json_integer((json_int_t)written);
    return json_real(written);
}

static const char *word_text(const struct ht_word *words, int value)
{
    for (; words && words->text; words++)
        if (words->value == value)
            return words->text;
    return NULL;
}

static json_t *text_value(const struct field *field, const char *text)
{
    if (!text || !text[0])
        return NULL;
    return ht_json_string(field->json, field->row->key, text);
}

static json_t *scalar_value(const struct field *field)
{
    const void *from = at(field);
    switch (field->row->kind) {
    case HT_IS_NUMBER:
        return number_value(field, *(const double *)from);
    case HT_IS_COUNT:
        return json_integer((json_int_t)*(const size_t *)from);
    case HT_IS_UNSIGNED:
        return json_integer(*(const unsigned *)from);
    case HT_IS_INT:
        return json_integer(*(const int *)from);
    case HT_IS_BOOL:
        return json_boolean(*(const bool *)from);
    case HT_IS_WORD:
        return text_value(field, word_text(field->row->words,
                                           *(const int *)from));
    case HT_IS_TEXT:
        return text_value(field, *(const char *const *)from);
    default: /* HT_IS_CHARS */
        return text_value(field, from);
    }
}

static json_t *item_value(const struct field *field, const char *items,
                          size_t i)
{
    const struct ht_row *row = field->row;
    switch (row->kind) {
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
        return number_value(field, ((const double *)(const void *)items)[i]);
    case HT_IS_WORDS:
        return text_value(field,
                          word_text(row->words,
                                    ((const int *)(const void *)items)[i]));
    case HT_IS_CHARS_ARRAY:
        return text_value(field, items + i * row->item_size);
    case HT_IS_MAPS:
    case HT_IS_MAP_ARRAY:
        return ht_json_of_record(field->json, row->child,
                                 items + i * row->child->size, field->unit);
    default:
        return text_value(field,
                          ((const char *const *)(const void *)items)[i]);
    }
}

static json_t *list_of_nulls(const struct field *field, size_t count)
{
    json_t *list = json_array();
    bool failed = !list;
    for (size_t i = 0; i < count && !failed; i++)
        failed = json_array_append_new(list, json_null()) != 0;
    if (failed)
        ht_json_failed(field->json, DOCUMENT_WRITE_NO_MEMORY);
    return list;
}

/* An item that says nothing is null: the others keep their places. A list of
 * fixed length is left out when none says anything. */
static json_t *list_value(const struct field *field)
{
    size_t count = ht_field_count(field->row, field->record);
    const struct ht_row *row = field->row;
    const char *items = ht_field_items(field->row, field->record);
    if (count == 0 && !(row->flags & HT_KEEP_EMPTY))
        return NULL;
    json_t *list = row->count_at == HT_ALL ? NULL : list_of_nulls(field, 0);
    for (size_t i = 0; i < count; i++) {
        json_t *item = item_value(field, items, i);
        if (item && !list)
            list = list_of_nulls(field, i);
        if ((item || list) &&
            json_array_append_new(list, item ? item : json_null()))
            ht_json_failed(field->json, DOCUMENT_WRITE_NO_MEMORY);
    }
    return list;
}

static json_t *word_set_value(const struct field *field)
{
    unsigned set = *(const unsigned *)at(field);
    json_t *list = NULL;
    if (set || (field->row->flags & HT_KEEP_EMPTY))
        list = list_of_nulls(field, 0);
    for (const struct ht_word *w = field->row->words; list && w->text; w++) {
        if (!(set & (unsigned)w->value))
            continue;
        if (json_array_append_new(list, json_string(w->text)))
            ht_json_failed(field->json, DOCUMENT_WRITE_NO_MEMORY);
        set &= ~(unsigned)w->value;
    }
    return list;
}

static json_t *named_list(const struct field *field,
                          const struct ht_numbers *numbers)
{
    json_t *list = json_array();
    for (size_t i = 0; list && i < numbers->count; i++) {
        json_t *item = number_value(field, numbers->value[i]);
        if (json_array_append_new(list, item ? item : json_null()))
            ht_json_failed(field->json, DOCUMENT_WRITE_NO_MEMORY);
    }
    return list;
}

static json_t *named_value(const struct field *field)
{
    size_t count = ht_field_count(field->row, field->record);
    bool lists = field->row->kind == HT_IS_NAMED_LISTS;
    const char *items = ht_field_items(field->row, field->record);
    if (count == 0)
        return NULL;
    json_t *map = json_object();
    for (size_t i = 0; map && i < count; i++) {
        const struct ht_named_ratio *one =
            (const struct ht_named_ratio *)(const void *)items + i;
        const struct ht_named_numbers *many =
            (const struct ht_named_numbers *)(const void *)items + i;
        json_t *value = lists ? named_list(field, &many->list)
                              : number_value(field, one->ratio);
        if (value && json_object_set_new(map, lists ? many->name : one->name,
                                         value))
            ht_json_failed(field->json, DOCUMENT_WRITE_NO_MEMORY);
    }
    return map;
}

static void fill(struct ht_json *json, json_t **object,
                 const struct ht_schema *schema, const void *record,
                 const struct unit *unit);
static json_t *bare_or_all(const struct ht_schema *schema, json_t *object);

static json_t *map_value(const struct field *field)
{
    json_t *map = NULL;
    fill(field->json, &map, field->row->child, at(field), field->unit);
    if (!map && (field->row->flags & HT_KEEP_EMPTY))
        return ht_json_of_record(field->json, field->row->child, at(field),
                                 field->unit);
    return map ? bare_or_all(field->row->child, map) : NULL;
}

static json_t *field_value(const struct field *field)
{
    switch (field->row->kind) {
    case HT_IS_MAP:
        return map_value(field);
    case HT_IS_NAMED:
    case HT_IS_NAMED_LISTS:
        return named_value(field);
    case HT_IS_WORD_SET:
        return word_set_value(field);
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
    case HT_IS_WORDS:
    case HT_IS_TEXTS:
    case HT_IS_CHARS_ARRAY:
    case HT_IS_TEXT_ARRAY:
    case HT_IS_MAPS:
    case HT_IS_MAP_ARRAY:
        return list_value(field);
    default:
        return scalar_value(field);
    }
}

static bool is_written(const struct ht_row *row, const char *record)
{
    if (row->flags & HT_READ_ONLY)
        return false;
    if (!(row->flags & (HT_WHEN_MARKED | HT_UNLESS_MARKED)))
        return true;
    bool marked = *(const bool *)(const void *)(record + row->mark_at);
    return marked == ((row->flags & HT_WHEN_MARKED) != 0);
}

static void put(struct ht_json *json, json_t **object, const char *key,
                json_t *value)
{
    if (!*object)
        *object = json_object();
    if (json_object_get(*object, key))
        ht_json_failed(json, DOCUMENT_WRITE_TWICE, key);
    if (json_object_set_new(*object, key, value))
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
}

/* *object NULL: it is made when there is something to put in. */
static void fill(struct ht_json *json, json_t **object,
                 const struct ht_schema *schema, const void *record,
                 const struct unit *unit)
{
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        struct field field = { json, row, record, unit };
        if (row->quantity != HT_QUANTITY_SAME)
            field.unit = &ht_quantity_of(row->quantity)->unit[0];
        if (!is_written(row, record))
            continue;
        json_t *value = field_value(&field);
        if (!value && (row->flags & HT_NULL))
            value = json_null();
        if (value)
            put(json, object, row->key, value);
    }
}

void ht_json_fill(struct ht_json *json, json_t *object,
                  const struct ht_schema *schema, const void *record,
                  const struct unit *unit)
{
    fill(json, &object, schema, record, unit);
}

/* A mapping that holds only its bare key is written as that value. */
static json_t *bare_or_all(const struct ht_schema *schema, json_t *object)
{
    if (!schema->bare || json_object_size(object) != 1)
        return object;
    json_t *value = json_object_get(object, schema->bare);
    if (!value)
        return object;
    json_incref(value);
    json_decref(object);
    return value;
}

json_t *ht_json_of_record(struct ht_json *json, const struct ht_schema *schema,
                          const void *record, const struct unit *unit)
{
    json_t *object = json_object();
    if (!object) {
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
        return NULL;
    }
    ht_json_fill(json, object, schema, record, unit);
    return bare_or_all(schema, object);
}

enum ht_status ht_sheet_write_json(struct ht_text *out,
                                   const struct ht_sheet *sheet,
                                   struct ht_error *err)
{
    struct ht_json *json = ht_json_create();
    ht_json_rows(json, ht_sheet_schema(), sheet);
    return ht_json_finish(json, out, err);
}
