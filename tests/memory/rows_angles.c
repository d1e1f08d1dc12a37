/* joint.h, angles.h, effects.h, rotation.h */
#include "row.h"

#include "halfturn/angles.h"
#include "halfturn/effects.h"
#include "halfturn/joint.h"
#include "halfturn/rotation.h"

#include <math.h>

static enum ht_status bend_joint(struct ht_error *err)
{
    (void)err;
    watch_begin();
    double sum = ht_joint_driven_rad(0.1, 0.5) + ht_joint_ratio(0.1, 0.5) +
                 ht_joint_acceleration(0.1, 0.5) +
                 ht_joint_peak_acceleration(0.1).factor +
                 ht_joint_equal_speed_rad(0.1) +
                 ht_joint_peak_error_rad(0.1) +
                 ht_joint_harmonic_rad(0.1, 1) + ht_joint_unevenness(0.1) +
                 ht_joint_bend_of_unevenness(0.01) +
                 ht_joint_bend_of_harmonic(0.002) +
                 ht_joint_couples(0.1, 900).steady_n_m +
                 ht_working_angle_rad(0.1, 0, 0.05, 0.02) +
                 ht_critical_speed_rad_s(1.2, 0.0762, 0.0018, 2.1e11, 7850);
    watch_end();
    ROW_DEMAND(isfinite(sum));
    return HT_OK;
}

static enum ht_status follow_chain(struct ht_error *err)
{
    const struct ht_chain chain = { .members = 3,
                                    .slope_rad = { 0.05, 0.1, 0.06 } };
    double error_rad[64];
    (void)err;
    watch_begin();
    struct ht_chain_motion motion = ht_chain_exact(&chain);
    ht_chain_errors(&chain, 64, error_rad);
    double size = ht_phasor_size(ht_chain_closed_form(&chain)) +
                  ht_chain_worst_section(&chain);
    watch_end();
    ROW_DEMAND(isfinite(motion.leftover_rad) && isfinite(size));
    return HT_OK;
}

static enum ht_status take_driveline(struct ht_error *err)
{
    watch_begin();
    struct ht_driveline driveline = ht_driveline_blank();
    enum ht_status status =
        ht_driveline_from_sheet(&driveline, &given.sheet, 0, 0, err);
    watch_end();
    ROW_DEMAND(driveline.members >= 2);
    return status;
}

static enum ht_status read_limits(struct ht_error *err)
{
    static struct ht_limits limits;
    watch_begin();
    enum ht_status status = ht_limits_read(&limits, NULL, err);
    watch_end();
    ROW_DEMAND((limits.sets > 0) == (status == HT_OK));
    return status;
}

static enum ht_status find_limits(struct ht_error *err)
{
    const struct ht_limits *limits = &given.workup.limits;
    const struct ht_limit_set *found = NULL;
    watch_begin();
    enum ht_status status = ht_limits_find(&found, limits, "no such", err);
    ROW_DEMAND(status == HT_BAD_FILE && !found);
    status = ht_limits_find(&found, limits, limits->set[0].id, err);
    watch_end();
    ROW_DEMAND(found == &limits->set[0]);
    return status;
}

static enum ht_status compute_angles(struct ht_error *err)
{
    static struct ht_angles angles;
    const struct ht_angles_options options = {
        .limits = &given.workup.limits, .shaft_rad_s = 300, .speed_m_s = 30
    };
    watch_begin();
    enum ht_status status =
        ht_angles_compute(&angles, &given.driveline, &options, err);
    watch_end();
    ROW_DEMAND((angles.joints > 0) == (status == HT_OK));
    ROW_DEMAND((angles.verdicts > 0) == (status == HT_OK));
    return status;
}

static enum ht_status bear_loads(struct ht_error *err)
{
    static struct ht_turn turn;
    static struct ht_loads loads;
    const struct ht_chain chain = { .members = 3,
                                    .slope_rad = { 0.05, 0.1, 0.06 } };
    const double length[] = { 1, 1.2, 1 };
    const struct ht_bearings bearings[3] = { { 0.2, 0.15, NAN },
                                             { NAN, NAN, NAN },
                                             { 0.2, 0.15, NAN } };
    const struct ht_load load = { &chain, 900, length, bearings };
    double force[HT_SUPPORTS_MAX + 2][3], young, density;
    (void)err;
    watch_begin();
    ht_chain_turn(&turn, &chain);
    ht_loads_compute(&loads, &load);
    ht_supports_at(force, &load, 0.3);
    struct ht_pair_layout pair = ht_layout_of(&chain, 1);
    double sum = ht_clock_section(&chain, 1, 0).second_rad +
                 ht_clock_all(&chain, 31).second_rad +
                 ht_double_joint(0.1, 0.001, 0.08).second_rad +
                 ht_centre_bearing_bound(900, 0.05, 0.04, 0.7);
    bool known = ht_tube_material("steel", &young, &density);
    watch_end();
    ROW_DEMAND(loads.supports == 4 && isfinite(sum) && known);
    ROW_DEMAND(ht_layout_name(pair.layout) && ht_whirl_name(HT_WHIRL_CLEAR));
    return HT_OK;
}

static enum ht_status compute_effects(struct ht_error *err)
{
    static struct ht_effects effects;
    static struct ht_angles angles;
    const struct ht_angles_options asked = { .limits = &given.workup.limits,
                                             .shaft_rad_s = 300,
                                             .speed_m_s = 30 };
    enum ht_status status =
        ht_angles_compute(&angles, &given.driveline, &asked, err);
    if (status != HT_OK)
        return status;
    watch_begin();
    struct ht_effects_options options = ht_effects_blank();
    options = ht_effects_from_sheet(&given.sheet, 0);
    ht_effects_compute(&effects, &given.driveline, &angles, &options);
    ht_road_fill(&effects.road, &angles);
    watch_end();
    ROW_DEMAND(effects.road.points > 0 && effects.turn.members > 1);
    return HT_OK;
}

static enum ht_status list_rules(struct ht_error *err)
{
    static struct ht_rules rules;
    struct ht_angles_options options = {
        .limits = &given.workup.limits,
        .limit_set = "light_truck",
        .shaft_rad_s = 300,
        .speed_m_s = 20,
    };
    struct ht_chain line = { .members = 2 };
    double value[HT_RULES_MAX];
    watch_begin();
    enum ht_status status =
        ht_rules_list(&rules, &given.driveline, &options, err);
    watch_end();
    ROW_DEMAND(status == HT_OK && rules.rules > 0);
    rules.rules = 1;
    ht_rules_values(&rules, &line, value);
    ht_rules_values_closed_form(&rules, &line, value);
    return status;
}

static enum ht_status read_chain(struct ht_error *err)
{
    struct ht_chain line;
    watch_begin();
    enum ht_status status = ht_chain_read(&line, &given.driveline, err);
    watch_end();
    return status;
}

static enum ht_status draw_lines(struct ht_error *err)
{
    struct ht_chain line[8];
    watch_begin();
    enum ht_status status = ht_chain_draw(line, 8, &given.driveline, err);
    watch_end();
    return status;
}

static enum ht_status turn_parts(struct ht_error *err)
{
    static struct ht_rotation rotation;
    struct ht_coincidence pair[8];
    struct ht_hz_match match[8];
    struct ht_image image[8];
    struct ht_tyre tyre;
    watch_begin();
    enum ht_status status = ht_tyre_read(&tyre, "205/55R16", err);
    if (status == HT_OK)
        status = ht_rotation_from_vehicle(&rotation, &given.sheet.vehicle, 0,
                                          err);
    (void)ht_rotation_coincide(&rotation, 0.01, pair, 8);
    size_t found = ht_rotation_match_hz(&rotation, 12, 20, 25, 0.05, match, 8);
    (void)ht_rotation_images(&rotation, 100, 40, image, 8);
    double hz = ht_order_hz(&rotation, &rotation.order[0], 25) +
                ht_order_per_wheel(&rotation, &rotation.order[0]) +
                ht_order_image_hz(70, 100) +
                ht_rotation_line_turns(&rotation, NULL) +
                (double)ht_sheet_driveline_of(&given.sheet, 0);
    watch_end();
    ROW_DEMAND(found <= 8 && isfinite(hz) && rotation.orders > 0);
    return status;
}

const struct row rows_angles[] = {
    { "ht_joint_driven_rad", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_ratio", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_acceleration", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_peak_acceleration", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_equal_speed_rad", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_peak_error_rad", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_harmonic_rad", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_unevenness", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_bend_of_unevenness", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_bend_of_harmonic", NO_MEMORY_NEEDED, bend_joint },
    { "ht_joint_couples", NO_MEMORY_NEEDED, bend_joint },
    { "ht_working_angle_rad", NO_MEMORY_NEEDED, bend_joint },
    { "ht_critical_speed_rad_s", NO_MEMORY_NEEDED, bend_joint },
    { "ht_chain_exact", NO_MEMORY_NEEDED, follow_chain },
    { "ht_chain_errors", NO_MEMORY_NEEDED, follow_chain },
    { "ht_chain_closed_form", NO_MEMORY_NEEDED, follow_chain },
    { "ht_chain_worst_section", NO_MEMORY_NEEDED, follow_chain },
    { "ht_phasor_size", NO_MEMORY_NEEDED, follow_chain },
    { "ht_driveline_blank", NO_MEMORY_NEEDED, take_driveline },
    { "ht_driveline_from_sheet", NO_MEMORY_NEEDED, take_driveline },
    { "ht_limits_read", ALLOCATES, read_limits },
    { "ht_limits_find", NO_MEMORY_NEEDED, find_limits },
    { "ht_angles_compute", ALLOCATES, compute_angles },
    { "ht_chain_turn", NO_MEMORY_NEEDED, bear_loads },
    { "ht_double_joint", NO_MEMORY_NEEDED, bear_loads },
    { "ht_layout_of", NO_MEMORY_NEEDED, bear_loads },
    { "ht_layout_name", NO_MEMORY_NEEDED, bear_loads },
    { "ht_clock_section", NO_MEMORY_NEEDED, bear_loads },
    { "ht_clock_all", NO_MEMORY_NEEDED, bear_loads },
    { "ht_loads_compute", NO_MEMORY_NEEDED, bear_loads },
    { "ht_supports_at", NO_MEMORY_NEEDED, bear_loads },
    { "ht_centre_bearing_bound", NO_MEMORY_NEEDED, bear_loads },
    { "ht_tube_material", NO_MEMORY_NEEDED, bear_loads },
    { "ht_whirl_name", NO_MEMORY_NEEDED, bear_loads },
    { "ht_effects_blank", NO_MEMORY_NEEDED, compute_effects },
    { "ht_effects_from_sheet", NO_MEMORY_NEEDED, compute_effects },
    { "ht_effects_compute", NO_MEMORY_NEEDED, compute_effects },
    { "ht_road_fill", NO_MEMORY_NEEDED, compute_effects },
    { "ht_rules_list", NO_MEMORY_NEEDED, list_rules },
    { "ht_rules_values", NO_MEMORY_NEEDED, list_rules },
    { "ht_rules_values_closed_form", NO_MEMORY_NEEDED, list_rules },
    { "ht_chain_read", NO_MEMORY_NEEDED, read_chain },
    { "ht_chain_draw", ALLOCATES, draw_lines },
    { "ht_tyre_read", NO_MEMORY_NEEDED, turn_parts },
    { "ht_rotation_from_vehicle", NO_MEMORY_NEEDED, turn_parts },
    { "ht_rotation_coincide", NO_MEMORY_NEEDED, turn_parts },
    { "ht_rotation_match_hz", NO_MEMORY_NEEDED, turn_parts },
    { "ht_rotation_images", NO_MEMORY_NEEDED, turn_parts },
    { "ht_rotation_line_turns", NO_MEMORY_NEEDED, turn_parts },
    { "ht_sheet_driveline_of", NO_MEMORY_NEEDED, turn_parts },
    { "ht_order_hz", NO_MEMORY_NEEDED, turn_parts },
    { "ht_order_per_wheel", NO_MEMORY_NEEDED, turn_parts },
    { "ht_order_image_hz", NO_MEMORY_NEEDED, turn_parts },
    { 0 },
};
