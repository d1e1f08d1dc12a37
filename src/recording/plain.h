/* plain.h - rows of a table that hold plain numbers and nothing else. */
#ifndef HALFTURN_RECORDING_PLAIN_H
#define HALFTURN_RECORDING_PLAIN_H

#include <stddef.h>

struct plain_layout {
    char separator, mark; /* they differ */
    size_t columns;
};

/* Reads the numbers of one line, with separators between them. Returns the
 * start of the next line, or NULL: then the line wants the careful reader of
 * table.c, whatever it holds, and value[] is spoilt. The line ends with '\n',
 * with HT_DECIMAL_BEHIND readable bytes behind it. */
const char *ht_plain_row(const struct plain_layout *layout, const char *line,
                         double *value);

/* Whole lines, cut into pieces that are read side by side. */
enum { PLAIN_PIECES = 8 };
struct plain_lines {
    struct plain_piece {
        const char *at, *end;
        size_t lines, rows;
    } piece[PLAIN_PIECES];
    size_t pieces, lines;
};
void ht_plain_cut(struct plain_lines *cut, const char *from, const char *end);

/* A task that is carried out beside the reading, begun first. */
struct plain_beside {
    void (*task)(void *context);
    void *context;
};

/* Reads the rows up to the first line that is not plain: *behind stands there
 * then, else at the end. Returns their count; value[] has room for a row of
 * every line, and what lies behind the rows returned is spoilt. beside may be
 * NULL. */
size_t ht_plain_rows(struct plain_lines *cut,
                     const struct plain_layout *layout,
                     const struct plain_beside *beside, double *value,
                     const char **behind);

#endif
