/* take.h - a line of joint centres out of the sheet. */
#ifndef HALFTURN_REPAIR_TAKE_H
#define HALFTURN_REPAIR_TAKE_H

#include "halfturn/repair.h"

enum ht_status ht_take_line(struct ht_driveline *driveline,
                            struct ht_joint_centres *centres,
                            const struct ht_shims_input *input,
                            struct ht_error *err);

/* What a line is held to. */
struct ht_angles_options ht_take_limits(const struct ht_shims_input *input);

#endif
