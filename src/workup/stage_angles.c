/* Turning parts and joint angles: what the sheet alone can answer. */
#include "slice.h"
#include "stages.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

static unsigned gear_of(const struct ht_sheet *sheet)
{
    if (sheet->drive_count == 0 || !(sheet->drives[0].gear >= 1))
        return 0;
    return (unsigned)sheet->drives[0].gear;
}

/* ---- parts ------------------------------------------------------------- */

struct parts_request {
    struct ht_sheet sheet;      /* vehicle */
    unsigned gear;
};

static bool hash_parts(struct ht_digest *digest, const void *from)
{
    const struct parts_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    ht_digest_count(digest, request->gear);
    return true;
}

static enum ht_status make_parts(void *result, const void *from,
                                 struct ht_error *err)
{
    const struct parts_request *request = from;
    return ht_rotation_from_vehicle(result, &request->sheet.vehicle,
                                    request->gear, err);
}

static enum ht_status get_parts(const struct stage *stage, enum ht_stage which,
                                unsigned gear)
{
    static const char *const read[] = { "vehicle", NULL };
    const struct stage_kind kind = { .stage = which,
                                     .size = sizeof(struct ht_rotation),
                                     .hash = hash_parts,
                                     .make = make_parts };
    struct parts_request request = { .gear = gear };
    const void *result;
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        stage->workup->rotation = *(const struct ht_rotation *)result;
    return status;
}

enum ht_status ht_stage_rotation(const struct stage *stage)
{
    enum ht_status status =
        get_parts(stage, HT_STAGE_PARTS, gear_of(stage->sheet));
    stage->workup->has_rotation = status == HT_OK;
    return status;
}

enum ht_status ht_stage_gear(const struct stage *stage, unsigned gear)
{
    return get_parts(stage, HT_STAGE_GEAR, gear);
}

/* ---- limits ------------------------------------------------------------ */

static bool hash_file(struct ht_digest *digest, const void *file)
{
    return ht_stage_file_hash(digest, file);
}

static enum ht_status make_limits(void *result, const void *from,
                                  struct ht_error *err)
{
    const struct stage_file *file = from;
    enum ht_status status = ht_limits_read(result, file->path, err);
    return status == HT_OK ? ht_stage_file_same(file, err) : status;
}

static enum ht_status get_limits(const struct stage *stage)
{
    static const struct stage_kind kind = { .stage = HT_STAGE_LIMITS,
                                            .size = sizeof(struct ht_limits),
                                            .hash = hash_file,
                                            .make = make_limits };
    struct stage_file file;
    const void *result;
    enum ht_status status =
        ht_stage_file_option(&file, stage, stage->options->limits_path);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &file, &result);
    if (status == HT_OK)
        stage->workup->limits = *(const struct ht_limits *)result;
    ht_stage_file_close(&file);
    return status;
}

/* ---- angles ------------------------------------------------------------ */

struct angles_request {
    struct ht_sheet sheet;      /* driveline, angles, limits */
    const struct ht_limits *limits;
    double speed_m_s, shaft_rad_s;
};

/* Figures written in the sheet itself: the vehicle maker's own. */
static bool own_limits(const struct ht_sheet_limits *given,
                       struct ht_limit_set *own)
{
    *own = (struct ht_limit_set){
        .id = "sheet",
        .title = WORKUP_OWN_LIMITS,
        .source = WORKUP_OWN_SOURCE,
        .joint_max_rad = given->joint_max_rad,
        .joint_min_rad = given->joint_min_rad,
        .difference_max_rad = given->difference_max_rad,
        .axle_rad_s2 = given->axle_rad_s2,
        .shaft_rad_s2 = given->shaft_rad_s2,
        .leftover_max_rad = NAN,
        .double_joint_max_rad = NAN,
        .odd_max_rad = NAN,
        .alone_max_rad = NAN,
    };
    return !isnan(own->joint_max_rad) || !isnan(own->joint_min_rad) ||
           !isnan(own->difference_max_rad) || !isnan(own->axle_rad_s2) ||
           !isnan(own->shaft_rad_s2);
}

static double shaft_speed_rad_s(const struct ht_rotation *rotation,
                                double speed_m_s)
{
    return 2 * HT_PI * speed_m_s / rotation->circumference_m *
           rotation->shaft_turns;
}

static void say_speed(const struct stage *stage, double speed_m_s,
                      double shaft_rad_s)
{
    if (isnan(speed_m_s))
        ht_stage_missing(stage->workup, WORKUP_NO_SPEED_FOR_ANGLES);
    else if (isnan(shaft_rad_s))
        ht_stage_missing(stage->workup, WORKUP_NO_SHAFT_SPEED);
    else if (isnan(stage->sheet->vehicle.top_speed_m_s))
        ht_stage_assumed(stage->workup, WORKUP_COMPLAINT_SPEED_USED);
}

static bool has_readings(const struct ht_sheet *sheet)
{
    return sheet->angles_count > 0 && (sheet->angles[0].slope_count > 0 ||
                                       sheet->angles[0].joints_rad.count > 0);
}

static bool hash_angles(struct ht_digest *digest, const void *from)
{
    const struct angles_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    ht_digest_number(digest, request->speed_m_s);
    ht_digest_number(digest, request->shaft_rad_s);
    return true;
}

static enum ht_status make_angles(void *result, const void *from,
                                  struct ht_error *err)
{
    const struct angles_request *request = from;
    struct ht_driveline driveline;
    struct ht_limit_set own;
    struct ht_angles_options options = {
        .limits = request->limits,
        .limit_set = request->sheet.limits.name,
        .own = own_limits(&request->sheet.limits, &own) ? &own : NULL,
        .speed_m_s = request->speed_m_s,
        .shaft_rad_s = request->shaft_rad_s,
    };
    enum ht_status status =
        ht_driveline_from_sheet(&driveline, &request->sheet, 0, 0, err);
    return status == HT_OK
               ? ht_angles_compute(result, &driveline, &options, err)
               : status;
}

static void say_assumed_limits(const struct stage *stage)
{
    struct ht_limit_set own;
    const struct ht_sheet_limits *limits = &stage->sheet->limits;
    if (!limits->name && !own_limits(limits, &own))
        ht_stage_assumed(stage->workup, WORKUP_ALL_SETS_SHOWN);
}

static enum ht_status get_angles(const struct stage *stage)
{
    static const char *const read[] = { "driveline", "angles", "limits", NULL };
    static const struct stage_kind kind = { .stage = HT_STAGE_ANGLES,
                                            .uses = USES(LIMITS),
                                            .size = sizeof(struct ht_angles),
                                            .hash = hash_angles,
                                            .make = make_angles };
    struct ht_workup *workup = stage->workup;
    struct angles_request request = {
        .limits = &workup->limits,
        .speed_m_s = ht_stage_highest_speed(stage->sheet),
    };
    const void *result;
    request.shaft_rad_s =
        shaft_speed_rad_s(&workup->rotation, request.speed_m_s);
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    say_speed(stage, request.speed_m_s, request.shaft_rad_s);
    say_assumed_limits(stage);
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        workup->angles = *(const struct ht_angles *)result;
    workup->has_angles = status == HT_OK;
    return status;
}

/* A set that is not there is refused also where nothing is judged by it. */
static enum ht_status read_limits(const struct stage *stage)
{
    const struct ht_limit_set *named;
    const char *name = stage->sheet->limits.name;
    enum ht_status status = get_limits(stage);
    return status == HT_OK && name
               ? ht_limits_find(&named, &stage->workup->limits, name,
                                stage->err)
               : status;
}

enum ht_status ht_stage_angles(const struct stage *stage)
{
    enum ht_status status = read_limits(stage);
    if (status != HT_OK)
        return status;
    if (!has_readings(stage->sheet)) {
        ht_stage_missing(stage->workup, WORKUP_NO_ANGLES);
        return HT_OK;
    }
    return get_angles(stage);
}
