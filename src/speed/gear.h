/* gear.h - which gear's engine orders stand in the recording. */
#ifndef HALFTURN_SPEED_GEAR_H
#define HALFTURN_SPEED_GEAR_H

#include "search.h"

struct ht_gear_find {
    unsigned gear; /* 0: cannot be told */
    double margin; /* log-likelihood over the runner-up */
    double share;  /* of the moving time that it explains */
    unsigned runner_up;
};
enum ht_status ht_gear_search(struct ht_gear_find *found,
                              const struct ht_frames *frames,
                              const struct ht_speed_path *path,
                              const struct ht_rotation *rotation,
                              const struct ht_fit *fit, struct ht_error *err);

/* The gear that the rotation was built for, 0: none. */
unsigned ht_gear_said(const struct ht_rotation *rotation);

#endif
