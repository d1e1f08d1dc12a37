/* sets.h - several sets of readings, of one driveline or of several. */
#ifndef HALFTURN_WORKUP_SETS_H
#define HALFTURN_WORKUP_SETS_H

#include "stages.h"

#include "common/memory.h"

/* The result of the stage: everything stands in its own memory. */
struct ht_sets {
    struct ht_arena arena;
    size_t count;
    struct ht_line_angles *line;
};

/* Whether anything was read in a set of the sheet. */
bool ht_set_was_read(const struct ht_sheet_angles *angles);

/* A line for each set that was read, named, and which of them decide; the
 * angles are not worked out yet. False: out of memory. */
bool ht_sets_open(struct ht_sets *lines, const struct ht_sheet *sheet);
void ht_sets_free(struct ht_sets *lines);

/* Whether two lines differ in their ride height at most. */
bool ht_sets_same_time(const struct ht_line_angles *a,
                        const struct ht_line_angles *b);

/* What was taken, and what was not measured. */
void ht_sets_say(const struct stage *stage, const struct ht_sets *lines);

#endif
