/* repair.h, and what it takes from angles.h and joint.h */
#include "row.h"

#include "halfturn/repair.h"
#include "halfturn/report.h"

#include <math.h>
#include <string.h>

static const char ready[] =
    "halfturn: 1\n"
    "limits: light_truck\n"
    "vehicle: {axle: {kind: rigid, steered: no}}\n"
    "driveline: {members: [gearbox, shaft, pinion]}\n"
    "angles:\n"
    "  - {when: before, suspension: wheels_on_ground, slopes_deg: [2, 5, 1]}\n"
    "  - {when: after, suspension: wheels_on_ground, slopes_deg: [2, 5, 3]}\n"
    "checks: {sound: [springs, bushes, mounts], ride_height_mm: {measured: "
    "[380, 400], maker: [380, 400]}}\n"
    "shims: {at: axle, kind: wedge, steps_deg: [2]}\n"
    "fitted: {at: axle, turn_deg: 2}\n";

/* Outside of what is watched. */
static bool read_ready(struct ht_sheet *sheet, struct ht_shims_input *input,
                       struct ht_error *err)
{
    *input = (struct ht_shims_input){ .sheet = sheet,
                                      .limits = &given.workup.limits,
                                      .shaft_rad_s = 250 };
    return ht_sheet_read_text(sheet, "ready", ready, sizeof ready - 1, NULL,
                              err) == HT_OK;
}

static enum ht_status plan_shims(struct ht_error *err)
{
    struct ht_sheet sheet;
    struct ht_shims_input input;
    static struct ht_shims shims;
    ROW_DEMAND(read_ready(&sheet, &input, err));
    watch_begin();
    enum ht_status status = ht_shims_plan(&shims, &input, err);
    watch_end();
    ROW_DEMAND((shims.plans > 0) == (status == HT_OK));
    ROW_DEMAND((shims.members > 0) == (status == HT_OK));
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status compare_after(struct ht_error *err)
{
    struct ht_sheet sheet;
    struct ht_shims_input input;
    struct ht_shims_after after;
    ROW_DEMAND(read_ready(&sheet, &input, err));
    sheet.fitted_count = 0; /* then it is guessed, which wants more memory */
    watch_begin();
    enum ht_status status = ht_shims_compare(&after, &input, 1, err);
    watch_end();
    ROW_DEMAND((after.members > 0) == (status == HT_OK));
    ROW_DEMAND(after.guessed == (status == HT_OK));
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status move_centres(struct ht_error *err)
{
    struct ht_joint_centres centres = { .line = { .members = 3 } };
    struct ht_shim_work work = { .place = HT_SHIM_AXLE, .turn_rad = 0.03 };
    struct ht_chain moved;
    (void)err;
    for (size_t i = 0; i < HT_LENGTHS; i++)
        centres.length_m[i] = NAN;
    watch_begin();
    ht_centres_move(&moved, &centres, &work, 1);
    watch_end();
    ROW_DEMAND(moved.slope_rad[2] > 0);
    return HT_OK;
}

static enum ht_status write_shims(struct ht_error *err)
{
    static struct ht_line_shims line;
    static struct ht_workup workup;
    struct ht_sheet sheet;
    struct ht_shims_input input;
    struct ht_text out = { 0 };
    ROW_DEMAND(read_ready(&sheet, &input, err));
    if (line.shims.members == 0)
        ROW_DEMAND(ht_shims_plan(&line.shims, &input, err) == HT_OK);
    workup.sheet = &sheet;
    workup.shims = &line;
    workup.shims_count = 1;
    watch_begin();
    enum ht_status status = ht_report_shims_text(&out, &workup, err);
    watch_end();
    if (status == HT_OK) {
        ROW_DEMAND(out.length > 0);
        status = row_text(&out);
    } else {
        ht_text_free(&out);
    }
    ht_sheet_free(&sheet);
    return status;
}

const struct row rows_repair[] = {
    { "ht_shims_plan", ALLOCATES, plan_shims },
    { "ht_shims_compare", ALLOCATES, compare_after },
    { "ht_centres_move", NO_MEMORY_NEEDED, move_centres },
    { "ht_report_shims_text", ALLOCATES, write_shims },
    { 0 },
};
