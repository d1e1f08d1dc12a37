/* stages.h - the stages of a workup, each filling its own part of it. */
#ifndef HALFTURN_WORKUP_STAGES_H
#define HALFTURN_WORKUP_STAGES_H

#include "halfturn/workup.h"

struct stage {
    struct ht_workup *workup;
    const struct ht_sheet *sheet;
    const struct ht_workup_options *options;
    struct ht_error *err;
};

enum ht_status ht_stage_rotation(const struct stage *stage);
enum ht_status ht_stage_angles(const struct stage *stage);
enum ht_status ht_stage_drive(const struct stage *stage);
enum ht_status ht_stage_causes(const struct stage *stage);

/* One sentence about what could not be done, or what was assumed; beyond the
 * room for them further sentences are dropped. */
void ht_stage_missing(struct ht_workup *workup, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void ht_stage_assumed(struct ht_workup *workup, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Where the vehicle's top speed is not given: the complaint's highest speed;
 * NAN when neither is known. */
double ht_stage_highest_speed(const struct ht_sheet *sheet);

#endif
