/* sheet_row.h - the sheet's table asked for one key: what a value on the line
 * must be is said there, and only there. */
#ifndef HALFTURN_COMMAND_SHEET_ROW_H
#define HALFTURN_COMMAND_SHEET_ROW_H

#include "halfturn/document.h"

/* By its path, "angles/gauge/accuracy_deg"; the path must be one. */
const struct ht_row *sheet_row(const char *path);

/* Whether a value in SI lies within the row's range; `factor`: SI per unit of
 * the row. */
bool sheet_row_holds(const struct ht_row *row, double value, double factor);

#endif
