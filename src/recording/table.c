/* table.c - the strict reader of tables of numbers. */
#include "halfturn/recording.h"

#include "cell.h"
#include "common/limits.h"
#include "common/memory.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static const size_t TABLE_BYTES_MAX = (size_t)1 << 30;

struct reader {
    struct ht_table *table;
    const char *path;
    char *bytes;
    size_t length;
    const char *at, *end; /* of what is still to be read */
    size_t line;          /* number of the line that was read last */
    size_t value_room;
    struct ht_error *err;
};

static enum ht_status load(struct reader *reader)
{
    struct stat known;
    if (stat(reader->path, &known) == 0 && !S_ISREG(known.st_mode) &&
        !S_ISDIR(known.st_mode)) /* opening a pipe could wait for ever */
        return ht_fail(reader->err, HT_CANNOT_READ,
                       "%s: this is a pipe or a device. Save the table as a "
                       "file.", reader->path);
    FILE *file = fopen(reader->path, "rb");
    if (!file)
        return ht_fail(reader->err, HT_CANNOT_READ, "%s: %s", reader->path,
                       strerror(errno));
    enum ht_status status = HT_OK;
    if (fstat(fileno(file), &known) != 0 || S_ISDIR(known.st_mode))
        status = ht_fail(reader->err, HT_CANNOT_READ,
                         "%s: this is a folder, not a table.", reader->path);
    else if (known.st_size == 0)
        status = ht_fail(reader->err, HT_BAD_FILE, "%s: the file is empty.",
                         reader->path);
    else if ((size_t)known.st_size > TABLE_BYTES_MAX)
        status = ht_fail(reader->err, HT_TOO_BIG,
                         "%s: the table has %.0f MB; %zu MB are read.",
                         reader->path, (double)known.st_size / 1e6,
                         TABLE_BYTES_MAX >> 20);
    else if (!(reader->bytes = ht_allocate((size_t)known.st_size + 1, 1)))
        status = ht_fail(reader->err, HT_NO_MEMORY, "%s: out of memory",
                         reader->path);
    if (status == HT_OK)
        reader->length =
            fread(reader->bytes, 1, (size_t)known.st_size, file);
    (void)fclose(file);
    return status;
}

/* The next line that is neither blank nor a comment. */
static bool next_line(struct reader *reader, const char **from,
                      const char **to)
{
    while (reader->at < reader->end) {
        const char *start = reader->at;
        const char *stop =
            memchr(start, '\n', (size_t)(reader->end - start));
        if (!stop)
            stop = reader->end;
        reader->at = stop < reader->end ? stop + 1 : stop;
        reader->line++;
        const char *first = start;
        while (first < stop &&
               (*first == ' ' || *first == '\t' || *first == '\r'))
            first++;
        if (first == stop || *first == '#')
            continue;
        *from = start;
        *to = stop;
        return true;
    }
    return false;
}

static void rewind_reader(struct reader *reader)
{
    reader->at = reader->bytes;
    reader->end = reader->bytes + reader->length;
    reader->line = 0;
    if (reader->length >= 3 && memcmp(reader->bytes, "\xef\xbb\xbf", 3) == 0)
        reader->at += 3;
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

/* Separator from the first line, decimal mark from the first line of
 * numbers, names from the first line when it holds words. */
static enum ht_status find_layout(struct reader *reader, char decimal)
{
    struct ht_table *table = reader->table;
    const char *from, *to, *second, *second_end;
    rewind_reader(reader);
    if (!next_line(reader, &from, &to))
        return ht_fail(reader->err, HT_BAD_FILE,
                       "%s: there are no rows in it.", reader->path);
    if ((size_t)(to - from) > HT_TABLE_LINE_BYTES_MAX)
        return ht_fail_at(reader->err, HT_BAD_FILE, reader->line, 0,
                          "%s, line %zu: longer than %d characters. Is this a "
                          "table of numbers?",
                          reader->path, reader->line, HT_TABLE_LINE_BYTES_MAX);
    bool named = count_of(CELL_WORDS, from, to, ';', ',') > 0 &&
                 count_of(CELL_WORDS, from, to, find_separator(from, to),
                          '.') > 0;
    if (!named || !next_line(reader, &second, &second_end)) {
        second = from;
        second_end = to;
    }
    table->separator = find_separator(second, second_end);
    table->decimal = decimal ? decimal : '.';
    if (!decimal && table->separator != ',' &&
        count_of(CELL_WORDS, second, second_end, table->separator, ',') <
            count_of(CELL_WORDS, second, second_end, table->separator, '.'))
        table->decimal = ',';
    table->columns = count_cells(from, to, table->separator);
    rewind_reader(reader);
    return HT_OK;
}

static enum ht_status read_names(struct reader *reader)
{
    struct ht_table *table = reader->table;
    const char *from, *to;
    struct cell cell;
    bool more = true;
    if (table->columns > HT_TABLE_COLUMNS_MAX)
        return ht_fail(reader->err, HT_TOO_BIG,
                       "%s: %zu columns; %d are read.", reader->path,
                       table->columns, HT_TABLE_COLUMNS_MAX);
    table->name = ht_allocate(table->columns, sizeof *table->name);
    if (!table->name)
        return ht_fail(reader->err, HT_NO_MEMORY, "%s: out of memory",
                       reader->path);
    if (!next_line(reader, &from, &to))
        return HT_OK;
    if (count_of(CELL_WORDS, from, to, table->separator, table->decimal) ==
        0) {
        rewind_reader(reader); /* no names: the first line is a row */
        return HT_OK;
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
    const char *head = table->name[0][0] ? "the header has" : "line 1 has";
    bool commas = table->separator == ',' && found > table->columns;
    return ht_fail_at(
        reader->err, HT_BAD_FILE, reader->line, 0,
        "%s, line %zu: %zu values, %s %zu. %s", reader->path, reader->line,
        found, head, table->columns,
        commas ? "Is a comma used as the decimal mark? Write semicolons "
                 "between the values."
               : "Is the file complete?");
}

static enum ht_status bad_cell(const struct reader *reader,
                               const struct cell *cell, size_t column,
                               enum cell_kind kind)
{
    const char *name = reader->table->name[column];
    int length = (int)(cell->length < 40 ? cell->length : 40);
    return ht_fail_at(
        reader->err, HT_BAD_FILE, reader->line, 0,
        "%s, line %zu: '%.*s' in column %zu%s%s%s is not a number%s",
        reader->path, reader->line, length, cell->text, column + 1,
        *name ? " (" : "", name, *name ? ")" : "",
        kind == CELL_NOT_FINITE
            ? " to work with. Leave the cell empty where nothing was measured."
        : reader->table->decimal == '.' && memchr(cell->text, ',',
                                                  cell->length)
            ? ". Write a decimal point, or give the decimal mark."
            : ". Delete the line, or leave the cell empty.");
}

static enum ht_status read_row(struct reader *reader, const char *from,
                               const char *to)
{
    struct ht_table *table = reader->table;
    if ((table->rows + 1) * table->columns > reader->value_room &&
        !ht_grow((void **)&table->value, &reader->value_room,
                 (table->rows + 1) * table->columns, sizeof *table->value))
        return ht_fail(reader->err, HT_NO_MEMORY, "%s: out of memory",
                       reader->path);
    double *row = table->value + table->rows * table->columns;
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
    if (count != table->columns)
        return bad_count(reader, count);
    if (table->rows++ == 0)
        table->first_row_line = reader->line;
    return HT_OK;
}

static enum ht_status read_rows(struct reader *reader)
{
    const char *from, *to;
    enum ht_status status = HT_OK;
    while (status == HT_OK && next_line(reader, &from, &to)) {
        if (reader->table->rows == HT_TABLE_ROWS_MAX)
            return ht_fail(reader->err, HT_TOO_BIG,
                           "%s: more than %d rows. Cut out the drive.",
                           reader->path, HT_TABLE_ROWS_MAX);
        status = read_row(reader, from, to);
    }
    if (status == HT_OK && reader->table->rows == 0)
        status = ht_fail(reader->err, HT_BAD_FILE,
                         "%s: there is a header and no row of numbers.",
                         reader->path);
    return status;
}

enum ht_status ht_table_read(struct ht_table *table, const char *path,
                             char decimal, struct ht_error *err)
{
    struct reader reader = { .table = table, .path = path, .err = err };
    *table = (struct ht_table){ 0 };
    enum ht_status status = load(&reader);
    if (status == HT_OK && reader.length > 0 &&
        memchr(reader.bytes, '\0', reader.length))
        status = ht_fail(err, HT_BAD_FILE,
                         "%s: this is not text. Wanted: a table of numbers.",
                         path);
    if (status == HT_OK)
        status = find_layout(&reader, decimal);
    if (status == HT_OK)
        status = read_names(&reader);
    if (status == HT_OK)
        status = read_rows(&reader);
    ht_release(reader.bytes);
    if (status != HT_OK)
        ht_table_free(table);
    return status;
}

void ht_table_free(struct ht_table *table)
{
    ht_release(table->name);
    ht_release(table->value);
    ht_release(table->memory);
    *table = (struct ht_table){ 0 };
}
