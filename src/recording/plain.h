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

/* The rows of whole lines from *at to `end`, read side by side, up to the
 * first line that is not plain: *at stands there then, else at `end`. Returns
 * their count; value[] has room for a row of every line, and those behind the
 * rows returned are spoilt. */
size_t ht_plain_rows(const struct plain_layout *layout, const char **at,
                     const char *end, double *value);

size_t ht_plain_count_lines(const char *from, const char *end);

#endif
