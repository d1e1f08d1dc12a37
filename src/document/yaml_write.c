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
        ht_text_addf(text, "%s%s", between, w->text);
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

/* Comment lines of their own, wrapped. */
static void put_prose(struct ht_text *out, const char *text, size_t indent)
{
    size_t column = COLUMNS;
    bool first = true;
    while (*text) {
        size_t length = strcspn(text, " ");
        if (column + 1 + length > COLUMNS) {
            ht_text_addf(out, "%s%*s#", first ? "" : "\n", (int)indent, "");
            column = indent + 1;
        }
        ht_text_add(out, " ");
        ht_text_add_bytes(out, text, length);
        column += 1 + length;
        first = false;
        text += length + strspn(text + length, " ");
    }
    if (!first)
        ht_text_add(out, "\n");
}

/* A line with its comment behind it where both fit, else above it. */
static void put_line(const struct level *level, const struct ht_text *line,
                     const char *comment)
{
    const char *text = ht_text_get(line);
    bool many = strchr(text, '\n') != NULL;
    size_t columns = count_columns(text), help = count_columns(comment);
    size_t at = columns + 2 > COMMENT_COLUMN ? columns + 2 : COMMENT_COLUMN;
    if (!help)
        ht_text_addf(level->out, "%s\n", text);
    else if (!many && at + 2 + help <= COLUMNS)
        ht_text_addf(level->out, "%s%*s# %s\n", text, (int)(at - columns), "",
                     comment);
    else {
        put_prose(level->out, comment, level->indent);
        ht_text_addf(level->out, "%s\n", text);
    }
    if (line->failed)
        ht_text_fail(level->out);
}

/* A line of this level: "  key: value", or "#  key:" when it is not said. */
static void start_line(struct ht_text *line, const struct level *level,
                       const char *key, bool said)
{
    ht_text_addf(line, "%s%*s%s:", said ? "" : "#", (int)level->indent, "",
                 key);
}

/* The sections at the top are set apart and begin with their paragraph. */
static void put_heading(const struct level *level, const struct ht_row *row,
                        bool said)
{
    struct ht_text line = { 0 }, help = { 0 };
    bool section = level->indent == 0;
    if (section) {
        ht_text_add(level->out, "\n");
        put_prose(level->out, row->child->help ? row->child->help : row->help,
                  0);
    } else
        ht_text_add(&help, row->help ? row->help : "");
    start_line(&line, level, row->key, said);
    put_line(level, &line, ht_text_get(&help));
    ht_text_free(&line);
    ht_text_end(level->out, &help);
}

static void put_inside(const struct level *level, const struct ht_row *row,
                       const json_t *object)
{
    put_level(&(struct level){ level->out, row->child, object,
                               ht_yaml_unit(row, level->unit),
                               level->indent + 2 });
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
    struct ht_text line = { 0 }, help = { 0 };
    start_line(&line, level, row->key, true);
    ht_text_add(&line, " ");
    ht_yaml_flow(&line, row, value, ht_yaml_unit(row, level->unit),
                 line.length, level->indent + 4);
    add_help(&help, row);
    put_line(level, &line, ht_text_get(&help));
    ht_text_free(&line);
    ht_text_end(level->out, &help);
}

static void put_said(const struct level *level, const struct ht_row *row,
                     const json_t *value)
{
    bool mapping = row->kind == HT_IS_MAP;
    if (mapping && json_object_size(value) == 0 && json_is_object(value)) {
        put_plain(level, row, value);
    } else if (mapping) {
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
    struct ht_text line = { 0 }, help = { 0 };
    bool list = row->kind == HT_IS_MAPS;
    if (said_otherwise(level, row) || (list && (row->flags & HT_READ_ONLY)))
        return;
    if (row->kind == HT_IS_MAP || (list && level->indent == 0)) {
        put_heading(level, row, false);
        put_inside(level, row, NULL);
        return;
    }
    start_line(&line, level, row->key, false);
    add_help(&help, row);
    put_line(level, &line, ht_text_get(&help));
    ht_text_free(&line);
    ht_text_end(level->out, &help);
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
    struct ht_text yaml = { 0 }, discarded = { 0 };
    struct ht_json *json = ht_json_create();
    ht_json_rows(json, ht_sheet_schema(), sheet);
    struct level top = { &yaml, ht_sheet_schema(), json ? json->open[0] : NULL,
                         &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0], 0 };
    if (json && json->error.status == HT_OK)
        put_level(&top);
    enum ht_status status = ht_json_finish(json, &discarded, err);
    if (status == HT_OK && ht_text_ok(&yaml))
        ht_text_add_bytes(out, ht_text_get(&yaml), yaml.length);
    if (status == HT_OK && (!ht_text_ok(&yaml) || !ht_text_ok(out)))
        status = ht_fail(err, DOCUMENT_WRITE_NO_MEMORY);
    ht_text_free(&yaml);
    ht_text_free(&discarded);
    return status;
}
