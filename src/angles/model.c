#include "model.h"

#include "interval.h"
#include "steps.h"

#include "common/constants.h"

#include <math.h>

/* A shaft as long as `length` whose ends lie `across` further left. */
static double heading_of(const struct ht_model *model, size_t m,
                         const struct ht_sources *sources, double slope_rad)
{
    double across = sources->offset_m[m] - sources->offset_m[m - 1];
    double share = across / model->length_m[m];
    if (model->drawing) { /* length over 1, tan h, tan v */
        double rest = sqrt(fmax(1e-12, 1 - share * share));
        return atan(share / (rest * cos(slope_rad)));
    }
    return asin(fmax(-1, fmin(1, share / cos(slope_rad))));
}

static void place_slopes(const struct ht_model *model,
                         const struct ht_sources *sources, double *slope_rad)
{
    if (!model->by_joint) {
        for (size_t i = 0; i < model->readings; i++)
            slope_rad[i] = sources->value_rad[i];
        return;
    }
    slope_rad[0] = 0;
    for (size_t i = 0; i < model->readings; i++)
        slope_rad[i + 1] = slope_rad[i] + sources->value_rad[i];
}

void ht_model_place(const struct ht_model *model,
                    const struct ht_sources *sources, struct ht_chain *chain)
{
    place_slopes(model, sources, chain->slope_rad);
    for (size_t m = 0; m <= model->joints; m++) {
        double *slope = &chain->slope_rad[m], *heading = &chain->heading_rad[m];
        bool by_offset = model->by_offsets && m > 0 && m < model->joints;
        *heading = by_offset ? heading_of(model, m, sources, *slope)
                             : sources->heading_rad[m];
        if (model->drawing) /* d ~ (1, tan h, tan v) */
            *slope = atan(tan(*slope) * cos(*heading));
    }
}

static void take_readings(struct ht_model *model,
                          const struct ht_driveline *driveline)
{
    struct ht_gauge gauge = ht_gauge_filled(driveline->gauge);
    model->zero_u_rad = ht_zero_u_rad(gauge);
    model->readings = model->by_joint ? model->joints : driveline->members;
    for (size_t i = 0; i < model->readings; i++)
        model->reading[i] =
            model->by_joint ? ht_reading_of_joint(driveline->joint_rad[i],
                                                  gauge, driveline->read_on)
                            : ht_reading_of_slope(&driveline->slope[i], gauge,
                                                  driveline->read_on);
}

static bool headings_known(const struct ht_driveline *driveline)
{
    for (size_t i = 0; i < driveline->members; i++)
        if (isnan(driveline->heading_rad[i]))
            return false;
    return !driveline->by_joint;
}

static void take_plan(struct ht_model *model,
                      const struct ht_driveline *driveline)
{
    model->by_offsets = !driveline->by_joint && !isnan(driveline->offset_m[0]);
    model->side_view_only = !model->by_offsets && !headings_known(driveline);
    model->drawing = driveline->drawing && !driveline->by_joint;
    for (size_t i = 0; i < driveline->members && !model->side_view_only; i++)
        model->read.heading_rad[i] =
            isnan(driveline->heading_rad[i]) ? 0 : driveline->heading_rad[i];
    for (size_t i = 0; i < driveline->members; i++)
        model->length_m[i] = driveline->joint_to_joint_m[i];
    for (size_t j = 0; model->by_offsets && j < model->joints; j++)
        model->read.offset_m[j] = driveline->offset_m[j];
    if (model->by_offsets)
        model->offset_u_m = HT_OFFSET_U_MM / 1000;
    if (!model->side_view_only)
        model->heading_u_rad = isnan(driveline->heading_u_rad)
                                   ? HT_HEADING_U_DEG * HT_RAD_PER_DEG
                                   : driveline->heading_u_rad;
}

static void build_chain(struct ht_model *model,
                        const struct ht_driveline *driveline)
{
    struct ht_chain *chain = &model->chain;
    chain->members = driveline->members;
    chain->from_rear = driveline->driven_from == HT_END_REAR;
    for (size_t i = 0; i < model->readings; i++)
        model->read.value_rad[i] = model->reading[i].value_rad;
    ht_model_place(model, &model->read, chain);
    for (size_t i = 0; i < chain->members; i++)
        chain->yoke_rad[i] =
            isnan(driveline->yoke_rad[i]) ? 0 : driveline->yoke_rad[i];
    for (size_t j = 0; j < model->joints; j++) {
        chain->kind[j] = driveline->kind[j];
        model->joint_rad[j] = ht_working_angle_rad(
            chain->slope_rad[j], chain->heading_rad[j], chain->slope_rad[j + 1],
            chain->heading_rad[j + 1]);
    }
}

/* Within a run of Cardan joints, neighbours cancel in pairs counted from the
 * rear, when the section between them has its yokes in line. */
static void pair_run(struct ht_model *model, size_t first, size_t end)
{
    if (end == first + 1)
        model->alone[first] = true;
    else if ((end - first) % 2)
        model->odd[first] = true;
    while (end >= first + 2) {
        double off = remainder(model->chain.yoke_rad[end - 1], HT_PI);
        if (fabs(off) <= HT_PI / 4)
            model->pair[model->pairs++] =
                (struct ht_joint_pair){ end - 2, end - 1 };
        else
            model->crossed = true;
        end -= 2;
    }
}

static void pair_joints(struct ht_model *model)
{
    size_t first = 0;
    for (size_t j = 0; j <= model->joints; j++)
        if (j == model->joints || !ht_joint_is_cardan(model->chain.kind[j])) {
            pair_run(model, first, j);
            first = j + 1;
        }
}

void ht_model_build(struct ht_model *model,
                    const struct ht_driveline *driveline)
{
    *model = (struct ht_model){ .joints = driveline->members - 1,
                                .by_joint = driveline->by_joint };
    take_plan(model, driveline);
    take_readings(model, driveline);
    build_chain(model, driveline);
    pair_joints(model);
}

/* How a joint's angle answers to its members' slopes and headings: the angle
 * grows along its bend, (down, left) in the plane across the shafts. */
static void add_gradient(const struct ht_model *model, size_t joint,
                         double sign, double *by_slope, double *by_heading)
{
    const struct ht_chain *chain = &model->chain;
    double mean = (chain->slope_rad[joint] + chain->slope_rad[joint + 1]) / 2;
    double down = chain->slope_rad[joint + 1] - chain->slope_rad[joint];
    double left =
        (chain->heading_rad[joint + 1] - chain->heading_rad[joint]) * cos(mean);
    double size = hypot(down, left);
    double along_down = size > 0 ? down / size : 1;
    double along_left = size > 0 ? left / size : 0;
    by_slope[joint + 1] += sign * along_down;
    by_slope[joint] -= sign * along_down;
    by_heading[joint + 1] += sign * along_left * cos(mean);
    by_heading[joint] -= sign * along_left * cos(mean);
}

/* How slopes and headings answer to one step, which they do smoothly. */
static void answer(const struct ht_model *model, const struct ht_sources *step,
                   double *slope_rad, double *heading_rad)
{
    const double small = 1; /* one standard uncertainty */
    struct ht_chain low =
        ht_steps_chain(model, &step, (double[]){ -small }, 1);
    struct ht_chain high = ht_steps_chain(model, &step, &small, 1);
    for (size_t m = 0; m <= model->joints; m++) {
        slope_rad[m] = (high.slope_rad[m] - low.slope_rad[m]) / (2 * small);
        heading_rad[m] =
            (high.heading_rad[m] - low.heading_rad[m]) / (2 * small);
    }
}

static struct ht_spread_figure combine(const struct ht_model *model,
                                       const double *by_slope,
                                       const double *by_heading)
{
    struct ht_steps steps;
    double variance = 0, weak = 0;
    ht_steps_fill(&steps, model);
    for (size_t k = 0; k < steps.count; k++) {
        double slope[HT_MEMBERS_MAX], heading[HT_MEMBERS_MAX], part = 0;
        answer(model, &steps.step[k], slope, heading);
        for (size_t m = 0; m <= model->joints; m++)
            part += by_slope[m] * slope[m] + by_heading[m] * heading[m];
        variance += part * part;
        weak += pow(part, 4) / steps.dof[k];
    }
    return (struct ht_spread_figure){ sqrt(variance),
                                      weak > 0 ? variance * variance / weak
                                               : INFINITY };
}

struct ht_plane ht_joint_plane(const struct ht_model *model, size_t joint)
{
    const struct ht_chain *chain = &model->chain;
    struct ht_steps steps;
    double mean = (chain->slope_rad[joint] + chain->slope_rad[joint + 1]) / 2;
    struct ht_freedom freedom = { 0 };
    struct ht_plane plane = {
        .re = chain->slope_rad[joint + 1] - chain->slope_rad[joint],
        .im = (chain->heading_rad[joint + 1] - chain->heading_rad[joint]) *
              cos(mean),
    };
    ht_steps_fill(&steps, model);
    for (size_t k = 0; k < steps.count; k++) {
        double slope[HT_MEMBERS_MAX], heading[HT_MEMBERS_MAX];
        answer(model, &steps.step[k], slope, heading);
        double down = slope[joint + 1] - slope[joint];
        double left = (heading[joint + 1] - heading[joint]) * cos(mean);
        plane.re_re += down * down;
        plane.re_im += down * left;
        plane.im_im += left * left;
        ht_freedom_add(&freedom, (double[]){ down, left },
                       (double[]){ plane.re, plane.im }, steps.dof[k]);
    }
    plane.dof = ht_freedom_of(&freedom);
    return plane;
}

struct ht_spread_figure ht_model_joint_u(const struct ht_model *model,
                                         size_t joint)
{
    double by_slope[HT_MEMBERS_MAX] = { 0 }, by_heading[HT_MEMBERS_MAX] = { 0 };
    add_gradient(model, joint, 1, by_slope, by_heading);
    return combine(model, by_slope, by_heading);
}

struct ht_spread_figure ht_model_pair_u(const struct ht_model *model,
                                        size_t pair)
{
    double by_slope[HT_MEMBERS_MAX] = { 0 }, by_heading[HT_MEMBERS_MAX] = { 0 };
    add_gradient(model, model->pair[pair].front, 1, by_slope, by_heading);
    add_gradient(model, model->pair[pair].rear, -1, by_slope, by_heading);
    return combine(model, by_slope, by_heading);
}

struct ht_plane ht_pair_plane(const struct ht_model *model, size_t pair)
{
    struct ht_spread_figure figure = ht_model_pair_u(model, pair);
    double front_rad = model->joint_rad[model->pair[pair].front];
    double rear_rad = model->joint_rad[model->pair[pair].rear];
    return (struct ht_plane){ .re = fabs(front_rad - rear_rad),
                              .re_re = figure.u_rad * figure.u_rad,
                              .dof = figure.dof };
}
