/* table.c - the strict reader of tables of numbers. */
#include "halfturn/recording.h"

#include "cell.h"
#include "common/limits.h"
#include "common/memory.h"
#include "common/pages.h"
#include "lines.h"
#include "plain.h"
#include "texts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct reader {
    struct ht_table *table;
    const char *path;
    struct lines lines;
    struct plain_layout layout;
    struct plain_lines next; /* of the block that was fetched */
    bool may_be_plain;
    size_t value_room, jump_room;
    size_t row_line;      /* line of the row that was read last */
    const struct ht_ask *ask;
    struct ht_error *err;
};

static enum ht_status no_memory(const struct reader *reader)
{
    return ht_fail(reader->err, RECORDING_NO_MEMORY, reader->path);
}

static size_t count_cells(const char *from, const char *to, char separator)
{
    struct cell cell;
    bool more = true;
    size_t count = 0;
    while (ht_cell_next(&from, to, separator, &cell, &more))
        count++;
    /* a separator at the very end closes the last cell */
    return count > 1 && cell.length == 0 ? count - 1 : count;
}

static size_t count_of(enum cell_kind kind, const char *from, const char *to,
                       char separator, char decimal)
{
    struct cell cell;
    bool more = true;
    size_t count = 0;
    double value;
    while (ht_cell_next(&from, to, separator, &cell, &more))
        count += ht_cell_read(&cell, decimal, &value) == kind;
    return count;
}

static char find_separator(const char *from, const char *to)
{
    static const char candidates[] = ";\t,";
    for (const char *c = candidates; *c; c++)
        if (memchr(from, *c, (size_t)(to - from)))
            return *c;
    return ',';
}

static void find_marks(struct ht_table *table, char decimal, const char *from,
                       const char *to)
{
    table->separator = find_separator(from, to);
    table->decimal = decimal ? decimal : '.';
    if (!decimal && table->separator != ',' &&
        count_of(CELL_WORDS, from, to, table->separator, ',') <
            count_of(CELL_WORDS, from, to, table->separator, '.'))
        table->decimal = ',';
}

/* Separator from the first line, decimal mark from the first line of
 * numbers, names from the first line when it holds words. */
static enum ht_status find_layout(struct reader *reader, char decimal)
{
    struct lines *lines = &reader->lines;
    char first[HT_TABLE_LINE_BYTES_MAX]; /* reading on may move it */
    const char *from, *to;
    if (!ht_lines_next(lines, &from, &to))
        return lines->status != HT_OK
                   ? lines->status
                   : ht_fail(reader->err, RECORDING_TABLE_NO_ROWS,
                             reader->path);
    const char *first_end = first + (to - from);
    memcpy(first, from, (size_t)(to - from));
    bool named = count_of(CELL_WORDS, first, first_end, ';', ',') > 0 &&
                 count_of(CELL_WORDS, first, first_end,
                          find_separator(first, first_end), '.') > 0;
    if (!named || !ht_lines_next(lines, &from, &to)) {
        from = first;
        to = first_end;
    }
    find_marks(reader->table, decimal, from, to);
    struct ht_table *table = reader->table;
    table->columns = count_cells(first, first_end, table->separator);
    reader->layout = (struct plain_layout){ table->separator, table->decimal,
                                            table->columns };
    reader->may_be_plain = table->separator != table->decimal;
    return lines->status;
}

static enum ht_status read_names(struct reader *reader)
{
    struct ht_table *table = reader->table;
    const char *from, *to;
    struct cell cell;
    bool more = true;
    if (table->columns > HT_TABLE_COLUMNS_MAX)
        return ht_fail(reader->err, RECORDING_TABLE_COLUMNS, reader->path,
                       table->columns, HT_TABLE_COLUMNS_MAX);
    table->name = ht_allocate(table->columns, sizeof *table->name);
    if (!table->name)
        return no_memory(reader);
    if (!ht_lines_rewind(&reader->lines) ||
        !ht_lines_next(&reader->lines, &from, &to))
        return reader->lines.status;
    if (count_of(CELL_WORDS, from, to, table->separator, table->decimal) ==
        0) { /* no names: the first line is a row */
        (void)ht_lines_rewind(&reader->lines);
        return reader->lines.status;
    }
    for (size_t c = 0; c < table->columns && ht_cell_next(&from, to,
                                                          table->separator,
                                                          &cell, &more);
         c++)
        (void)snprintf(table->name[c], sizeof table->name[c], "%.*s",
                       (int)(cell.length < 63 ? cell.length : 63), cell.text);
    return HT_OK;
}

static enum ht_status bad_count(const struct reader *reader, size_t found)
{
    const struct ht_table *table = reader->table;
    struct ht_error *err = reader->err;
    const char *path = reader->path;
    size_t line = reader->lines.line, wanted = table->columns;
    bool headed = table->name[0][0] != '\0';
    bool commas = table->separator == ',' && found > wanted;
    if (commas && headed)
        return ht_fail_at_line(err, line, 0, RECORDING_VALUES_COMMAS, path,
                               line, found, wanted);
    if (commas)
        return ht_fail_at_line(err, line, 0, RECORDING_VALUES_COMMAS_FIRST,
                               path, line, found, wanted);
    if (found == 1 && headed)
        return ht_fail_at_line(err, line, 0, RECORDING_ONE_VALUE, path, line,
                               wanted);
    if (found == 1)
        return ht_fail_at_line(err, line, 0, RECORDING_ONE_VALUE_FIRST, path,
                               line, wanted);
    if (headed)
        return ht_fail_at_line(err, line, 0, RECORDING_VALUES, path, line,
                               found, wanted);
    return ht_fail_at_line(err, line, 0, RECORDING_VALUES_FIRST, path, line,
                           found, wanted);
}

static enum ht_status bad_cell(const struct reader *reader,
                               const struct cell *cell, size_t column,
                               enum cell_kind kind)
{
    struct ht_error *err = reader->err;
    const char *path = reader->path, *name = reader->table->name[column];
    size_t line = reader->lines.line, place = column + 1;
    int length = (int)(cell->length < 40 ? cell->length : 40);
    bool comma = reader->table->decimal == '.' &&
                 memchr(cell->text, ',', cell->length);
    if (kind == CELL_NOT_FINITE && *name)
        return ht_fail_at_line(err, line, 0, RECORDING_CELL_NOT_FINITE_NAMED,
                               path, line, length, cell->text, place, name);
    if (kind == CELL_NOT_FINITE)
        return ht_fail_at_line(err, line, 0, RECORDING_CELL_NOT_FINITE, path,
                               line, length, cell->text, place);
    if (comma && *name)
        return ht_fail_at_line(err, line, 0, RECORDING_CELL_COMMA_NAMED, path,
                               line, length, cell->text, place, name);
    if (comma)
        return ht_fail_at_line(err, line, 0, RECORDING_CELL_COMMA, path, line,
                               length, cell->text, place);
    if (*name)
        return ht_fail_at_line(err, line, 0, RECORDING_CELL_NAMED, path, line,
                               length, cell->text, place, name);
    return ht_fail_at_line(err, line, 0, RECORDING_CELL, path, line, length,
                           cell->text, place);
}

/* A row of any cells, by the careful way. */
static enum ht_status read_cells(struct reader *reader, double *row,
                                 const char *from, const char *to)
{
    const struct ht_table *table = reader->table;
    struct cell cell;
    bool more = true;
    size_t count = 0;
    const char *at = from;
    while (ht_cell_next(&at, to, table->separator, &cell, &more)) {
        if (count == table->columns) {
            if (cell.length == 0 && !more)
                break; /* the separator that closes the line */
            return bad_count(reader,
                             count_cells(from, to, table->separator));
        }
        enum cell_kind kind =
            ht_cell_read(&cell, table->decimal, &row[count]);
        if (kind == CELL_WORDS || kind == CELL_NOT_FINITE)
            return bad_cell(reader, &cell, count, kind);
        count++;
    }
    return count == table->columns ? HT_OK : bad_count(reader, count);
}

/* Rows in a row, from `line` on: remembers where they do not stand on one
 * line after the other. */
static enum ht_status note_rows(struct reader *reader, size_t line,
                                size_t rows)
{
    struct ht_table *table = reader->table;
    if (table->rows == 0)
        table->first_row_line = line;
    else if (line != reader->row_line + 1) {
        if (!ht_grow((void **)&table->jump, &reader->jump_room,
                     table->jumps + 1, sizeof *table->jump))
            return no_memory(reader);
        table->jump[table->jumps++] =
            (struct ht_table_jump){ table->rows, line };
    }
    table->rows += rows;
    reader->row_line = line + rows - 1;
    return HT_OK;
}

/* Room for as many rows as the lines at hand let expect: memory that is not
 * touched costs nothing, moving it does. A number takes two bytes or more. */
static enum ht_status make_room(struct reader *reader)
{
    struct ht_table *table = reader->table;
    struct lines *lines = &reader->lines;
    if (!ht_lines_more(lines))
        return lines->status;
    size_t seen = (size_t)(lines->end - lines->at), count = 0;
    for (const char *at = lines->at; at < lines->end; count++)
        at = (const char *)memchr(at, '\n', (size_t)(lines->end - at)) + 1;
    double rows = 1.02 * (double)lines->size * (double)count / (double)seen;
    double values =
        fmin(rows * (double)table->columns, (double)lines->size / 2);
    reader->value_room = (size_t)values + table->columns;
    table->value = ht_reserve(reader->value_room, sizeof *table->value);
    if (!table->value)
        return no_memory(reader);
    ht_pages_will_be_filled(table->value,
                            reader->value_room * sizeof *table->value);
    return HT_OK;
}

static double *next_row(const struct reader *reader)
{
    return reader->table->value + reader->table->rows * reader->table->columns;
}

/* Goes on behind rows of one line each. */
static enum ht_status take_rows(struct reader *reader, const char *behind,
                                size_t rows)
{
    struct lines *lines = &reader->lines;
    lines->at += behind - lines->at;
    lines->line += rows;
    return rows ? note_rows(reader, lines->line - rows + 1, rows) : HT_OK;
}

/* Blank lines, comments and rows that are not plain go the careful way. */
static enum ht_status read_row(struct reader *reader)
{
    const char *from, *to, *next = NULL;
    if (reader->may_be_plain)
        next = ht_plain_row(&reader->layout, reader->lines.at,
                            next_row(reader));
    if (next)
        return take_rows(reader, next, 1);
    if (!ht_lines_next(&reader->lines, &from, &to))
        return reader->lines.status;
    enum ht_status status = read_cells(reader, next_row(reader), from, to);
    return status == HT_OK ? note_rows(reader, reader->lines.line, 1) : status;
}

/* Beside the reading of a block: fetches the next one, and cuts it. */
static void fetch_lines(void *context)
{
    struct reader *reader = context;
    const char *from, *to;
    ht_lines_fetch(&reader->lines, &from, &to);
    ht_plain_cut(&reader->next, from, to);
}

/* Where the block that was fetched is the one at hand, it is cut already. */
static void cut_lines(struct reader *reader, struct plain_lines *cut)
{
    const struct lines *lines = &reader->lines;
    const struct plain_lines *next = &reader->next;
    if (next->pieces > 0 && next->piece[0].at == lines->at &&
        next->piece[next->pieces - 1].end == lines->end)
        *cut = *next;
    else
        ht_plain_cut(cut, lines->at, lines->end);
    reader->next.pieces = 0;
}

/* The lines at hand: most hold plain numbers and are read many at a time,
 * those behind one that does not one by one. */
static enum ht_status read_block(struct reader *reader)
{
    struct ht_table *table = reader->table;
    struct lines *lines = &reader->lines;
    struct plain_lines cut;
    cut_lines(reader, &cut);
    if (!ht_grow((void **)&table->value, &reader->value_room,
                 (table->rows + cut.lines) * table->columns,
                 sizeof *table->value))
        return no_memory(reader);
    const char *behind = lines->at;
    const struct plain_beside beside = { fetch_lines, reader };
    size_t plain = 0;
    if (reader->may_be_plain)
        plain = ht_plain_rows(&cut, &reader->layout,
                              ht_lines_can_fetch(lines) ? &beside : NULL,
                              next_row(reader), &behind);
    enum ht_status status = take_rows(reader, behind, plain);
    while (status == HT_OK && lines->at < lines->end)
        status = read_row(reader);
    return status;
}

static enum ht_status read_rows(struct reader *reader)
{
    struct ht_table *table = reader->table;
    enum ht_status status = HT_OK;
    while (status == HT_OK && ht_lines_more(&reader->lines)) {
        status = read_block(reader);
        if (status == HT_OK && table->rows > HT_TABLE_ROWS_MAX)
            return ht_fail(reader->err, RECORDING_TABLE_ROWS, reader->path,
                           HT_TABLE_ROWS_MAX);
        if (status == HT_OK && !ht_goes_on(reader->ask))
            return ht_fail(reader->err, RECORDING_STOPPED, reader->path);
    }
    if (status == HT_OK)
        status = reader->lines.status;
    if (status == HT_OK && table->rows == 0)
        status = ht_fail(reader->err, RECORDING_TABLE_ONLY_HEADER,
                         reader->path);
    return status;
}

enum ht_status ht_table_read(struct ht_table *table, const char *path,
                             char decimal, const struct ht_ask *ask,
                             struct ht_error *err)
{
    struct reader reader = { table, path, .ask = ask, .err = err };
    *table = (struct ht_table){ 0 };
    enum ht_status status = ht_lines_open(&reader.lines, path, err);
    if (status == HT_OK)
        status = find_layout(&reader, decimal);
    if (status == HT_OK)
        status = read_names(&reader);
    if (status == HT_OK)
        status = make_room(&reader);
    if (status == HT_OK)
        status = read_rows(&reader);
    ht_lines_close(&reader.lines);
    if (status != HT_OK)
        ht_table_free(table);
    return status;
}

size_t ht_table_line(const struct ht_table *table, size_t row)
{
    size_t low = 0, high = table->jumps; /* jumps at or before the row */
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (table->jump[middle].row <= row)
            low = middle + 1;
        else
            high = middle;
    }
    return low == 0 ? table->first_row_line + row
                    : table->jump[low - 1].line + row -
                          table->jump[low - 1].row;
}

void ht_table_free(struct ht_table *table)
{
    ht_release(table->name);
    ht_release(table->value);
    ht_release(table->jump);
    ht_release(table->memory);
    *table = (struct ht_table){ 0 };
}
