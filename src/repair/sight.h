/* sight.h - how each member lies: what is expected, and what was read. */
#ifndef HALFTURN_REPAIR_SIGHT_H
#define HALFTURN_REPAIR_SIGHT_H

#include "possible.h"

struct sight { /* of one member */
    double mean_rad, variance;
};

/* With these works done. */
void ht_sight_predict(struct sight *sight, const struct possible *possible,
                      const struct ht_shim_work *work, size_t works);

/* Of readings; their own draws say how well they are known. */
enum ht_status ht_sight_read(struct sight *sight,
                             const struct ht_driveline *driveline,
                             struct ht_error *err);

/* Whether all that was read is as expected; fills one reading a member. */
bool ht_sight_fits(struct ht_shim_reading *reading,
                   const struct sight *expected, const struct sight *seen,
                   size_t members);

#endif
