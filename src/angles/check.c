/* Whether a driveline and its readings make sense at all. */
#include "check.h"
#include "texts.h"

#include "halfturn/text.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>

const char *ht_member_name(const struct ht_driveline *driveline, size_t i,
                           char *room, size_t size)
{
    if (driveline->member[i])
        return driveline->member[i];
    snprintf(room, size, ANGLES_MEMBER, i + 1);
    return room;
}

static bool slope_was_read(const struct ht_sheet_slope *slope)
{
    if (!isnan(slope->flip_a_rad) && !isnan(slope->flip_b_rad))
        return true;
    if (slope->opposite_rad.count == 2)
        return isfinite(slope->opposite_rad.value[0] +
                        slope->opposite_rad.value[1]);
    for (size_t i = 0; i < slope->readings_rad.count; i++)
        if (!isfinite(slope->readings_rad.value[i]))
            return false;
    return slope->readings_rad.count > 0;
}

static enum ht_status check_readings(const struct ht_driveline *driveline,
                                     struct ht_error *err)
{
    char room[32];
    for (size_t i = 0; i < driveline->members; i++)
        if (!driveline->by_joint && !slope_was_read(&driveline->slope[i]))
            return ht_fail(err, ANGLES_MEMBER_NOT_READ,
                           ht_member_name(driveline, i, room, sizeof room),
                           driveline->members);
    for (size_t j = 0; j + 1 < driveline->members; j++)
        if (driveline->by_joint && !isfinite(driveline->joint_rad[j]))
            return ht_fail(err, ANGLES_JOINT_NOT_READ, j + 1,
                           driveline->members - 1);
    return HT_OK;
}

static enum ht_status check_surface(const struct ht_driveline *driveline,
                                    struct ht_error *err)
{
    bool strap = driveline->read_on == HT_SURFACE_STRAP;
    for (size_t i = 0; i < driveline->members; i++)
        strap = strap || driveline->slope[i].read_on == HT_SURFACE_STRAP;
    return strap ? ht_fail(err, ANGLES_STRAP) : HT_OK;
}

static bool needs_gauge(const struct ht_sheet_slope *slope)
{
    return (!isnan(slope->flip_a_rad) && !isnan(slope->flip_b_rad)) ||
           slope->opposite_rad.count > 0 || slope->crosswise_rad.count > 0 ||
           slope->is_face;
}

static enum ht_status check_kinds(const struct ht_driveline *driveline,
                                  struct ht_error *err)
{
    char room[32], shown[40];
    for (size_t i = 0; !driveline->by_joint && i < driveline->members; i++) {
        const struct ht_sheet_slope *slope = &driveline->slope[i];
        const char *name = ht_member_name(driveline, i, room, sizeof room);
        if (driveline->drawing && needs_gauge(slope))
            return ht_fail(err, ANGLES_DRAWING_READ, name);
        for (size_t k = 0; slope->is_face && k < slope->readings_rad.count; k++)
            if (slope->readings_rad.value[k] < HT_PI / 4 - 1e-9) {
                ht_format_number(shown, sizeof shown,
                                 slope->readings_rad.value[k] * HT_DEG_PER_RAD,
                                 1);
                return ht_fail(err, ANGLES_FACE_NOT_ACROSS, name, shown);
            }
    }
    return HT_OK;
}

/* Offsets: one for every joint centre, with every shaft's length. */
static enum ht_status check_shaft(const struct ht_driveline *driveline,
                                  size_t m, struct ht_error *err)
{
    char room[32], far[40], long_mm[40];
    const char *name = ht_member_name(driveline, m, room, sizeof room);
    double length = driveline->joint_to_joint_m[m];
    double across = driveline->offset_m[m] - driveline->offset_m[m - 1];
    if (!(length > 0))
        return ht_fail(err, ANGLES_OFFSET_LENGTH, name);
    if (!isnan(driveline->heading_rad[m]))
        return ht_fail(err, ANGLES_OFFSET_HEADING, name);
    if (fabs(across) <= 0.6 * length)
        return HT_OK;
    ht_format_number(far, sizeof far, fabs(across) * 1000, 0);
    ht_format_number(long_mm, sizeof long_mm, length * 1000, 0);
    return ht_fail(err, ANGLES_OFFSET_FAR, name, far, long_mm);
}

static enum ht_status check_offsets(const struct ht_driveline *driveline,
                                    struct ht_error *err)
{
    size_t joints = driveline->members - 1, known = 0, missing = 0;
    enum ht_status status = HT_OK;
    for (size_t j = joints; j-- > 0;) {
        known += isnan(driveline->offset_m[j]) ? 0 : 1;
        missing = isnan(driveline->offset_m[j]) ? j + 1 : missing;
    }
    if (known == 0)
        return HT_OK;
    if (known < joints)
        return ht_fail(err, ANGLES_OFFSET_MISSING, missing, joints);
    for (size_t m = 1; m < joints && status == HT_OK; m++)
        status = check_shaft(driveline, m, err);
    return status;
}

enum ht_status ht_driveline_check(const struct ht_driveline *driveline,
                                  struct ht_error *err)
{
    const struct ht_gauge *gauge = &driveline->gauge;
    if (driveline->members < 2 || driveline->members > HT_MEMBERS_MAX)
        return ht_fail(err, ANGLES_MEMBER_COUNT, driveline->members,
                       HT_MEMBERS_MAX);
    if (gauge->accuracy_rad < 0 || gauge->step_rad < 0 ||
        gauge->set_up_rad < 0 || gauge->zero_share < 0 || gauge->zero_share > 1)
        return ht_fail(err, ANGLES_GAUGE_OFF);
    enum ht_status status = check_readings(driveline, err);
    if (status == HT_OK)
        status = check_surface(driveline, err);
    if (status == HT_OK)
        status = check_kinds(driveline, err);
    if (status == HT_OK && !driveline->by_joint)
        status = check_offsets(driveline, err);
    return status;
}
