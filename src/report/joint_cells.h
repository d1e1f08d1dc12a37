/* joint_cells.h - the table of joints, for the text and for paper. */
#ifndef HALFTURN_REPORT_JOINT_CELLS_H
#define HALFTURN_REPORT_JOINT_CELLS_H

#include "halfturn/angles.h"
#include "halfturn/text.h"

enum { JOINT_COLUMNS = 5 };

/* Heads and then a row for each joint, cell after cell: number, between what,
 * angle, what is allowed, verdict. Without memory `whole` is a failed text. */
void joint_cells(struct ht_text *whole, const struct ht_angles *angles,
                 void (*cell)(void *context, const char *text), void *context);

#endif
