/* workup.h - one case through everything: the one path that every user of the
 * library takes. Stages that cannot run say why in `missing`.
 */
#ifndef HALFTURN_WORKUP_H
#define HALFTURN_WORKUP_H

#include "halfturn/angles.h"
#include "halfturn/causes.h"
#include "halfturn/findings.h"
#include "halfturn/orders.h"
#include "halfturn/recording.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"
#include "halfturn/speed.h"
#include "halfturn/status.h"

struct ht_workup_options {
    const char *folder;          /* file names of the sheet are relative to
                                    it; NULL: the working directory */
    const char *limits_path, *catalogue_path; /* NULL: built in */
    bool drive, causes;          /* how far to go; angles and parts always */
    void (*progress)(void *context, const char *stage, double share);
    void *context;
};

struct ht_workup {
    const struct ht_sheet *sheet; /* the caller's; outlives the workup */
    bool has_angles, has_rotation, has_recording, has_turns, has_orders,
        has_ranking;
    struct ht_limits limits;
    struct ht_angles angles;
    struct ht_rotation rotation;
    struct ht_recording recording;
    struct ht_turns turns;
    struct ht_orders orders;
    struct ht_findings findings;
    struct ht_catalogue *catalogue;
    struct ht_ranking ranking;
    size_t missing_count;
    char missing[24][240];       /* what could not be done, for want of what */
    size_t assumed_count;
    char assumed[64][240];       /* what an absent key was taken to mean */
};

/* Files that the sheet names and that cannot be read end the workup with
 * their status; everything optional that is absent ends up in `missing`. */
enum ht_status ht_workup_run(struct ht_workup *workup,
                             const struct ht_sheet *sheet,
                             const struct ht_workup_options *options,
                             struct ht_error *err);
void ht_workup_free(struct ht_workup *workup);

#endif
