/* Everything that one line's angles do. */
#include "halfturn/effects.h"

#include "effects_parts.h"
#include "model.h"
#include "texts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct ht_effects_options ht_effects_blank(void)
{
    struct ht_effects_options blank = { .torque_n_m = NAN,
                                        .centring_error_m = NAN,
                                        .cross_to_cross_m = NAN };
    for (size_t m = 0; m < HT_MEMBERS_MAX; m++) {
        blank.tube[m] = (struct ht_sheet_tube){ .joint_to_joint_m = NAN,
                                                .outer_m = NAN,
                                                .wall_m = NAN };
        blank.bearings[m] = (struct ht_bearings){ NAN, NAN, NAN };
    }
    return blank;
}

/* Tubes are listed by section, the first behind the first joint. */
static void take_tubes(struct ht_effects_options *options,
                       const struct ht_sheet_driveline *line)
{
    for (size_t i = 0; i < line->tube_count && i + 1 < HT_MEMBERS_MAX; i++)
        options->tube[i + 1] = line->tubes[i];
}

/* An end member: between its bearings, joint to the nearer one. A section:
 * front joint to its bearing. */
static void take_bearings(struct ht_effects_options *options,
                          const struct ht_sheet_driveline *line)
{
    for (size_t i = 0; i < line->bearing_spacing_count; i++) {
        const struct ht_named_numbers *given = &line->bearing_spacings_m[i];
        for (size_t m = 0; m < line->members.count && m < HT_MEMBERS_MAX; m++) {
            bool end = m == 0 || m + 1 == line->members.count;
            if (strcmp(given->name, line->members.text[m]) != 0)
                continue;
            if (end && given->list.count >= 2)
                options->bearings[m] =
                    (struct ht_bearings){ given->list.value[0],
                                          given->list.value[1], NAN };
            else if (!end && given->list.count == 1)
                options->bearings[m].centre_m = given->list.value[0];
        }
    }
}

struct ht_effects_options ht_effects_from_sheet(const struct ht_sheet *sheet,
                                                size_t driveline_index)
{
    struct ht_effects_options options = ht_effects_blank();
    options.torque_n_m = sheet->vehicle.torque_n_m;
    if (driveline_index >= sheet->driveline_count)
        return options;
    const struct ht_sheet_driveline *line = &sheet->drivelines[driveline_index];
    if (line->engaged == HT_ANSWER_NO)
        options.torque_n_m = NAN;
    options.spline_teeth =
        line->spline_teeth >= 1 ? (unsigned)line->spline_teeth : 0;
    options.centring_error_m = line->centring_error_m;
    options.cross_to_cross_m = line->cross_to_cross_m;
    take_tubes(&options, line);
    take_bearings(&options, line);
    return options;
}

static void name_members(struct ht_effects *effects,
                         const struct ht_driveline *driveline)
{
    for (size_t m = 0; m < driveline->members; m++) {
        char *name = effects->member[m];
        if (driveline->member[m])
            snprintf(name, sizeof effects->member[m], "%s",
                     driveline->member[m]);
        else
            snprintf(name, sizeof effects->member[m], ANGLES_MEMBER, m + 1);
    }
}

/* Each double joint alone, and all of them at their worst on top of what the
 * line leaves anyway. */
static void fill_doubles(struct ht_effects *effects,
                         const struct ht_model *model,
                         const struct ht_effects_options *options)
{
    double second = effects->second_now_rad;
    double cross = options->cross_to_cross_m;
    effects->cross_to_cross_taken = isnan(cross);
    cross = isnan(cross) ? HT_CROSS_TO_CROSS_M : cross;
    effects->centring_error_m = effects->cross_to_cross_m = NAN;
    for (size_t j = 0; j < model->joints; j++) {
        if (model->chain.kind[j] != HT_JOINT_DOUBLE_CARDAN ||
            !(options->centring_error_m >= 0))
            continue;
        struct ht_double_joint *joint =
            &effects->double_joint[effects->doubles++];
        *joint = ht_double_joint(model->joint_rad[j], options->centring_error_m,
                                 cross);
        joint->joint = j;
        second += joint->second_rad;
        effects->centring_error_m = options->centring_error_m;
        effects->cross_to_cross_m = cross;
    }
    effects->leftover_most_rad = ht_joint_bend_of_harmonic(second);
}

/* From the side alone every plane looks upright: the angle between two of
 * them is not known. */
static void fill_pairs(struct ht_effects *effects, const struct ht_model *model)
{
    for (size_t j = 0; j + 1 < model->joints; j++) {
        if (!ht_joint_is_cardan(model->chain.kind[j]) ||
            !ht_joint_is_cardan(model->chain.kind[j + 1]))
            continue;
        struct ht_pair_layout *pair = &effects->pair[effects->pairs++];
        *pair = ht_layout_of(&model->chain, j + 1);
        if (!effects->planes_known)
            pair->planes_rad = NAN;
    }
}

static void fill_clocking(struct ht_effects *effects,
                          const struct ht_model *model)
{
    const struct ht_chain *chain = &model->chain;
    if (!effects->planes_known || effects->sections == 0)
        return;
    for (size_t m = 1; m <= effects->sections; m++)
        effects->clocking[m] =
            ht_clock_section(chain, m, effects->spline_teeth);
    effects->together = effects->sections == 1
                            ? effects->clocking[1]
                            : ht_clock_all(chain, effects->spline_teeth);
}

/* Where no section's bearing is said, each but the last is taken to have it
 * at its rear joint, as centre bearings stand. */
static void fill_loads(struct ht_effects *effects, const struct ht_model *model,
                       const struct ht_effects_options *options)
{
    double length[HT_MEMBERS_MAX] = { 0 };
    struct ht_bearings bearings[HT_MEMBERS_MAX];
    bool said = false;
    effects->torque_n_m = options->torque_n_m;
    if (!(options->torque_n_m > 0))
        return;
    for (size_t m = 0; m < model->chain.members; m++) {
        length[m] = options->tube[m].joint_to_joint_m;
        bearings[m] = options->bearings[m];
        said = said || bearings[m].centre_m > 0;
    }
    for (size_t m = 1; m < effects->sections && !said; m++)
        bearings[m].centre_m = length[m];
    effects->centre_taken = !said && effects->sections > 1;
    struct ht_load load = { &model->chain, options->torque_n_m, length,
                            bearings };
    ht_loads_compute(&effects->loads, &load);
}

void ht_effects_compute(struct ht_effects *effects,
                        const struct ht_driveline *driveline,
                        const struct ht_angles *angles,
                        const struct ht_effects_options *options)
{
    struct ht_model model;
    ht_model_build(&model, driveline);
    memset(effects, 0, sizeof *effects);
    name_members(effects, driveline);
    struct ht_chain other = model.chain;
    other.from_rear = !other.from_rear;
    ht_chain_turn(&effects->turn, &model.chain);
    ht_chain_turn(&effects->turn_held, &other);
    size_t out = model.chain.from_rear ? 0 : model.joints;
    effects->second_now_rad = effects->turn.member[out].harmonic_rad[0];
    effects->leftover_now_rad =
        ht_joint_bend_of_harmonic(effects->second_now_rad);
    effects->planes_known = !model.side_view_only;
    effects->sections = model.joints - 1;
    effects->spline_teeth = options->spline_teeth;
    fill_doubles(effects, &model, options);
    fill_pairs(effects, &model);
    fill_clocking(effects, &model);
    fill_loads(effects, &model, options);
    ht_road_fill(&effects->road, angles);
    ht_limit_speeds_fill(effects, angles);
    ht_criticals_fill(effects, angles, options);
}
