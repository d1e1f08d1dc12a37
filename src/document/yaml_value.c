#include "yaml_value.h"

#include "halfturn/number.h"

#include <string.h>

enum { COLUMNS = 80 };

void ht_yaml_number(struct ht_text *out, double value, const struct unit *unit)
{
    char buffer[64] = "?";
    for (int digits = 1; digits <= 17; digits++) {
        double read;
        ht_format_significant(buffer, sizeof buffer, value, digits);
        char *point = strchr(buffer, '.');
        size_t length = strlen(buffer);
        if (point && !strchr(buffer, 'e')) {
            while (buffer[length - 1] == '0')
                buffer[--length] = '\0';
            if (buffer[length - 1] == '.')
                buffer[--length] = '\0';
        }
        if (ht_number_read(buffer, length, &read) == HT_NUMBER_FINE &&
            ht_quantity_to_si(read, unit) == ht_quantity_to_si(value, unit))
            break;
    }
    ht_text_add(out, buffer);
}

static bool is_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           (c >= '0' && c <= '9') || c == '_';
}

/* Letters, digits and a few marks that mean nothing to YAML inside a text. */
static bool is_bare(const char *text)
{
    size_t length = strlen(text);
    if (!length || !is_word(text[0]) || text[length - 1] == ' ')
        return false;
    for (size_t i = 0; i < length; i++)
        if (!is_word(text[i]) && !strchr(" ./+()-", text[i]))
            return false;
    return true;
}

/* Length of a UTF-8 character that YAML does not take as it is, or 0: C1
 * controls, line and paragraph separator, the byte order mark, the two
 * non-characters (YAML 1.1, 5.1). */
static size_t not_printed(const char *text, unsigned *code)
{
    const unsigned char *p = (const unsigned char *)text;
    if (p[0] < 0x20 || p[0] == 0x7f) {
        *code = p[0];
        return 1;
    }
    if (p[0] == 0xc2 && p[1] < 0xa0) {
        *code = p[1];
        return 2;
    }
    if ((p[0] & 0xf0) != 0xe0 || !p[1])
        return 0;
    *code = (p[0] & 0x0fu) << 12 | (p[1] & 0x3fu) << 6 | (p[2] & 0x3fu);
    return *code == 0x2028 || *code == 0x2029 || *code == 0xfeff ||
                   *code >= 0xfffe
               ? 3
               : 0;
}

void ht_yaml_text(struct ht_text *out, const char *text)
{
    if (is_bare(text)) {
        ht_text_add(out, text);
        return;
    }
    ht_text_add(out, "\"");
    while (*text) {
        unsigned code = 0;
        size_t length = not_printed(text, &code);
        if (length)
            ht_text_addf(out, "\\u%04x", code);
        else if (*text == '"' || *text == '\\')
            ht_text_addf(out, "\\%c", *text);
        else
            ht_text_add_bytes(out, text, 1);
        text += length ? length : 1;
    }
    ht_text_add(out, "\"");
}

const struct unit *ht_yaml_unit(const struct ht_row *row,
                                const struct unit *same)
{
    return row->quantity == HT_QUANTITY_SAME
               ? same
               : &ht_quantity_of(row->quantity)->unit[0];
}

static void put_value(struct ht_text *out, const struct ht_row *row,
                      const json_t *value, const struct unit *unit);

static const struct ht_row *row_of(const struct ht_schema *schema,
                                   const char *key)
{
    for (size_t r = 0; schema && r < schema->row_count; r++)
        if (strcmp(schema->rows[r].key, key) == 0)
            return &schema->rows[r];
    return NULL;
}

/* A mapping by its schema, or one of any names to numbers. */
static void put_member(struct ht_text *out, const struct ht_row *row,
                       const char *key, const json_t *value,
                       const struct unit *unit)
{
    const struct ht_row *inner = row_of(row->child, key);
    ht_yaml_text(out, key);
    ht_text_add(out, ": ");
    put_value(out, inner ? inner : row, value,
              inner ? ht_yaml_unit(inner, unit) : unit);
}

static void put_map(struct ht_text *out, const struct ht_row *row,
                    const json_t *value, const struct unit *unit)
{
    const char *key, *between = "{";
    json_t *member;
    json_object_foreach ((json_t *)value, key, member) {
        ht_text_add(out, between);
        put_member(out, row, key, member, unit);
        between = ", ";
    }
    ht_text_add(out, json_object_size(value) ? "}" : "{}");
}

static void put_list(struct ht_text *out, const struct ht_row *row,
                     const json_t *value, const struct unit *unit)
{
    size_t count = json_array_size(value);
    ht_text_add(out, "[");
    for (size_t i = 0; i < count; i++) {
        ht_text_add(out, i ? ", " : "");
        put_value(out, row, json_array_get(value, i), unit);
    }
    ht_text_add(out, "]");
}

/* A reading taken once is a number, not a list of one. */
static const json_t *only_one(const struct ht_row *row, const json_t *value)
{
    return row->kind == HT_IS_MAPS && json_array_size(value) == 1
               ? json_array_get(value, 0)
               : value;
}

static void put_value(struct ht_text *out, const struct ht_row *row,
                      const json_t *value, const struct unit *unit)
{
    if (json_is_number(value))
        ht_yaml_number(out, json_number_value(value), unit);
    else if (json_is_string(value))
        ht_yaml_text(out, json_string_value(value));
    else if (json_is_object(value))
        put_map(out, row, value, unit);
    else if (json_is_array(value))
        put_list(out, row, value, unit);
    else
        ht_text_add(out, json_is_null(value) ? "~" : "?");
}

void ht_yaml_flow(struct ht_text *out, const struct ht_row *row,
                  const json_t *value, const struct unit *unit,
                  size_t column, size_t indent)
{
    size_t count = json_is_array(value) ? json_array_size(value) : 0;
    if (count == 0) {
        put_value(out, row, value, unit);
        return;
    }
    column++;
    ht_text_add(out, "[");
    for (size_t i = 0; i < count; i++) {
        struct ht_text item = { 0 };
        put_value(&item, row, only_one(row, json_array_get(value, i)), unit);
        ht_text_add(out, i ? "," : "");
        if (i && column + 2 + item.length >= COLUMNS) {
            ht_text_addf(out, "\n%*s", (int)indent, "");
            column = indent;
        } else if (i) {
            ht_text_add(out, " ");
            column += 2;
        }
        ht_text_add_bytes(out, ht_text_get(&item), item.length);
        column += item.length;
        ht_text_end(out, &item);
    }
    ht_text_add(out, "]");
}
