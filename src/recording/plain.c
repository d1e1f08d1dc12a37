#include "plain.h"

#include "common/decimal.h"
#include "common/parallel.h"
#include "signal/wide.h"

#include <string.h>

/* A thread costs as much as some hundred lines. */
enum { PIECE_BYTES_LEAST = 32 * 1024 };

const char *ht_plain_row(const struct plain_layout *layout, const char *line,
                         double *value)
{
    const char *at = line;
    for (size_t c = 0; c < layout->columns; c++) {
        while (*at == ' ')
            at++;
        at = ht_decimal_scan(at, layout->mark, &value[c]);
        if (!at)
            return NULL;
        while (*at == ' ')
            at++;
        if (c + 1 < layout->columns && *at++ != layout->separator)
            return NULL;
    }
    at += *at == '\r';
    return *at == '\n' ? at + 1 : NULL;
}

HT_WIDE static size_t count_lines(const char *from, const char *end)
{
    size_t lines = 0;
    for (const char *at = from; at < end; at++)
        lines += *at == '\n';
    return lines;
}

/* Behind the line that reaches into the share of the next one. */
void ht_plain_cut(struct plain_lines *cut, const char *from, const char *end)
{
    size_t share = (size_t)(end - from) / PLAIN_PIECES;
    share = share > PIECE_BYTES_LEAST ? share : PIECE_BYTES_LEAST;
    *cut = (struct plain_lines){ .pieces = 0 };
    while (from < end) {
        const char *to = end;
        size_t left = (size_t)(end - from);
        if (cut->pieces + 1 < PLAIN_PIECES && left > share)
            to = (const char *)memchr(from + share, '\n', left - share) + 1;
        size_t lines = count_lines(from, to);
        cut->piece[cut->pieces++] =
            (struct plain_piece){ .at = from, .end = to, .lines = lines };
        cut->lines += lines;
        from = to;
    }
}

struct reading {
    struct plain_lines *cut;
    const struct plain_layout *layout;
    const struct plain_beside *beside;
    double *value;
};

static void read_piece(const struct reading *reading, size_t index)
{
    const struct plain_layout layout = *reading->layout;
    struct plain_piece *piece = &reading->cut->piece[index];
    const char *at = piece->at, *next = at;
    double *value = reading->value;
    size_t rows = 0;
    for (size_t i = 0; i < index; i++)
        value += reading->cut->piece[i].lines * layout.columns;
    for (; next && at < piece->end; rows += next != NULL) {
        next = ht_plain_row(&layout, at, value + rows * layout.columns);
        at = next ? next : at;
    }
    piece->at = at;
    piece->rows = rows;
}

static void work(void *context, size_t index)
{
    const struct reading *reading = context;
    if (!reading->beside)
        read_piece(reading, index);
    else if (index > 0)
        read_piece(reading, index - 1);
    else
        reading->beside->task(reading->beside->context);
}

size_t ht_plain_rows(struct plain_lines *cut,
                     const struct plain_layout *layout,
                     const struct plain_beside *beside, double *value,
                     const char **behind)
{
    struct reading reading = { cut, layout, beside, value };
    size_t rows = 0;
    ht_parallel(cut->pieces + (beside ? 1 : 0), work, &reading);
    for (size_t i = 0; i < cut->pieces; i++) {
        const struct plain_piece *piece = &cut->piece[i];
        rows += piece->rows;
        *behind = piece->at;
        if (piece->at < piece->end)
            break;
    }
    return rows;
}
