/* doubt.h - readings that look like a slip of hand or pen. Nothing is changed
 * or refused for them: the person who read decides. */
#ifndef HALFTURN_ANGLES_DOUBT_H
#define HALFTURN_ANGLES_DOUBT_H

#include "model.h"

void ht_doubt_readings(struct ht_angles *result,
                       const struct ht_driveline *driveline,
                       const struct ht_model *model);

#endif
