/* The reference page of a schema, as Markdown. */
#include "quantity.h"
#include "texts.h"

#include <string.h>

static const char *kind_text(const struct ht_row *row)
{
    static const char *const texts[HT_KINDS] = {
        [HT_IS_NUMBER] = "number",
        [HT_IS_COUNT] = "whole number",
        [HT_IS_UNSIGNED] = "whole number",
        [HT_IS_INT] = "whole number",
        [HT_IS_BOOL] = "yes or no",
        [HT_IS_WORD] = "word",
        [HT_IS_WORD_SET] = "words",
        [HT_IS_TEXT] = "text",
        [HT_IS_CHARS] = "text",
        [HT_IS_NUMBERS] = "numbers",
        [HT_IS_NUMBER_ARRAY] = "numbers",
        [HT_IS_WORDS] = "list of words",
        [HT_IS_TEXTS] = "list of texts",
        [HT_IS_CHARS_ARRAY] = "list of texts",
        [HT_IS_TEXT_ARRAY] = "list of texts",
        [HT_IS_MAP] = "mapping",
        [HT_IS_MAPS] = "list of mappings",
        [HT_IS_MAP_ARRAY] = "list of mappings",
        [HT_IS_NAMED] = "names to numbers",
        [HT_IS_NAMED_LISTS] = "names to numbers",
    };
    if ((row->flags & HT_WHOLE) && row->kind == HT_IS_NUMBER)
        return "whole number";
    if (row->words == ht_words_yes_no)
        return "yes or no";
    if (row->kind == HT_IS_TEXT && row->words)
        return "word";
    if (row->flags & HT_OR_ONE)
        return "mapping, or list of mappings";
    return texts[row->kind];
}

/* A bar would end the cell. */
static void cell(struct ht_text *out, const char *text)
{
    for (; *text; text++) {
        if (*text == '|')
            ht_text_add(out, "\\");
        ht_text_add_bytes(out, text, 1);
    }
}

static void write_kind(struct ht_text *out, const struct ht_row *row)
{
    const char *kind = kind_text(row);
    bool is_list = row->kind == HT_IS_NUMBERS || row->kind == HT_IS_WORDS ||
                   row->kind == HT_IS_TEXTS || row->kind == HT_IS_MAPS ||
                   row->kind == HT_IS_NUMBER_ARRAY;
    if (!is_list || !row->most)
        ht_text_add(out, kind);
    else if (row->least == row->most)
        ht_text_addf(out, DOCUMENT_PAGE_COUNT, kind, row->most);
    else if (row->least)
        ht_text_addf(out, DOCUMENT_PAGE_COUNT_RANGE, kind, row->least,
                     row->most);
    else
        ht_text_addf(out, DOCUMENT_PAGE_COUNT_MOST, kind, row->most);
}

static void write_unit(struct ht_text *out, const struct ht_row *row)
{
    const struct quantity *quantity = ht_quantity_of(row->quantity);
    char key[64];
    cell(out, quantity->unit[0].text);
    for (size_t u = 1; u < UNITS_MAX; u++)
        if (ht_quantity_key(row, u, key, sizeof key))
            ht_text_addf(out, u == 1 ? DOCUMENT_PAGE_ALSO : ", `%s`", key);
}

static void write_row(struct ht_text *out, const struct ht_row *row)
{
    ht_text_addf(out, "| `%s` | ", row->key);
    write_kind(out, row);
    ht_text_add(out, " | ");
    write_unit(out, row);
    ht_text_add(out, " | ");
    if (row->low != 0 || row->high != 0) {
        char low[64], high[64];
        ht_quantity_format(low, sizeof low, row->low);
        ht_quantity_format(high, sizeof high, row->high);
        ht_text_addf(out, DOCUMENT_PAGE_RANGE, low, high);
    }
    ht_text_add(out, " | ");
    if (row->help)
        cell(out, row->help);
    if (row->flags & HT_REQUIRED)
        ht_text_add(out, DOCUMENT_PAGE_REQUIRED);
    if (row->since > 1)
        ht_text_addf(out, DOCUMENT_PAGE_SINCE, row->since);
    ht_text_add(out, " |\n");
}

static void write_words(struct ht_text *out, const struct ht_row *row)
{
    if (!row->words || row->words == ht_words_yes_no)
        return;
    ht_text_addf(out, "\n`%s`:", row->key);
    for (const struct ht_word *w = row->words; w->text; w++) {
        bool again = false;
        for (const struct ht_word *o = row->words; o < w; o++)
            again = again || o->value == w->value;
        if (again)
            continue;
        ht_text_addf(out, "%s `%s`", w == row->words ? "" : ",", w->text);
        if (w->help)
            ht_text_addf(out, " (%s)", w->help);
    }
    ht_text_add(out, ".\n");
}

static void write_schema(struct ht_text *out, const struct ht_schema *schema,
                         const char *path, int level)
{
    ht_text_addf(out, "\n%.*s %s\n\n", level > 4 ? 4 : level, "####", path);
    if (schema->help)
        ht_text_addf(out, "%s\n\n", schema->help);
    ht_text_add(out, DOCUMENT_PAGE_HEAD);
    for (size_t r = 0; r < schema->row_count; r++)
        write_row(out, &schema->rows[r]);
    for (size_t r = 0; r < schema->row_count; r++)
        write_words(out, &schema->rows[r]);
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        struct ht_text inner = { 0 };
        if (!row->child)
            continue;
        if (level > 2)
            ht_text_addf(&inner, "%s.", path);
        ht_text_add(&inner, row->key);
        if (!ht_text_ok(&inner))
            ht_text_fail(out);
        write_schema(out, row->child, ht_text_get(&inner), level + 1);
        ht_text_free(&inner);
    }
}

void ht_schema_page(struct ht_text *out, const struct ht_schema *schema)
{
    write_schema(out, schema, schema->name, 2);
}
