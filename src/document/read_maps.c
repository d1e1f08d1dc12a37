/* Lists of mappings, and mappings of any names. */
#include "reading.h"
#include "texts.h"

#include <string.h>

static void read_one(struct reading *reading, const struct slot *slot,
                     const struct node *node, char *to, bool keep)
{
    const struct ht_schema *schema = slot->row->child;
    char *scratch = to;
    if (schema->scratch_size) {
        scratch = ht_get_memory(reading, 1, schema->scratch_size);
        if (!scratch)
            return;
    }
    if (!keep)
        ht_record_clear(to, schema);
    if (scratch != to)
        memcpy(scratch, to, schema->size);
    bool over = reading->over;
    reading->over = keep;
    ht_read_map(reading, schema, node, scratch, slot->unit);
    reading->over = over;
    if (scratch != to)
        memcpy(to, scratch, schema->size);
}

/* A single mapping over a single one of the template adds to it. */
static bool adds_to_template(const struct reading *reading,
                             const struct slot *slot)
{
    size_t count = 0;
    if (slot->row->count_at != HT_ALL)
        memcpy(&count, slot->record + slot->row->count_at, sizeof count);
    return reading->over && slot->node->kind == NODE_MAP && count == 1;
}

void ht_read_maps(struct reading *reading, const struct slot *slot)
{
    const struct ht_row *row = slot->row;
    struct items items;
    bool single = slot->node->kind != NODE_LIST;
    if (slot->node->kind == NODE_SCALAR && !row->child->bare) {
        char shown[60];
        ht_complain(reading, slot->node, DOCUMENT_WANTED_MAPPINGS,
                    ht_node_shown(slot->node, shown, sizeof shown));
        return;
    }
    if (!ht_value_items(reading, slot, &items))
        return;
    bool keep = adds_to_template(reading, slot);
    char *room = slot->record + row->at;
    if (row->kind == HT_IS_MAPS) {
        char *old;
        memcpy(&old, room, sizeof old);
        room = items.count
                   ? ht_get_memory(reading, items.count, row->child->size)
                   : NULL;
        if (items.count && !room)
            return;
        if (keep && room)
            memcpy(room, old, row->child->size);
        memcpy(slot->record + row->at, &room, sizeof room);
    }
    const struct node *node = items.first;
    for (size_t i = 0; i < items.count; i++, node = node->next) {
        size_t before = strlen(reading->path);
        if (!single)
            (void)ht_path_add_number(reading, i + 1);
        read_one(reading, slot, node, room + i * row->child->size, keep);
        ht_path_cut(reading, before);
    }
    if (row->count_at != HT_ALL)
        memcpy(slot->record + row->count_at, &items.count,
               sizeof items.count);
}

struct named_number {
    const char *name;
    double number;
};
struct named_list {
    const char *name;
    struct {
        double *value;
        size_t count;
    } list;
};

static const struct node *earlier(const struct node *map,
                                  const struct node *value)
{
    for (const struct node *v = map->first; v != value; v = v->next)
        if (strcmp(v->key->text, value->key->text) == 0)
            return v;
    return NULL;
}

static void read_named_value(struct reading *reading, const struct slot *slot,
                             const struct node *value, char *to)
{
    struct ht_row row = *slot->row;
    bool lists = row.kind == HT_IS_NAMED_LISTS;
    row.kind = lists ? HT_IS_NUMBERS : HT_IS_NUMBER;
    row.at = lists ? offsetof(struct named_list, list)
                   : offsetof(struct named_number, number);
    row.least = row.most = 0;
    struct slot inner = { &row, value, to, slot->unit };
    const char *name = ht_get_text(reading, value->key);
    memcpy(to, &name, sizeof name);
    ht_read_row(reading, &inner);
}

void ht_read_named(struct reading *reading, const struct slot *slot)
{
    enum { MOST = 64 };
    const struct node *map = slot->node;
    size_t most = slot->row->most ? slot->row->most : MOST;
    size_t size = slot->row->kind == HT_IS_NAMED ? sizeof(struct named_number)
                                                 : sizeof(struct named_list);
    if (map->kind != NODE_MAP) {
        char shown[60];
        ht_complain(reading, map, DOCUMENT_WANTED_NAMED,
                    ht_node_shown(map, shown, sizeof shown));
        return;
    }
    if (map->count > most) {
        ht_complain(reading, map, DOCUMENT_COUNT_MOST, map->count, most);
        return;
    }
    char *room = map->count ? ht_get_memory(reading, map->count, size) : NULL;
    size_t count = 0;
    for (const struct node *v = map->first; room && v; v = v->next) {
        const struct node *first = earlier(map, v);
        size_t before = ht_path_add(reading, v->key->text);
        if (first)
            ht_complain(reading, v->key, DOCUMENT_TWICE,
                        first->key->place.line);
        else if (strspn(v->key->text, " \t") == v->key->length)
            ht_complain(reading, v->key, DOCUMENT_NAME_EMPTY);
        else if (!ht_node_is_not_said(v))
            read_named_value(reading, slot, v, room + count++ * size);
        ht_path_cut(reading, before);
    }
    memcpy(slot->record + slot->row->at, &room, sizeof room);
    memcpy(slot->record + slot->row->count_at, &count, sizeof count);
}
