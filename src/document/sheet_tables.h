/* sheet_tables.h - the pieces of the sheet's schema. */
#ifndef HALFTURN_DOCUMENT_SHEET_TABLES_H
#define HALFTURN_DOCUMENT_SHEET_TABLES_H

#include "halfturn/sheet.h"

extern const struct ht_schema sheet_schema, sheet_identity_schema,
    sheet_safety_schema, sheet_vehicle_schema, sheet_driveline_schema,
    sheet_angles_schema, sheet_complaint_schema, sheet_checks_schema,
    sheet_drive_schema, sheet_limits_schema, sheet_next_schema,
    sheet_shim_schema;

extern const struct ht_word sheet_joint_words[], sheet_surface_words[],
    sheet_end_words[], sheet_place_words[];

/* The per-member forms, as written; `finish` turns them into lists. */
struct chain_item {
    const char *member;
    enum ht_joint_kind joint;
    double yoke_rad;
    struct ht_sheet_tube tube;
    struct ht_numbers bearing_spacings_m;
};
struct driveline_scratch {
    struct ht_sheet_driveline driveline;
    struct chain_item *chain;
    size_t chain_count;
};
struct read_item {
    const char *member;
    struct ht_sheet_slope slope;
    double heading_rad;
};
struct angles_scratch {
    struct ht_sheet_angles angles;
    struct read_item *read;
    size_t read_count;
};

void sheet_driveline_finish(struct ht_finish *finish, void *record);
void sheet_angles_finish(struct ht_finish *finish, void *record);
void sheet_speed_finish(struct ht_finish *finish, void *record);
void sheet_vehicle_finish(struct ht_finish *finish, void *record);
bool sheet_is_date(const char *text);
void sheet_identity_finish(struct ht_finish *finish, void *record);
void sheet_finish(struct ht_finish *finish, void *record);

#endif
