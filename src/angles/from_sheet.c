/* From the case sheet's lists to one driveline. */
#include "texts.h"

#include "halfturn/angles.h"

#include <math.h>

static const struct ht_sheet_driveline no_driveline;
static const struct ht_sheet_angles no_angles = { .gauge_accuracy_rad = NAN,
                                                  .gauge_step_rad = NAN,
                                                  .gauge_set_up_rad = NAN };

/* How many members: the names decide, else the readings. */
static enum ht_status count_members(struct ht_driveline *driveline,
                                    const struct ht_sheet_driveline *line,
                                    const struct ht_sheet_angles *angles,
                                    struct ht_error *err)
{
    size_t slopes = angles->slope_count, joints = angles->joints_rad.count;
    driveline->by_joint = slopes == 0 && joints > 0;
    size_t read = driveline->by_joint ? joints + 1 : slopes;
    size_t named = line->members.count;
    if (read == 0)
        return ht_fail(err, ANGLES_NO_READINGS);
    driveline->members = named > 0 ? named : read;
    if (driveline->members < 2 || driveline->members > HT_MEMBERS_MAX)
        return ht_fail(err, ANGLES_MEMBER_COUNT, driveline->members,
                       HT_MEMBERS_MAX);
    if (read != driveline->members && driveline->by_joint)
        return ht_fail(err, ANGLES_JOINT_ANGLE_COUNT, joints,
                       driveline->members - 1);
    if (read != driveline->members)
        return ht_fail(err, ANGLES_SLOPE_COUNT, slopes, driveline->members);
    return HT_OK;
}

static enum ht_status check_counts(const struct ht_driveline *driveline,
                                   const struct ht_sheet_driveline *line,
                                   const struct ht_sheet_angles *angles,
                                   struct ht_error *err)
{
    size_t members = driveline->members, headings = angles->headings_rad.count;
    if (headings > 0 && headings != members)
        return ht_fail(err, ANGLES_HEADING_COUNT, headings, members);
    if (line->joint_count > 0 && line->joint_count != members - 1)
        return ht_fail(err, ANGLES_JOINT_COUNT, line->joint_count, members - 1);
    if (line->yokes_rad.count > 0 && line->yokes_rad.count != members - 2)
        return ht_fail(err, ANGLES_YOKE_COUNT, line->yokes_rad.count,
                       members - 2);
    if (angles->offsets_m.count > 0 && angles->offsets_m.count != members - 1)
        return ht_fail(err, ANGLES_OFFSET_COUNT, angles->offsets_m.count,
                       members - 1);
    return HT_OK;
}

/* Headings of the shafts from where the joint centres lie. */
static void take_offsets(struct ht_driveline *driveline,
                         const struct ht_sheet_driveline *line,
                         const struct ht_sheet_angles *angles)
{
    const struct ht_numbers *ends = &angles->end_headings_rad;
    bool fit = line->tube_count + 2 == driveline->members;
    for (size_t i = 0; fit && i < line->tube_count; i++)
        driveline->joint_to_joint_m[i + 1] = line->tubes[i].joint_to_joint_m;
    if (angles->offsets_m.count == 0)
        return;
    for (size_t j = 0; j + 1 < driveline->members; j++)
        driveline->offset_m[j] = angles->offsets_m.value[j];
    if (ends->count == 2) {
        driveline->heading_rad[0] = ends->value[0];
        driveline->heading_rad[driveline->members - 1] = ends->value[1];
    }
}

static void take_lists(struct ht_driveline *driveline,
                       const struct ht_sheet_driveline *line,
                       const struct ht_sheet_angles *angles)
{
    for (size_t i = 0; i < driveline->members; i++) {
        if (line->members.count > 0)
            driveline->member[i] = line->members.text[i];
        if (!driveline->by_joint && angles->slopes)
            driveline->slope[i] = angles->slopes[i];
        if (angles->headings_rad.count > 0)
            driveline->heading_rad[i] = angles->headings_rad.value[i];
    }
    for (size_t j = 0; j + 1 < driveline->members; j++) {
        if (driveline->by_joint)
            driveline->joint_rad[j] = angles->joints_rad.value[j];
        if (line->joint_count > 0)
            driveline->kind[j] = line->joints[j];
    }
    for (size_t i = 0; i < line->yokes_rad.count; i++)
        driveline->yoke_rad[i + 1] = line->yokes_rad.value[i];
}

enum ht_status ht_driveline_from_sheet(struct ht_driveline *driveline,
                                       const struct ht_sheet *sheet,
                                       size_t driveline_index, size_t set_index,
                                       struct ht_error *err)
{
    const struct ht_sheet_driveline *line =
        driveline_index < sheet->driveline_count
            ? &sheet->drivelines[driveline_index]
            : &no_driveline;
    const struct ht_sheet_angles *angles = set_index < sheet->angles_count
                                               ? &sheet->angles[set_index]
                                               : &no_angles;
    *driveline = ht_driveline_blank();
    enum ht_status status = count_members(driveline, line, angles, err);
    if (status == HT_OK)
        status = check_counts(driveline, line, angles, err);
    if (status != HT_OK)
        return status;
    take_lists(driveline, line, angles);
    take_offsets(driveline, line, angles);
    driveline->drawing = angles->slopes_are == HT_SLOPES_DRAWING;
    driveline->suspension = angles->suspension;
    driveline->read_on = angles->read_on;
    driveline->driven_from = line->driven_from;
    driveline->gauge.accuracy_rad = angles->gauge_accuracy_rad;
    driveline->gauge.step_rad = angles->gauge_step_rad;
    driveline->gauge.set_up_rad = angles->gauge_set_up_rad;
    return HT_OK;
}
