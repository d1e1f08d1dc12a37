/* cell.h - one cell of a table: a number, a date, nothing, or words. */
#ifndef HALFTURN_RECORDING_CELL_H
#define HALFTURN_RECORDING_CELL_H

#include <stdbool.h>
#include <stddef.h>

struct cell {
    const char *text; /* without blanks and quotes around it */
    size_t length;
};

enum cell_kind {
    CELL_NUMBER, CELL_EMPTY, CELL_DATE, CELL_NOT_FINITE, CELL_WORDS
};

/* The next cell of a line that ends before `end`; *at moves behind the cell
 * and its separator. False when the line has no more cells. */
bool ht_cell_next(const char **at, const char *end, char separator,
                  struct cell *cell, bool *more);

/* *value: the number; for a date (ISO 8601, with or without a zone) seconds
 * since 1970; NAN for an empty cell. */
enum cell_kind ht_cell_read(const struct cell *cell, char decimal,
                            double *value);

#endif
