/* shims.h - sentences about shims, for the text and the page. */
#ifndef HALFTURN_REPORT_SHIMS_H
#define HALFTURN_REPORT_SHIMS_H

#include "halfturn/repair.h"
#include "halfturn/text.h"

/* A member's name, or its number; into `room`, the caller's. */
const char *shim_member(struct ht_text *room, const struct ht_shims *shims,
                        size_t member);
void say_work(struct ht_text *text, const struct ht_shims *shims,
              const struct ht_shim_work *work);
/* What is said where no plan is better: that none is wanted, or that none is
 * there. */
const char *without_plan(const struct ht_shims *shims);
/* How likely every limit is kept, and which one least. */
void say_chance(struct ht_text *text, const struct ht_shim_plan *plan);
/* What the readings after the repair show. */
void say_after(struct ht_text *text, const struct ht_shims *shims,
               const struct ht_shims_after *after);

#endif
