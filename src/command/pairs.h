/* pairs.h - cap readings given on the command line, two for each joint:
 * 2.1 4.3 / 4.3 2.4 is the member before and the member after joint 1, then
 * before and after joint 2. A shaft between two joints is read twice. With
 * --zeroed one signed difference for each joint: 0.4 / 1.5 / -1.6. */
#ifndef HALFTURN_COMMAND_PAIRS_H
#define HALFTURN_COMMAND_PAIRS_H

#include "options.h"

#include "halfturn/angles.h"

struct pairs {
    struct ht_driveline driveline;
    double reading_rad[HT_MEMBERS_MAX][2]; /* what the slopes point to */
    double crosswise_rad;
};

/* `pairs` owns the readings and must not be copied afterwards. */
enum ht_status pairs_read(struct pairs *pairs, const struct options *options,
                          struct ht_error *err);

#endif
