/* summary.h - what every output says first, and what it must not leave out.
 *
 * Marked texts (markup.h), cleaned; several sentences of a list stand on
 * lines of their own.
 */
#ifndef HALFTURN_REPORT_SUMMARY_H
#define HALFTURN_REPORT_SUMMARY_H

#include "halfturn/report.h"
#include "halfturn/workup.h"

/* What of a workup an output tells: an answer does not lead with what another
 * command is about. */
struct told {
    const struct ht_workup *workup;
    unsigned blocks;                            /* bits of ht_report_block */
    bool angles, recording, turns, orders;      /* there, and told */
    const struct ht_ranking *ranking;           /* NULL: not told */
    const struct ht_ranked_cause *first;        /* that it leads with; NULL */
};
struct told told_of(const struct ht_workup *workup, unsigned blocks);
struct told told_all(const struct ht_workup *workup);

void say_title(struct ht_text *out, const struct told *told);
/* "Joint angles do not cancel." */
void say_answer(struct ht_text *out, const struct told *told);
/* "Very likely: 86 in 100."; "" when nothing was weighed. */
void say_sureness(struct ht_text *out, const struct told *told);
/* The figures behind the answer, two or three sentences; may be "". */
void say_reason(struct ht_text *out, const struct told *told);

/* Lists, one per line. */
void say_safety(struct ht_text *out, const struct told *told);
void say_untold(struct ht_text *out, const struct told *told);
void say_cautions(struct ht_text *out, const struct told *told);
void say_angle_notes(struct ht_text *out, const struct ht_workup *workup);
void say_assumed(struct ht_text *out, const struct told *told);
/* Where the limits come from that the angles were held against. */
void say_limit_sources(struct ht_text *out, const struct ht_workup *workup);
void say_doubts(struct ht_text *out, const struct told *told);

/* "Look at ... 5 minutes."; "" when none is known. */
void say_next(struct ht_text *out, const struct told *told);
/* What its answers would change, one per line. */
void say_next_outcomes(struct ht_text *out, const struct told *told);

/* "Speed from the log, 0.4 s late, corrected." */
void say_speed(struct ht_text *out, const struct told *told);
/* Sheet, recording, log, gauge, word scale, version. */
void say_made_from(struct ht_text *out, const struct told *told,
                   const char *case_name);

#endif
