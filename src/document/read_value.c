#include "nearest.h"
#include "reading.h"
#include "texts.h"

#include "halfturn/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const struct ht_word ht_words_yes_no[] = {
    { "yes", 1, NULL }, { "no", 2, NULL },    { "true", 1, NULL },
    { "false", 2, NULL }, { NULL, 0, NULL },
};

static bool is_degrees(const struct slot *slot)
{
    return slot->unit->ending && strcmp(slot->unit->ending, "deg") == 0;
}

static bool parse(const struct slot *slot, const struct node *node,
                  double *value, enum ht_number_problem *problem)
{
    *problem = is_degrees(slot)
                   ? ht_number_read_degrees(node->text, node->length, value)
                   : ht_number_read(node->text, node->length, value);
    return *problem == HT_NUMBER_FINE;
}

static void not_a_number(struct reading *reading, const struct slot *slot,
                         const struct node *node,
                         enum ht_number_problem problem)
{
    char shown[60];
    const char *found = ht_node_shown(node, shown, sizeof shown);
    if (node->kind == NODE_SCALAR && problem == HT_NUMBER_DECIMAL_COMMA)
        ht_complain(reading, node, DOCUMENT_WANTED_POINT, found);
    else if (node->kind == NODE_SCALAR && problem == HT_NUMBER_NOT_FINITE)
        ht_complain(reading, node, DOCUMENT_WANTED_FINITE, found);
    else if (is_degrees(slot))
        ht_complain(reading, node, DOCUMENT_WANTED_DEGREES, found);
    else if (slot->unit->text[0])
        ht_complain(reading, node, DOCUMENT_WANTED_NUMBER_IN, slot->unit->text,
                    found);
    else
        ht_complain(reading, node, DOCUMENT_WANTED_NUMBER, found);
}

static bool in_range(struct reading *reading, const struct slot *slot,
                     const struct node *node, double value)
{
    const struct ht_row *row = slot->row;
    const struct unit *unit = slot->unit;
    const struct unit *first = &ht_quantity_of(row->quantity)->unit[0];
    if (row->quantity == HT_QUANTITY_SAME)
        first = unit;
    if (row->low == 0 && row->high == 0)
        return true;
    double ratio = first->factor / unit->factor;
    double low = row->low * ratio, high = row->high * ratio;
    /* One part in 10^12: a bound itself stays inside in another unit. */
    double slack = 1e-12 * fmax(fabs(low), fabs(high));
    if (value >= low - slack && value <= high + slack)
        return true;
    char a[64], b[64], shown[60];
    ht_quantity_format(a, sizeof a, low);
    ht_quantity_format(b, sizeof b, high);
    const char *found = ht_node_shown(node, shown, sizeof shown);
    if (is_degrees(slot))
        ht_complain(reading, node, DOCUMENT_OUT_OF_RANGE_DEGREES, found, a, b);
    else if (unit->text[0])
        ht_complain(reading, node, DOCUMENT_OUT_OF_RANGE_IN, found, a, b,
                    unit->text);
    else
        ht_complain(reading, node, DOCUMENT_OUT_OF_RANGE, found, a, b);
    return false;
}

/* In SI; -0 as 0, as which it is written in YAML. */
bool ht_value_number(struct reading *reading, const struct slot *slot,
                     const struct node *node, double *value)
{
    enum ht_number_problem problem = HT_NUMBER_NOT_A_NUMBER;
    double read = NAN;
    if (node->kind != NODE_SCALAR || !parse(slot, node, &read, &problem)) {
        not_a_number(reading, slot, node, problem);
        return false;
    }
    if (!in_range(reading, slot, node, read))
        return false;
    if ((slot->row->flags & HT_WHOLE) && read != floor(read)) {
        char shown[60];
        ht_complain(reading, node, DOCUMENT_WANTED_WHOLE,
                    ht_node_shown(node, shown, sizeof shown));
        return false;
    }
    *value = ht_quantity_to_si(read, slot->unit) + 0.0;
    return true;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c | 0x20) : c;
}

static bool same_word(const char *a, const char *b)
{
    while (*a && lower(*a) == *b)
        a++, b++;
    return *a == '\0' && *b == '\0';
}

/* Every value's first text, for a message. */
static void list_words(const struct ht_word *words, char *buffer, size_t size)
{
    size_t at = 0;
    buffer[0] = '\0';
    for (const struct ht_word *w = words; w->text; w++) {
        bool again = false;
        for (const struct ht_word *o = words; o < w; o++)
            again = again || (o->value == w->value && w->value != 0);
        if (again || at + strlen(w->text) + 6 > size)
            continue;
        at += (size_t)snprintf(buffer + at, size - at, "%s%s",
                               at ? ", " : "", w->text);
    }
}

bool ht_value_word(struct reading *reading, const struct slot *slot,
                   const struct node *node, const struct ht_word **word)
{
    char shown[60], known[260];
    struct nearest nearest = { .name = node->text };
    if (node->kind == NODE_SCALAR)
        for (const struct ht_word *w = slot->row->words; w->text; w++) {
            if (same_word(node->text, w->text)) {
                *word = w;
                return true;
            }
            ht_nearest_offer(&nearest, w->text);
        }
    list_words(slot->row->words, known, sizeof known);
    const char *found = ht_node_shown(node, shown, sizeof shown);
    if (nearest.found[0])
        ht_complain(reading, node, DOCUMENT_NOT_ONE_OF_NEAR, found, known,
                    nearest.found);
    else
        ht_complain(reading, node, DOCUMENT_NOT_ONE_OF, found, known);
    return false;
}

bool ht_value_text(struct reading *reading, const struct slot *slot,
                   const struct node *node, const char **text)
{
    if (slot->row->words) {
        const struct ht_word *word;
        if (!ht_value_word(reading, slot, node, &word))
            return false;
        *text = word->text;
        return true;
    }
    if (node->kind != NODE_SCALAR) {
        ht_complain(reading, node, DOCUMENT_WANTED_TEXT,
                    ht_node_shown(node, NULL, 0));
        return false;
    }
    *text = ht_get_text(reading, node);
    return *text != NULL;
}

static void read_chars(struct reading *reading, const struct slot *slot)
{
    char *field = slot->record + slot->row->at;
    if (slot->node->kind != NODE_SCALAR)
        ht_complain(reading, slot->node, DOCUMENT_WANTED_TEXT,
                    ht_node_shown(slot->node, NULL, 0));
    else if (slot->node->length >= slot->row->most)
        ht_complain(reading, slot->node, DOCUMENT_TEXT_TOO_LONG,
                    slot->row->most - 1);
    else
        memcpy(field, slot->node->text, slot->node->length + 1);
}

/* The three whole kinds, with their own limits where the row has none. */
static void read_integer(struct reading *reading, const struct slot *slot)
{
    struct ht_row row = *slot->row;
    row.flags |= HT_WHOLE;
    if (row.low == 0 && row.high == 0) {
        row.low = row.kind == HT_IS_INT ? -1e9 : 0;
        row.high = 1e9;
    }
    struct slot whole = *slot;
    whole.row = &row;
    double value;
    if (!ht_value_number(reading, &whole, slot->node, &value))
        return;
    void *field = slot->record + row.at;
    if (row.kind == HT_IS_COUNT)
        *(size_t *)field = (size_t)value;
    else if (row.kind == HT_IS_UNSIGNED)
        *(unsigned *)field = (unsigned)value;
    else
        *(int *)field = (int)value;
}

static void read_words_value(struct reading *reading, const struct slot *slot)
{
    const struct ht_word *word;
    struct slot yes_no = *slot;
    struct ht_row row = *slot->row;
    if (row.kind == HT_IS_BOOL)
        row.words = ht_words_yes_no;
    yes_no.row = &row;
    if (!ht_value_word(reading, &yes_no, slot->node, &word))
        return;
    void *field = slot->record + row.at;
    if (row.kind == HT_IS_BOOL)
        *(bool *)field = word->value == 1;
    else
        memcpy(field, &word->value, sizeof word->value);
}

void ht_read_scalar(struct reading *reading, const struct slot *slot)
{
    double number;
    const char *text;
    void *field = slot->record + slot->row->at;
    switch (slot->row->kind) {
    case HT_IS_NUMBER:
        if (ht_value_number(reading, slot, slot->node, &number))
            *(double *)field = number;
        break;
    case HT_IS_TEXT:
        if (ht_value_text(reading, slot, slot->node, &text))
            *(const char **)field = text;
        break;
    case HT_IS_CHARS:
        read_chars(reading, slot);
        break;
    case HT_IS_BOOL:
    case HT_IS_WORD:
        read_words_value(reading, slot);
        break;
    default:
        read_integer(reading, slot);
    }
}
