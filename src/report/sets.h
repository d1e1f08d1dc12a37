/* sets.h - several sets of readings, of one driveline or of several: which
 * one an output is about, and what it is called.
 */
#ifndef HALFTURN_REPORT_SETS_H
#define HALFTURN_REPORT_SETS_H

#include "halfturn/text.h"
#include "halfturn/workup.h"

/* More than one set was worked out. Outputs of a single one name none. */
bool several_sets(const struct ht_workup *workup);
bool several_drivelines(const struct ht_workup *workup);

/* The set to go by of a driveline; NULL: nothing was read on it. */
const struct ht_line_angles *deciding_set(const struct ht_workup *workup,
                                          size_t driveline);

/* Whether every set to go by was read in a state that allows a verdict. */
bool all_sets_judged(const struct ht_workup *workup);

/* The set that the answer is about: of those to go by the one with the worst
 * verdict. NULL where there are not several. */
const struct ht_line_angles *answering_set(const struct ht_workup *workup);
/* Its angles, or those of the only one. */
const struct ht_angles *answering_angles(const struct ht_workup *workup);
/* Its place among the sheet's sets. */
size_t answering_index(const struct ht_workup *workup);

/* The sets in the order they are shown: driveline by driveline, each in the
 * sheet's order. `i` below line_count. */
const struct ht_line_angles *set_in_order(const struct ht_workup *workup,
                                          size_t i);

/* What a part of an output is about. */
struct shown_set {
    const struct ht_angles *angles;
    size_t driveline, set;      /* into the sheet's lists */
    size_t line;                /* into the workup's, and its effects */
};
struct shown_set only_set(const struct ht_workup *workup);
struct shown_set shown_set_of(const struct ht_workup *workup,
                              const struct ht_line_angles *line);

/* "rear shaft, laden, after"; the driveline only where there are several, "set
 * 2" where nothing names it. Cleaned. */
const char *set_name(struct ht_text *room, const struct ht_workup *workup,
                     const struct ht_line_angles *line);
/* "rear shaft"; "driveline 1" where it has no name. */
const char *driveline_name(struct ht_text *room,
                           const struct ht_workup *workup, size_t driveline);

#endif
