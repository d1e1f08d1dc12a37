#include "lines.h"

#include "markup.h"

#include <stdbool.h>
#include <string.h>

static bool is_nbsp(const char *p)
{
    return (unsigned char)p[0] == 0xC2 && (unsigned char)p[1] == 0xA0;
}

/* Columns of the first `length` bytes: code points without marks. */
static size_t count_columns(const char *text, size_t length)
{
    size_t columns = 0;
    for (size_t i = 0; i < length; i++)
        columns += ((unsigned char)text[i] & 0xC0) != 0x80 &&
                   (unsigned char)text[i] >= 0x20;
    return columns;
}

static void put_plain(struct ht_text *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        if (i + 1 < length && is_nbsp(text + i)) {
            ht_text_add(out, " ");
            i++;
        } else if ((unsigned char)text[i] >= 0x20) {
            ht_text_add_bytes(out, text + i, 1);
        }
    }
}

static void put_blanks(struct ht_text *out, size_t count)
{
    while (count--)
        ht_text_add(out, " ");
}

static void wrap(struct ht_text *out, const char *lead, const char *text,
                 size_t length)
{
    size_t indent = count_columns(lead, strlen(lead)), column = indent;
    bool first = true;
    ht_text_add(out, lead);
    for (size_t i = 0; i < length;) {
        size_t word = 0;
        while (i + word < length && text[i + word] != ' ')
            word++;
        size_t columns = count_columns(text + i, word);
        if (!first && column + 1 + columns > LINE_COLUMNS) {
            ht_text_add(out, "\n");
            put_blanks(out, indent);
            column = indent;
        } else if (!first && word) {
            ht_text_add(out, " ");
            column++;
        }
        put_plain(out, text + i, word);
        column += columns;
        first = first && word == 0;
        i += word;
        while (i < length && text[i] == ' ')
            i++;
    }
    ht_text_add(out, "\n");
}

void put_paragraph(struct ht_text *out, const char *lead, const char *text)
{
    if (*text)
        wrap(out, lead, text, strlen(text));
}

void put_list(struct ht_text *out, const char *heading, const char *lines)
{
    if (!*lines)
        return;
    ht_text_addf(out, "\n%s\n", heading);
    for (const char *p = lines; *p;) {
        size_t length = strcspn(p, "\n");
        wrap(out, "  - ", p, length);
        p += length + (p[length] == '\n');
    }
}

/* ---- tables ------------------------------------------------------------ */

void table_cell(struct table *table, const char *text)
{
    put_plain(&table->cells, text, strlen(text));
    ht_text_add(&table->cells, "\n");
}

void table_take(struct table *table, struct ht_text *text)
{
    table_cell(table, ht_text_get(text));
    ht_text_end(&table->cells, text);
}

static void measure(const struct table *table, size_t columns, size_t *width)
{
    size_t at = 0;
    for (const char *p = ht_text_get(&table->cells); *p; at++) {
        size_t length = strcspn(p, "\n");
        size_t wide = count_columns(p, length);
        if (wide > width[at % columns])
            width[at % columns] = wide;
        p += length + 1;
    }
}

static size_t sum_of(const size_t *width, size_t columns)
{
    size_t sum = 0;
    for (size_t i = 0; i < columns; i++)
        sum += width[i] + 2;
    return sum;
}

/* Where a cell of the last column may go on in a line of its own: behind its
 * first comma. */
static size_t head_length(const char *cell, size_t length)
{
    for (size_t i = 0; i + 1 < length; i++)
        if (cell[i] == ',' && cell[i + 1] == ' ')
            return i + 1;
    return length;
}

static size_t broken_width(const struct table *table, size_t columns)
{
    size_t at = 0, width = 0;
    for (const char *p = ht_text_get(&table->cells); *p; at++) {
        size_t length = strcspn(p, "\n"), head = head_length(p, length);
        size_t behind = head < length ? count_columns(p + head + 1,
                                                      length - head - 1)
                                      : 0;
        size_t first = count_columns(p, head);
        size_t wide = first > behind ? first : behind;
        if (at % columns == columns - 1 && wide > width)
            width = wide;
        p += length + 1;
    }
    return width;
}

/* Until the table fits: the last column breaks, then the one marked 'c' gives
 * way. Says whether the last one breaks. */
static bool make_fit(const struct table *table, size_t columns, size_t *width)
{
    enum { CUT_LEAST = 8 };
    bool breaks = sum_of(width, columns) > LINE_COLUMNS;
    if (breaks)
        width[columns - 1] = broken_width(table, columns);
    for (size_t i = 0; i < columns; i++)
        while (table->align[i] == 'c' && width[i] > CUT_LEAST &&
               sum_of(width, columns) > LINE_COLUMNS)
            width[i]--;
    return breaks;
}

static size_t cut_length(const char *cell, size_t length, size_t width)
{
    size_t cut = 0;
    for (size_t columns = 0; cut < length; cut++) {
        columns += ((unsigned char)cell[cut] & 0xC0) != 0x80;
        if (columns == width)
            break;
    }
    return cut;
}

static void put_cell(struct ht_text *out, const char *cell, size_t length,
                     size_t width, char align)
{
    size_t columns = count_columns(cell, length);
    if (columns > width) {
        ht_text_add_bytes(out, cell, cut_length(cell, length, width));
        ht_text_add(out, "\342\200\246");
        return;
    }
    if (align == 'r')
        put_blanks(out, width - columns);
    ht_text_add_bytes(out, cell, length);
    if (align != 'r')
        put_blanks(out, width - columns);
}

static void trim_line(struct ht_text *out)
{
    while (out->length && out->bytes[out->length - 1] == ' ')
        out->bytes[--out->length] = '\0';
    ht_text_add(out, "\n");
}

static void write_rows(struct ht_text *out, const struct table *table)
{
    size_t columns = strlen(table->align), at = 0;
    size_t width[TABLE_COLUMNS_MAX] = { 0 };
    measure(table, columns, width);
    bool breaks = make_fit(table, columns, width);
    for (const char *p = ht_text_get(&table->cells); *p; at++) {
        size_t length = strcspn(p, "\n"), column = at % columns;
        bool is_last = column + 1 == columns;
        size_t head = breaks && is_last ? head_length(p, length) : length;
        put_blanks(out, 2);
        put_cell(out, p, head, width[column], table->align[column]);
        if (is_last)
            trim_line(out);
        if (head < length) {
            put_blanks(out, sum_of(width, columns - 1) + 2);
            put_cell(out, p + head + 1, length - head - 1, width[column], 'l');
            trim_line(out);
        }
        p += length + 1;
    }
}

/* Out of memory, the last cell may lack its end. */
void table_write(struct ht_text *out, struct table *table)
{
    if (ht_text_ok(&table->cells))
        write_rows(out, table);
    ht_text_end(out, &table->cells);
}
