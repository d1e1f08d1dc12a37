/* lines.h - plain text for a terminal: 80 columns, aligned tables.
 *
 * Takes marked texts; marks vanish, no-break spaces hold words together while
 * wrapping and are written as blanks, so that the text can be searched.
 */
#ifndef HALFTURN_REPORT_LINES_H
#define HALFTURN_REPORT_LINES_H

#include "halfturn/text.h"

enum { LINE_COLUMNS = 80, TABLE_COLUMNS_MAX = 6 };

/* One paragraph, wrapped; the second and later lines are indented by as much
 * as `lead` is wide. Nothing for an empty text. */
void put_paragraph(struct ht_text *out, const char *lead, const char *text);
/* A heading and, for each line of `lines`, a bullet; nothing when empty. */
void put_list(struct ht_text *out, const char *heading, const char *lines);

/* A table under way, filled cell by cell, row after row. */
struct table {
    const char *align;          /* a letter a column: left, right, cut
                                   (left, and cut where the room ends) */
    struct ht_text cells;       /* cells, each ended by '\n' */
};
void table_cell(struct table *table, const char *text);
/* The text as the next cell; it is empty after that. */
void table_take(struct table *table, struct ht_text *text);
void table_write(struct ht_text *out, struct table *table); /* frees it */

#endif
