#include "plain.h"

#include "common/decimal.h"
#include "common/parallel.h"

#include <string.h>

/* A thread costs as much as some hundred lines. */
enum { PIECES = 8, PIECE_BYTES_LEAST = 32 * 1024 };

/* Some of the lines, and where their rows go. */
struct piece {
    const struct plain_layout *layout;
    const char *at, *end;
    double *value;
    size_t rows;
};

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

size_t ht_plain_count_lines(const char *from, const char *end)
{
    size_t lines = 0;
    for (const char *at = from; at < end; at++)
        lines += *at == '\n';
    return lines;
}

static void read_piece(void *context, size_t index)
{
    struct piece *piece = (struct piece *)context + index;
    const struct plain_layout layout = *piece->layout;
    const char *at = piece->at, *next = at;
    size_t rows = 0;
    for (; next && at < piece->end; rows += next != NULL) {
        next = ht_plain_row(&layout, at,
                            piece->value + rows * layout.columns);
        at = next ? next : at;
    }
    piece->at = at;
    piece->rows = rows;
}

/* Cut behind the line that reaches into the share of the next one. */
static size_t cut(struct piece piece[PIECES],
                  const struct plain_layout *layout, const char *from,
                  const char *end, double *value)
{
    size_t bytes = (size_t)(end - from), share = bytes / PIECES, count = 0;
    share = share > PIECE_BYTES_LEAST ? share : PIECE_BYTES_LEAST;
    while (from < end) {
        const char *to = end;
        if (count + 1 < PIECES && (size_t)(end - from) > share)
            to = (const char *)memchr(from + share, '\n',
                                      (size_t)(end - from) - share) + 1;
        piece[count++] = (struct piece){ layout, from, to, value, 0 };
        if (to < end)
            value += ht_plain_count_lines(from, to) * layout->columns;
        from = to;
    }
    return count;
}

size_t ht_plain_rows(const struct plain_layout *layout, const char **at,
                     const char *end, double *value)
{
    struct piece piece[PIECES];
    size_t count = cut(piece, layout, *at, end, value), rows = 0;
    ht_parallel(count, read_piece, piece);
    for (size_t i = 0; i < count; i++) {
        rows += piece[i].rows;
        *at = piece[i].at;
        if (piece[i].at < piece[i].end)
            break;
    }
    return rows;
}
