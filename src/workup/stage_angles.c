/* Turning parts and joint angles: what the sheet alone can answer. */
#include "stages.h"

#include "common/constants.h"

#include <math.h>

static unsigned gear_of(const struct ht_sheet *sheet)
{
    if (sheet->drive_count == 0 || !(sheet->drives[0].gear >= 1))
        return 0;
    return (unsigned)sheet->drives[0].gear;
}

enum ht_status ht_stage_rotation(const struct stage *stage)
{
    enum ht_status status =
        ht_rotation_from_vehicle(&stage->workup->rotation,
                                 &stage->sheet->vehicle,
                                 gear_of(stage->sheet), stage->err);
    stage->workup->has_rotation = status == HT_OK;
    return status;
}

/* Figures written in the sheet itself: the vehicle maker's own. */
static bool own_limits(const struct ht_sheet_limits *given,
                       struct ht_limit_set *own)
{
    *own = (struct ht_limit_set){
        .id = "sheet",
        .title = "Figures of the case sheet",
        .source = "given in the case sheet",
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
        ht_stage_missing(stage->workup,
                         "No top speed and no complaint speed: the angles' "
                         "effect on the axle has no figure. Add top_speed_km_h "
                         "under vehicle.");
    else if (isnan(shaft_rad_s))
        ht_stage_missing(stage->workup,
                         "No axle ratio or no tyre: the shaft's speed is not "
                         "known. Add axle_teeth and tyre under vehicle.");
    else if (isnan(stage->sheet->vehicle.top_speed_m_s))
        ht_stage_assumed(stage->workup,
                         "No top speed is given: the complaint's highest "
                         "speed is used.");
}

static bool has_readings(const struct ht_sheet *sheet)
{
    return sheet->angles_count > 0 && (sheet->angles[0].slope_count > 0 ||
                                       sheet->angles[0].joints_rad.count > 0);
}

static enum ht_status compute(const struct stage *stage,
                              const struct ht_driveline *driveline)
{
    struct ht_workup *workup = stage->workup;
    const struct ht_sheet *sheet = stage->sheet;
    struct ht_limit_set own;
    double speed = ht_stage_highest_speed(sheet);
    struct ht_angles_options options = {
        .limits = &workup->limits,
        .limit_set = sheet->limits.name,
        .own = own_limits(&sheet->limits, &own) ? &own : NULL,
        .speed_m_s = speed,
        .shaft_rad_s = shaft_speed_rad_s(&workup->rotation, speed),
    };
    say_speed(stage, speed, options.shaft_rad_s);
    if (!options.limit_set && !options.own)
        ht_stage_assumed(workup, "No limits are named: every published set "
                                 "is shown.");
    enum ht_status status = ht_angles_compute(&workup->angles, driveline,
                                              &options, stage->err);
    workup->has_angles = status == HT_OK;
    return status;
}

/* A set that is not there is refused also where nothing is judged by it. */
static enum ht_status read_limits(const struct stage *stage)
{
    const struct ht_limit_set *named;
    const char *name = stage->sheet->limits.name;
    struct ht_limits *limits = &stage->workup->limits;
    enum ht_status status =
        ht_limits_read(limits, stage->options->limits_path, stage->err);
    return status == HT_OK && name
               ? ht_limits_find(&named, limits, name, stage->err)
               : status;
}

enum ht_status ht_stage_angles(const struct stage *stage)
{
    struct ht_driveline driveline;
    enum ht_status status = read_limits(stage);
    if (status != HT_OK)
        return status;
    if (!has_readings(stage->sheet)) {
        ht_stage_missing(stage->workup, "No joint angles were measured.");
        return HT_OK;
    }
    status = ht_driveline_from_sheet(&driveline, stage->sheet, 0, 0,
                                     stage->err);
    return status == HT_OK ? compute(stage, &driveline) : status;
}
