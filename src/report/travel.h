/* travel.h - one driveline read at several ride heights.
 *
 * Pure; the pointers point into the workup.
 */
#ifndef HALFTURN_REPORT_TRAVEL_H
#define HALFTURN_REPORT_TRAVEL_H

#include "halfturn/text.h"
#include "halfturn/workup.h"

enum { TRAVEL_HEIGHTS_MAX = 40, TRAVEL_JOINTS_ACROSS = 4 };

struct travel {
    const struct ht_line_angles *deciding; /* at the normal height */
    size_t joints, heights;
    const struct ht_line_angles *at[TRAVEL_HEIGHTS_MAX]; /* lowest ride height
                                        first where all are known */
};
/* The heights of that set's driveline and time; false: it is the only one. */
bool travel_from(struct travel *travel, const struct ht_workup *workup,
                 const struct ht_line_angles *deciding);

/* Smallest and largest angle of a joint, counted from 0, or of what is left
 * over (joint = joints), and where. */
struct travel_range {
    double lowest_rad, highest_rad;
    const struct ht_line_angles *lowest, *highest;
};
struct travel_range travel_range(const struct travel *travel, size_t joint);

/* The table: cells, row after row, for the joints from `first` on, at most
 * TRAVEL_JOINTS_ACROSS of them; the last table has what is left over too. */
typedef void (*travel_cell)(void *context, const char *text);
size_t travel_columns(const struct travel *travel, size_t first);
void travel_cells(const struct travel *travel, size_t first, travel_cell cell,
                  void *context);

/* "high, 480 mm"; "set 2". */
const char *travel_height(struct ht_text *room,
                          const struct ht_line_angles *line);
/* What the table is about. */
void travel_caption(struct ht_text *out, const struct ht_workup *workup,
                    const struct travel *travel);

#endif
