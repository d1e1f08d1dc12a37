/* sheet_tables.h - the pieces of the sheet's schema. */
#ifndef HALFTURN_DOCUMENT_SHEET_TABLES_H
#define HALFTURN_DOCUMENT_SHEET_TABLES_H

#include "halfturn/sheet.h"

extern const struct ht_schema ht_sheet_top_schema, ht_sheet_identity_schema,
    ht_sheet_safety_schema, ht_sheet_vehicle_schema, ht_sheet_driveline_schema,
    ht_sheet_angles_schema, ht_sheet_complaint_schema, ht_sheet_checks_schema,
    ht_sheet_drive_schema, ht_sheet_limits_schema, ht_sheet_next_schema,
    ht_sheet_shim_schema, ht_sheet_fitted_schema, ht_sheet_axle_schema;

extern const struct ht_word ht_sheet_joint_words[], ht_sheet_surface_words[],
    ht_sheet_end_words[], ht_sheet_place_words[];

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

void ht_sheet_driveline_finish(struct ht_finish *finish, void *record);
void ht_sheet_slope_finish(struct ht_finish *finish, void *record);
void ht_sheet_read_finish(struct ht_finish *finish, void *record);
void ht_sheet_readings_check(struct ht_finish *finish,
                             const struct ht_sheet_angles *angles);
/* False, with the problem said: a shaft has a heading too. */
bool ht_sheet_read_ends(struct ht_finish *finish,
                        struct angles_scratch *scratch);
void ht_sheet_angles_finish(struct ht_finish *finish, void *record);
void ht_sheet_speed_finish(struct ht_finish *finish, void *record);
void ht_sheet_tube_finish(struct ht_finish *finish, void *record);
void ht_sheet_limits_finish(struct ht_finish *finish, void *record);
void ht_sheet_channel_finish(struct ht_finish *finish, void *record);
void ht_sheet_vehicle_finish(struct ht_finish *finish, void *record);
bool ht_sheet_is_date(const char *text);
void ht_sheet_identity_finish(struct ht_finish *finish, void *record);
void ht_sheet_finish(struct ht_finish *finish, void *record);

#endif
