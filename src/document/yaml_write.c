/* The sheet as YAML that a person goes on editing: what is said, with the
 * table's help beside it; what is not said as keys behind a '#'. */
#include "json.h"
#include "texts.h"
#include "yaml_value.h"

#include "halfturn/sheet.h"

#include <string.h>

enum { COLUMNS = 80, COMMENT_COLUMN = 30 };

/* One mapping on its way out. */
struct level {
    struct ht_text *out;
    const struct ht_schema *schema;
    const json_t *object;   /* NULL: not said */
    const struct unit *unit;
    size_t indent;
    struct ht_text *line, *help; /* for one key at a time */
};

static void put_level(const struct level *level);

/* What a row means: its help, and the words it takes. */
static void add_help(struct ht_text *text, const struct ht_row *row)
{
    const char *between = " (";
    ht_text_add(text, row->help ? row->help : "");
    for (const struct ht_word *w = row->words; w && w->text; w++) {
        bool again = false;
        for (const struct ht_word *o = row->words; o < w; o++)
            again = again || o->value == w->value;
        if (again)
            continue;
        ht_text_add(text, between);
        ht_text_add(text, w->text);
        between = ", ";
    }
    ht_text_add(text, row->words ? ")" : "");
    if (row->kind != HT_IS_MAPS || !row->child || row->child->bare)
        return;
    between = ". Each: {";
    for (size_t r = 0; r < row->child->row_count; r++) {
        ht_text_addf(text, "%s%s", between, row->child->rows[r].key);
        between = ", ";
    }
    ht_text_add(text, "}");
}

static size_t count_columns(const char *text)
{
    size_t columns = 0;
    for (; *text; text++)
        columns += ((unsigned char)*text & 0xc0) != 0x80;
    return columns;
}

static void put_spaces(struct ht_text *out, size_t count)
{
    static const char spaces[] = "                                        ";
    for (; count > sizeof spaces - 1; count -= sizeof spaces - 1)
        ht_text_add(out, spaces);
    ht_text_add_bytes(out, spaces, count);
}

/* As many words as fit; behind them stands a space or the end. */
static size_t length_that_fits(const char *text, size_t room)
{
    size_t fits = strcspn(text, " ");
    while (text[fits] == ' ') {
        size_t next = fits + 1 + strcspn(text + fits + 1, " ");
        if (next > room)
            break;
        fits = next;
    }
    return fits;
}

/* Comment lines of their own, wrapped. */
static void put_prose(struct ht_text *out, const char *text, size_t indent)
{
    while (*text) {
        size_t length = length_that_fits(text, COLUMNS - indent - 2);
        put_spaces(out, indent);
        ht_text_add(out, "# ");
        ht_text_add_bytes(out, text, length);
        ht_text_add(out, "\n");
        text += length;
        text += strspn(text, " ");
    }
}

/* A line with its comment behind it where both fit, else above it. */
static void put_line(const struct level *level)
{
    const char *text = ht_text_get(level->line);
    const char *comment = ht_text_get(level->help);
    bool many = strchr(text, '\n') != NULL;
    size_t columns = count_columns(text), help = count_columns(comment);
    size_t at = columns + 2 > COMMENT_COLUMN ? columns + 2 : COMMENT_COLUMN;
    bool beside = help && !many && at + 2 + help <= COLUMNS;
    if (help && !beside)
        put_prose(level->out, comment, level->indent);
    ht_text_add(level->out, text);
    if (beside) {
        put_spaces(level->out, at - columns);
        ht_text_add(level->out, "# ");
        ht_text_add(level->out, comment);
    }
    ht_text_add(level->out, "\n");
    if (level->line->failed || level->help->failed)
        ht_text_fail(level->out);
}

static void empty(struct ht_text *text)
{
    text->length = 0;
    ht_text_add(text, "");
}

/* A line of this level: "  key: value", or "#  key:" when it is not said. */
static void start_line(const struct level *level, const char *key, bool said)
{
    empty(level->line);
    empty(level->help);
    ht_text_add(level->line, said ? "" : "#");
    put_spaces(level->line, level->indent);
    ht_text_add(level->line, key);
    ht_text_add(level->line, ":");
}

/* The sections at the top are set apart and begin with their paragraph. */
static void put_heading(const struct level *level, const struct ht_row *row,
                        bool said)
{
    bool section = level->indent == 0;
    start_line(level, row->key, said);
    if (section) {
        ht_text_add(level->out, "\n");
        put_prose(level->out, row->child->help ? row->child->help : row->help,
                  0);
    } else
        ht_text_add(level->help, row->help ? row->help : "");
    put_line(level);
}

static void put_inside(const struct level *level, const struct ht_row *row,
                       const json_t *object)
{
    put_level(&(struct level){ level->out, row->child, object,
                               ht_yaml_unit(row, level->unit),
                               level->indent + 2, level->line, level->help });
}

/* A mapping that JSON writes as its bare value, with its key again. */
static void put_bare(const struct level *level, const struct ht_row *row,
                     const json_t *value)
{
    json_t *object = json_object();
    if (!object ||
        json_object_set(object, row->child->bare, (json_t *)value) != 0)
        ht_text_fail(level->out);
    else
        put_inside(level, row, object);
    json_decref(object);
}

static void put_item(const struct level *level, const struct ht_row *row,
                     const json_t *item)
{
    const char *lead = "- ";
    for (size_t r = 0; r < row->child->row_count; r++) {
        const struct ht_row *inner = &row->child->rows[r];
        const json_t *value = json_object_get(item, inner->key);
        struct ht_text line = { 0 };
        if (!value)
            continue;
        ht_text_addf(&line, "%*s%s%s: ", (int)level->indent + 2, "", lead,
                     inner->key);
        ht_yaml_flow(&line, inner, value,
                     ht_yaml_unit(inner, ht_yaml_unit(row, level->unit)),
                     line.length, level->indent + 6);
        ht_text_addf(level->out, "%s\n", ht_text_get(&line));
        ht_text_end(level->out, &line);
        lead = "  ";
    }
}

/* One line for each where it fits. */
static void put_items(const struct level *level, const struct ht_row *row,
                      const json_t *list)
{
    for (size_t i = 0; i < json_array_size(list); i++) {
        const json_t *item = json_array_get(list, i);
        struct ht_text line = { 0 };
        ht_text_addf(&line, "%*s- ", (int)level->indent + 2, "");
        ht_yaml_flow(&line, row, item, ht_yaml_unit(row, level->unit), 0, 0);
        if (count_columns(ht_text_get(&line)) <= COLUMNS)
            ht_text_addf(level->out, "%s\n", ht_text_get(&line));
        else
            put_item(level, row, item);
        ht_text_end(level->out, &line);
    }
}

static bool all_objects(const json_t *list)
{
    size_t count = json_array_size(list);
    for (size_t i = 0; i < count; i++)
        if (!json_is_object(json_array_get(list, i)))
            return false;
    return count > 0;
}

static void put_plain(const struct level *level, const struct ht_row *row,
                      const json_t *value)
{
    start_line(level, row->key, true);
    ht_text_add(level->line, " ");
    ht_yaml_flow(level->line, row, value, ht_yaml_unit(row, level->unit),
                 level->line->length, level->indent + 4);
    add_help(level->help, row);
    put_line(level);
}

static void put_said(const struct level *level, const struct ht_row *row,
                     const json_t *value)
{
    bool empty = json_is_object(value) && json_object_size(value) == 0;
    if (row->kind == HT_IS_MAP && !empty) {
        put_heading(level, row, true);
        if (json_is_object(value))
            put_inside(level, row, value);
        else
            put_bare(level, row, value);
    } else if (row->kind == HT_IS_MAPS && all_objects(value)) {
        const json_t *only = json_array_get(value, 0);
        put_heading(level, row, true);
        if (json_array_size(value) == 1 && (row->flags & HT_OR_ONE) &&
            json_object_size(only) > 0)
            put_inside(level, row, only);
        else
            put_items(level, row, value);
    } else
        put_plain(level, row, value);
}

/* Rows of one group say the same thing: one of them is enough. */
static bool said_otherwise(const struct level *level, const struct ht_row *row)
{
    for (size_t r = 0; row->group && r < level->schema->row_count; r++) {
        const struct ht_row *other = &level->schema->rows[r];
        if (other->group == row->group && json_object_get(level->object,
                                                          other->key))
            return true;
    }
    return false;
}

static void put_not_said(const struct level *level, const struct ht_row *row)
{
    bool list = row->kind == HT_IS_MAPS;
    if (said_otherwise(level, row) || (list && (row->flags & HT_READ_ONLY)))
        return;
    if (row->kind == HT_IS_MAP || (list && level->indent == 0)) {
        put_heading(level, row, false);
        put_inside(level, row, NULL);
        return;
    }
    start_line(level, row->key, false);
    add_help(level->help, row);
    put_line(level);
}

static void put_level(const struct level *level)
{
    for (size_t r = 0; r < level->schema->row_count; r++) {
        const struct ht_row *row = &level->schema->rows[r];
        const json_t *value = json_object_get(level->object, row->key);
        if (value)
            put_said(level, row, value);
        else
            put_not_said(level, row);
    }
}

enum ht_status ht_sheet_write_yaml(struct ht_text *out,
                                   const struct ht_sheet *sheet,
                                   struct ht_error *err)
{
    struct ht_text yaml = { 0 }, line = { 0 }, help = { 0 };
    struct ht_json *json = ht_json_create();
    ht_json_rows(json, ht_sheet_schema(), sheet);
    struct level top = { &yaml, ht_sheet_schema(), json ? json->open[0] : NULL,
                         &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0], 0,
                         &line, &help };
    if (json && json->error.status == HT_OK)
        put_level(&top);
    enum ht_status status = ht_json_end(json, err);
    if (status == HT_OK && ht_text_ok(&yaml))
        ht_text_add_bytes(out, ht_text_get(&yaml), yaml.length);
    if (status == HT_OK && (!ht_text_ok(&yaml) || !ht_text_ok(out)))
        status = ht_fail(err, DOCUMENT_WRITE_NO_MEMORY);
    ht_text_free(&yaml);
    ht_text_free(&line);
    ht_text_free(&help);
    return status;
}
