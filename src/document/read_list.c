#include "reading.h"
#include "texts.h"

#include <string.h>

static bool is_digits(const struct node *node)
{
    return node->kind == NODE_SCALAR && node->length > 0 &&
           strspn(node->text, "-+0123456789") == node->length;
}

/* `[2,1, 2,5]`: pairs without a blank, a blank between them. */
static bool looks_like_commas(const struct node *list)
{
    if (!list->flow || list->count < 4 || list->count % 2)
        return false;
    for (const struct node *a = list->first; a; a = a->next->next) {
        const struct node *b = a->next;
        if (!is_digits(a) || !is_digits(b) ||
            b->place.column != a->place.column + a->length + 1)
            return false;
        if (b->next && b->next->place.line == b->place.line &&
            b->next->place.column <= b->place.column + b->length + 1)
            return false;
    }
    return true;
}

static void wrong_count(struct reading *reading, const struct slot *slot,
                        size_t count)
{
    const struct ht_row *row = slot->row;
    bool twice = count > row->most && count % 2 == 0 &&
                 count / 2 >= row->least && count / 2 <= row->most;
    if (twice)
        ht_complain(reading, slot->node, DOCUMENT_COUNT_COMMAS, count,
                    count / 2);
    else if (row->least == row->most)
        ht_complain(reading, slot->node, DOCUMENT_COUNT, count, row->most);
    else if (count > row->most)
        ht_complain(reading, slot->node, DOCUMENT_COUNT_MOST, count, row->most);
    else
        ht_complain(reading, slot->node, DOCUMENT_COUNT_LEAST, count,
                    row->least);
}

bool ht_value_items(struct reading *reading, const struct slot *slot,
                    struct items *items)
{
    const struct node *node = slot->node;
    const struct ht_row *row = slot->row;
    *items = (struct items){ node, 1 };
    if (node->kind == NODE_LIST)
        *items = (struct items){ node->first, node->count };
    if (node->kind == NODE_LIST && looks_like_commas(node)) {
        ht_complain(reading, node, DOCUMENT_PAIRS, node->count);
        return false;
    }
    if ((row->most && items->count > row->most) || items->count < row->least) {
        wrong_count(reading, slot, items->count);
        return false;
    }
    return true;
}

/* Where the items of a list kind go; grows to `count` of `size` bytes. */
static char *room_for(struct reading *reading, const struct slot *slot,
                      size_t count, size_t size)
{
    const struct ht_row *row = slot->row;
    char *field = slot->record + row->at;
    bool is_inline = row->kind == HT_IS_NUMBER_ARRAY ||
                     row->kind == HT_IS_CHARS_ARRAY ||
                     row->kind == HT_IS_TEXT_ARRAY;
    return is_inline ? field : ht_get_memory(reading, count, size);
}

static size_t item_bytes(const struct ht_row *row)
{
    switch (row->kind) {
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
        return sizeof(double);
    case HT_IS_WORDS:
        return sizeof(int);
    case HT_IS_CHARS_ARRAY:
        return row->item_size;
    default:
        return sizeof(const char *);
    }
}

static void read_item(struct reading *reading, const struct slot *slot,
                      const struct node *node, char *to)
{
    double number;
    const char *text = NULL;
    const struct ht_word *word;
    switch (slot->row->kind) {
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
        if (ht_value_number(reading, slot, node, &number))
            *(double *)(void *)to = number;
        break;
    case HT_IS_WORDS:
        if (ht_value_word(reading, slot, node, &word))
            memcpy(to, &word->value, sizeof word->value);
        break;
    case HT_IS_CHARS_ARRAY:
        if (ht_value_text(reading, slot, node, &text)) {
            if (strlen(text) >= slot->row->item_size)
                ht_complain(reading, node, DOCUMENT_TEXT_TOO_LONG,
                            slot->row->item_size - 1);
            else
                memcpy(to, text, strlen(text) + 1);
        }
        break;
    default:
        /* the checks that follow see every text of a list */
        if (!ht_value_text(reading, slot, node, &text) &&
            slot->row->kind == HT_IS_TEXTS)
            text = "";
        *(const char **)(void *)to = text;
    }
}

/* Lists whose pointer and count form one small struct. */
struct pointer_and_count {
    void *items;
    size_t count;
};

static void keep_list(const struct slot *slot, void *items, size_t count)
{
    const struct ht_row *row = slot->row;
    if (row->kind == HT_IS_NUMBERS || row->kind == HT_IS_TEXTS) {
        struct pointer_and_count list = { items, count };
        memcpy(slot->record + row->at, &list, sizeof list);
        return;
    }
    if (row->kind == HT_IS_WORDS)
        memcpy(slot->record + row->at, &items, sizeof items);
    if (row->count_at != HT_ALL)
        memcpy(slot->record + row->count_at, &count, sizeof count);
}

static void read_word_set(struct reading *reading, const struct slot *slot,
                          const struct items *items)
{
    unsigned set = 0;
    const struct node *node = items->first;
    for (size_t i = 0; i < items->count; i++, node = node->next) {
        const struct ht_word *word;
        if (ht_value_word(reading, slot, node, &word))
            set |= (unsigned)word->value;
    }
    memcpy(slot->record + slot->row->at, &set, sizeof set);
}

void ht_read_list(struct reading *reading, const struct slot *slot)
{
    struct items items;
    if (!ht_value_items(reading, slot, &items))
        return;
    if (slot->row->kind == HT_IS_WORD_SET) {
        read_word_set(reading, slot, &items);
        return;
    }
    size_t size = item_bytes(slot->row);
    char *room = NULL;
    if (items.count > 0) {
        room = room_for(reading, slot, items.count, size);
        if (!room)
            return;
    }
    const struct node *node = items.first;
    for (size_t i = 0; i < items.count; i++, node = node->next) {
        size_t before = node == slot->node ? strlen(reading->path)
                                           : ht_path_add_number(reading, i + 1);
        read_item(reading, slot, node, room + i * size);
        ht_path_cut(reading, before);
    }
    keep_list(slot, room, items.count);
}
