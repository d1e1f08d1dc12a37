/* text_parts.h - the tables of the text output. */
#ifndef HALFTURN_REPORT_TEXT_PARTS_H
#define HALFTURN_REPORT_TEXT_PARTS_H

#include "halfturn/text.h"
#include "halfturn/workup.h"

void text_angles(struct ht_text *out, const struct ht_workup *workup);
/* Limits of one set of readings, but those of single joints. */
void text_limits(struct ht_text *out, const struct ht_angles *angles);
/* The same as lines. */
void say_limits(struct ht_text *out, const struct ht_angles *angles);
/* The maker's own figure beside the rest of a named set; false: not so. */
bool say_mixed_limits(struct ht_text *out, const struct ht_angles *angles);
void text_orders(struct ht_text *out, const struct ht_workup *workup);
void text_shims(struct ht_text *out, const struct ht_workup *workup);
struct told;
void say_shim_cautions(struct ht_text *out, const struct told *told);
void text_causes(struct ht_text *out, const struct ht_workup *workup);

#endif
