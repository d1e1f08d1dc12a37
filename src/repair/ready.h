/* ready.h - what has to be right before a shim is planned. */
#ifndef HALFTURN_REPAIR_READY_H
#define HALFTURN_REPAIR_READY_H

#include "halfturn/repair.h"

/* Says in *shims what is to be put right first. */
void ht_ready_check(struct ht_shims *shims, const struct ht_shims_input *input,
                    const struct ht_driveline *driveline);

#endif
