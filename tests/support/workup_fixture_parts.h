/* workup_fixture_parts.h - inside of the fixture. */
#ifndef HALFTURN_TESTS_WORKUP_FIXTURE_PARTS_H
#define HALFTURN_TESTS_WORKUP_FIXTURE_PARTS_H

#include "workup_fixture.h"

#include "common/constants.h"

#include <stdio.h>

enum { ACROSS = 180, UP = 52, RESULTS = 12 };

struct fixture {
    struct ht_workup workup;
    struct ht_sheet sheet;
    struct ht_sheet_driveline driveline;
    struct ht_sheet_angles angles;
    struct ht_sheet_slope slope[HT_MEMBERS_MAX];
    double reading[HT_MEMBERS_MAX], speed[2];
    const char *member[HT_MEMBERS_MAX];
    struct ht_sheet_tube tube[HT_MEMBERS_MAX];
    struct ht_sheet_drive drive;
    struct ht_order_result result[RESULTS];
    float map[ACROSS * UP];
    double track_speed[3], track_turns[3];
    unsigned char track_usable[3];
};

#define DEG(x) ((x) * HT_RAD_PER_DEG)
#define KMH(x) ((x) * HT_M_S_PER_KM_H)
#define SAY(field, ...) (void)snprintf((field), sizeof(field), __VA_ARGS__)

void van_orders(struct fixture *f);
void wheel_orders(struct fixture *f, double most);
void van_causes(struct fixture *f);
void open_causes(struct fixture *f);
void no_causes(struct fixture *f);

#endif
