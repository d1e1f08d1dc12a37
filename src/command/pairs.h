/* pairs.h - cap readings given on the command line, two for each joint:
 * 2.1 4.3 / 4.3 2.4 is the member before and the member after joint 1, then
 * before and after joint 2. A shaft between two joints is read twice. With
 * --zeroed one signed difference for each joint: 0.4 / 1.5 / -1.6. */
#ifndef HALFTURN_COMMAND_PAIRS_H
#define HALFTURN_COMMAND_PAIRS_H

#include "options.h"

#include "halfturn/angles.h"

/* A sheet that holds one driveline and one set of readings, and what it points
 * to. */
struct pairs {
    struct ht_sheet sheet;
    struct ht_sheet_driveline line;
    struct ht_sheet_angles set;
    struct ht_sheet_slope slope[HT_MEMBERS_MAX];
    struct ht_sheet_tube tube[HT_MEMBERS_MAX];
    double reading_rad[HT_MEMBERS_MAX][2];
    double joint_rad[HT_JOINTS_MAX], heading_rad[HT_MEMBERS_MAX];
    double yoke_rad[HT_MEMBERS_MAX], offset_m[HT_JOINTS_MAX];
    double crosswise_rad;
};

/* `pairs` must not be copied afterwards; nothing is to be freed. */
enum ht_status pairs_read(struct pairs *pairs, const struct options *options,
                          struct ht_error *err);

#endif
