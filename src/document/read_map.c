#include "nearest.h"
#include "reading.h"
#include "texts.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What one mapping gave so far. */
struct given {
    const struct node *node[ROWS_MAX];
};

/* The row of a key and the unit it is given in; row_count when unknown. */
static size_t find_row(const struct ht_schema *schema, const char *key,
                       const struct unit *same, const struct unit **unit)
{
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        size_t which = ht_quantity_find(row, key);
        if (which == UNITS_MAX)
            continue;
        *unit = row->quantity == HT_QUANTITY_SAME
                    ? same
                    : &ht_quantity_of(row->quantity)->unit[which];
        return r;
    }
    return schema->row_count;
}

static void known_names(const struct ht_schema *schema, char *buffer,
                        size_t size)
{
    size_t at = 0;
    buffer[0] = '\0';
    for (size_t r = 0; r < schema->row_count && at < size; r++)
        at += (size_t)snprintf(buffer + at, size - at, "%s%s", at ? ", " : "",
                               schema->rows[r].key);
    if (at >= size)
        (void)snprintf(buffer + size - 5, 5, " ...");
}

static void unknown_name(struct reading *reading,
                         const struct ht_schema *schema,
                         const struct node *key)
{
    char shown[60], names[200], name[64];
    struct nearest nearest = { .name = key->text };
    for (size_t r = 0; r < schema->row_count; r++)
        for (size_t u = 0; u < UNITS_MAX; u++)
            if (ht_quantity_key(&schema->rows[r], u, name, sizeof name))
                ht_nearest_offer(&nearest, name);
    const char *found = ht_node_shown(key, shown, sizeof shown);
    if (key->length && strspn(key->text, "0123456789") == key->length) {
        ht_complain(reading, key, DOCUMENT_UNKNOWN_COMMAS, found);
    } else if (nearest.found[0]) {
        ht_complain(reading, key, DOCUMENT_UNKNOWN_NEAR, found, nearest.found);
    } else {
        known_names(schema, names, sizeof names);
        ht_complain(reading, key, DOCUMENT_UNKNOWN, found, names);
    }
}

static void twice(struct reading *reading, const struct node *value,
                  const struct node *first)
{
    size_t before = ht_path_add(reading, value->key->text);
    if (strcmp(first->key->text, value->key->text) == 0)
        ht_complain(reading, value->key, DOCUMENT_TWICE,
                    first->key->place.line);
    else
        ht_complain(reading, value->key, DOCUMENT_TWICE_AS, first->key->text,
                    first->key->place.line);
    ht_path_cut(reading, before);
}

/* Rows of one group exclude each other: a second one is a problem, and one
 * that comes from a template gives way. */
static bool excludes(struct reading *reading, const struct ht_schema *schema,
                     size_t index, const struct given *given, char *record)
{
    const struct ht_row *row = &schema->rows[index];
    for (size_t r = 0; row->group && r < schema->row_count; r++) {
        if (r == index || schema->rows[r].group != row->group)
            continue;
        if (given->node[r]) {
            ht_complain(reading, given->node[index]->key, DOCUMENT_EXCLUDES,
                        given->node[index]->key->text,
                        given->node[r]->key->text,
                        given->node[r]->key->place.line);
            return true;
        }
        ht_row_clear(&schema->rows[r], record);
    }
    return false;
}

void ht_read_row(struct reading *reading, const struct slot *slot)
{
    const struct ht_row *row = slot->row;
    switch (row->kind) {
    case HT_IS_MAP:
        ht_read_map(reading, row->child, slot->node, slot->record + row->at,
                    slot->unit);
        break;
    case HT_IS_MAPS:
    case HT_IS_MAP_ARRAY:
        ht_read_maps(reading, slot);
        break;
    case HT_IS_NAMED:
    case HT_IS_NAMED_LISTS:
        ht_read_named(reading, slot);
        break;
    case HT_IS_WORD_SET:
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
    case HT_IS_WORDS:
    case HT_IS_TEXTS:
    case HT_IS_CHARS_ARRAY:
    case HT_IS_TEXT_ARRAY:
        ht_read_list(reading, slot);
        break;
    default:
        ht_read_scalar(reading, slot);
    }
    if (row->flags & (HT_WHEN_MARKED | HT_UNLESS_MARKED))
        *(bool *)(void *)(slot->record + row->mark_at) =
            (row->flags & HT_WHEN_MARKED) != 0;
}

static void read_entry(struct reading *reading, const struct ht_schema *schema,
                       const struct node *value, char *record,
                       const struct unit *same, struct given *given)
{
    const struct unit *unit = same;
    size_t index = find_row(schema, value->key->text, same, &unit);
    if (index == schema->row_count) {
        unknown_name(reading, schema, value->key);
        return;
    }
    const struct ht_row *row = &schema->rows[index];
    if (given->node[index]) {
        twice(reading, value, given->node[index]);
        return;
    }
    given->node[index] = value;
    if (ht_node_is_not_said(value) ||
        excludes(reading, schema, index, given, record))
        return;
    struct slot slot = { row, value, record, unit };
    size_t before = ht_path_add(reading, value->key->text);
    ht_read_row(reading, &slot);
    ht_path_cut(reading, before);
}

static void read_bare(struct reading *reading, const struct ht_schema *schema,
                      const struct node *node, char *record,
                      const struct unit *same)
{
    const struct unit *unit = same;
    size_t index = find_row(schema, schema->bare, same, &unit);
    assert(index < schema->row_count);
    for (size_t r = 0; r < schema->row_count; r++)
        ht_row_clear(&schema->rows[r], record); /* of a template's mapping */
    struct slot slot = { &schema->rows[index], node, record, unit };
    ht_read_row(reading, &slot);
}

static void missing_keys(struct reading *reading,
                         const struct ht_schema *schema,
                         const struct node *node, const struct given *given)
{
    for (size_t r = 0; r < schema->row_count; r++)
        if ((schema->rows[r].flags & HT_REQUIRED) &&
            (!given->node[r] || ht_node_is_not_said(given->node[r])))
            ht_complain(reading, node, DOCUMENT_MISSING, schema->rows[r].key);
}

void ht_read_map(struct reading *reading, const struct ht_schema *schema,
                 const struct node *node, void *record, const struct unit *unit)
{
    struct given given = { { NULL } };
    char shown[60];
    assert(schema->row_count <= ROWS_MAX);
    if (node->kind != NODE_MAP && schema->bare) {
        read_bare(reading, schema, node, record, unit);
    } else if (node->kind != NODE_MAP) {
        ht_complain(reading, node, DOCUMENT_WANTED_MAPPING,
                    ht_node_shown(node, shown, sizeof shown));
        return;
    } else {
        for (const struct node *v = node->first; v; v = v->next)
            read_entry(reading, schema, v, record, unit, &given);
        if (!reading->over)
            missing_keys(reading, schema, node, &given);
    }
    struct ht_finish finish = { reading, schema, node };
    if (schema->finish && !reading->no_memory)
        schema->finish(&finish, record);
}

/* "angles/2/slopes_deg" as angles[2].slopes_deg; the 1 of a mapping that
 * stands alone is left out. */
static void path_add_key(struct reading *reading, const struct node *node,
                         const char *key)
{
    while (*key) {
        char name[64];
        size_t length = strcspn(key, "/");
        bool is_number = *key >= '0' && *key <= '9';
        (void)snprintf(name, sizeof name, "%.*s", (int)length, key);
        if (!is_number)
            (void)ht_path_add(reading, name);
        else if (node && node->kind == NODE_LIST)
            (void)ht_path_add_number(reading, strtoul(name, NULL, 10));
        node = node ? ht_node_find(node, name) : NULL;
        key += length + (key[length] == '/');
    }
}

void ht_finish_problem(struct ht_finish *finish, const char *key,
                       enum ht_status status, const char *format, ...)
{
    char text[400];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    const struct node *node = finish->node;
    size_t before = strlen(finish->reading->path);
    if (key && node->kind == NODE_MAP) {
        const struct node *found = ht_node_find(node, key);
        path_add_key(finish->reading, node, key);
        node = found ? found : node;
    }
    ht_complain(finish->reading, node, status, "%s", text);
    ht_path_cut(finish->reading, before);
}

bool ht_finish_has(const struct ht_finish *finish, const char *key)
{
    const struct node *found =
        finish->node->kind == NODE_MAP ? ht_node_find(finish->node, key) : NULL;
    return found && !ht_node_is_not_said(found);
}

void *ht_finish_get(struct ht_finish *finish, size_t count, size_t size)
{
    return count ? ht_get_memory(finish->reading, count, size) : NULL;
}
