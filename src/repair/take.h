/* take.h - a line of joint centres out of the sheet. */
#ifndef HALFTURN_REPAIR_TAKE_H
#define HALFTURN_REPAIR_TAKE_H

#include "halfturn/repair.h"

enum ht_status ht_take_line(struct ht_driveline *driveline,
                            struct ht_joint_centres *centres,
                            const struct ht_shims_input *input,
                            struct ht_error *err);

/* Whether an entry of shims or fitted is about this line. */
bool ht_take_shim(const struct ht_shims_input *input,
                  const struct ht_sheet_shim *row);
bool ht_take_fitted(const struct ht_shims_input *input,
                    const struct ht_sheet_fitted *row);

/* The axle of this line: its own and, where that is silent, the vehicle's on
 * the first line that does not lead to a front axle. */
struct ht_sheet_axle ht_take_axle(const struct ht_shims_input *input);
/* By its name; where it has none, an axle in front of what drives it on a
 * vehicle that drives all wheels. */
bool ht_take_front_axle(const struct ht_shims_input *input);

/* What a line is held to. */
struct ht_angles_options ht_take_limits(const struct ht_shims_input *input);

#endif
