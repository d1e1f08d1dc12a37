/* slips.h - what a sheet may say and is likely a slip: said, not refused. */
#ifndef HALFTURN_WORKUP_SLIPS_H
#define HALFTURN_WORKUP_SLIPS_H

#include "sets.h"

void ht_slips_say(const struct stage *stage, const struct ht_sets *lines);

#endif
