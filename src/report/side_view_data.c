/* What the side view and the plan view show, out of a workup. */
#include "figure.h"

#include "common/constants.h"

#include <math.h>

bool side_view_from(struct side_view *view, const struct ht_workup *workup,
                    const struct shown_set *set)
{
    const struct ht_sheet *sheet = workup->sheet;
    const struct ht_sheet_driveline *line =
        set->driveline < sheet->driveline_count
            ? &sheet->drivelines[set->driveline]
            : NULL;
    view->members = set->angles->joints + 1;
    if (view->members < 2 || set->set >= sheet->angles_count)
        return false;
    const struct ht_numbers *by_joint = &sheet->angles[set->set].joints_rad;
    double sum = 0;
    view->from_above = false;
    view->from_rear = line && line->driven_from == HT_END_REAR;
    for (size_t i = 0; i < view->members; i++) {
        view->name[i] = member_name(workup, set->driveline, i);
        view->slope_rad[i] = member_slope_rad(workup, set->set, i);
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
        view->angle_rad[j] = set->angles->joint[j].angle_rad.value;
    return true;
}

bool plan_view_from(struct side_view *view, const struct ht_workup *workup,
                    const struct shown_set *set)
{
    const struct ht_sheet *sheet = workup->sheet;
    if (set->angles->side_view_only || !side_view_from(view, workup, set) ||
        sheet->angles[set->set].headings_rad.count != view->members)
        return false;
    const double *heading_rad = sheet->angles[set->set].headings_rad.value;
    bool straight = true;
    for (size_t i = 0; i < view->members; i++) {
        view->slope_rad[i] = heading_rad[i];
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
