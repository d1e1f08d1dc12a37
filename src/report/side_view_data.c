/* What the side view and the plan view show, out of a workup. */
#include "figure.h"

#include "common/constants.h"

#include <math.h>

bool side_view_from(struct side_view *view, const struct ht_workup *workup)
{
    const struct ht_sheet *sheet = workup->sheet;
    const struct ht_sheet_driveline *line =
        sheet->driveline_count ? &sheet->drivelines[0] : NULL;
    view->members = workup->angles.joints + 1;
    view->from_above = false;
    if (!workup->has_angles || view->members < 2 || sheet->angles_count == 0)
        return false;
    const struct ht_numbers *by_joint = &sheet->angles[0].joints_rad;
    double sum = 0;
    for (size_t i = 0; i < view->members; i++) {
        view->name[i] = member_name(workup, i);
        view->slope_rad[i] = member_slope_rad(workup, i);
        if (isnan(view->slope_rad[i]) && by_joint->count + 1 == view->members) {
            sum += i ? by_joint->value[i - 1] : 0;
            view->slope_rad[i] = sum;
        }
        view->length[i] = line && i >= 1 && i - 1 < line->tube_count
                              ? line->tubes[i - 1].joint_to_joint_m
                              : NAN;
        if (isnan(view->slope_rad[i]))
            return false;
    }
    for (size_t j = 0; j + 1 < view->members; j++)
        view->angle_rad[j] = workup->angles.joint[j].angle_rad.value;
    return true;
}

bool plan_view_from(struct side_view *view, const struct ht_workup *workup)
{
    const struct ht_sheet *sheet = workup->sheet;
    if (workup->angles.side_view_only || sheet->angles_count == 0 ||
        !side_view_from(view, workup) ||
        sheet->angles[0].headings_rad.count != view->members)
        return false;
    bool straight = true;
    for (size_t i = 0; i < view->members; i++) {
        view->slope_rad[i] = sheet->angles[0].headings_rad.value[i];
        straight = straight && view->slope_rad[i] == 0;
    }
    for (size_t j = 0; j + 1 < view->members; j++)
        view->angle_rad[j] = fabs(view->slope_rad[j + 1] - view->slope_rad[j]);
    view->from_above = true;
    return !straight;
}

int side_view_times(const struct side_view *view)
{
    static const int choices[] = { 10, 8, 6, 4, 3, 2 };
    double steepest = 0;
    for (size_t i = 0; i < view->members; i++)
        steepest = fmax(steepest, fabs(view->slope_rad[i]));
    for (size_t i = 0; i < sizeof choices / sizeof *choices; i++)
        if (choices[i] * steepest < 35 * HT_RAD_PER_DEG)
            return choices[i];
    return 1;
}
