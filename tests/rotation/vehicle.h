/* vehicle.h - a vehicle of which nothing is said: every number NAN. */
#ifndef HALFTURN_TESTS_ROTATION_VEHICLE_H
#define HALFTURN_TESTS_ROTATION_VEHICLE_H

#include "halfturn/sheet.h"

#include <math.h>

static inline struct ht_sheet_vehicle vehicle_blank(void)
{
    return (struct ht_sheet_vehicle){ .tyre_turns_per_m = NAN,
                                      .axle_ratio = NAN,
                                      .engine_cylinders = NAN,
                                      .engine_strokes = NAN,
                                      .motor_ratio = NAN,
                                      .transfer_high = NAN,
                                      .transfer_low = NAN,
                                      .top_speed_m_s = NAN,
                                      .mass_kg = NAN,
                                      .torque_n_m = NAN,
                                      .hub_ratio = NAN,
                                      .axle.pinion_to_axle_m = NAN };
}

#endif
