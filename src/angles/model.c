#include "model.h"

#include "common/constants.h"

#include <math.h>

void ht_model_slopes(const struct ht_model *model, const double *value_rad,
                     double *slope_rad)
{
    if (!model->by_joint) {
        for (size_t i = 0; i < model->readings; i++)
            slope_rad[i] = value_rad[i];
        return;
    }
    slope_rad[0] = 0;
    for (size_t i = 0; i < model->readings; i++)
        slope_rad[i + 1] = slope_rad[i] + value_rad[i];
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

static void build_chain(struct ht_model *model,
                        const struct ht_driveline *driveline)
{
    double value[HT_MEMBERS_MAX];
    struct ht_chain *chain = &model->chain;
    chain->members = driveline->members;
    chain->from_rear = driveline->driven_from == HT_END_REAR;
    for (size_t i = 0; i < model->readings; i++)
        value[i] = model->reading[i].value_rad;
    ht_model_slopes(model, value, chain->slope_rad);
    for (size_t i = 0; i < chain->members; i++) {
        chain->heading_rad[i] =
            model->side_view_only ? 0 : driveline->heading_rad[i];
        chain->yoke_rad[i] =
            isnan(driveline->yoke_rad[i]) ? 0 : driveline->yoke_rad[i];
    }
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
    model->side_view_only = !headings_known(driveline);
    if (!model->side_view_only)
        model->heading_u_rad = isnan(driveline->heading_u_rad)
                                   ? HT_HEADING_U_DEG * HT_RAD_PER_DEG
                                   : driveline->heading_u_rad;
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

/* Slope k answers to every joint reading before it. */
static void slopes_to_readings(const struct ht_model *model,
                               const double *by_slope, double *by_reading)
{
    double sum = 0;
    for (size_t i = model->readings; i-- > 0;) {
        sum += model->by_joint ? by_slope[i + 1] : 0;
        by_reading[i] = model->by_joint ? sum : by_slope[i];
    }
}

static struct ht_spread_figure combine(const struct ht_model *model,
                                       const double *by_slope,
                                       const double *by_heading)
{
    double by_reading[HT_MEMBERS_MAX], variance = 0, zero = 0, weak = 0;
    slopes_to_readings(model, by_slope, by_reading);
    for (size_t i = 0; i < model->readings; i++) {
        const struct ht_reading *reading = &model->reading[i];
        double part = by_reading[i] * ht_reading_u_rad(reading);
        variance += part * part;
        zero += by_reading[i] * reading->zero * model->zero_u_rad;
        weak += pow(part, 4) / ht_reading_dof(reading);
    }
    for (size_t i = 0; i <= model->joints; i++) {
        double part = by_heading[i] * model->heading_u_rad;
        variance += part * part;
    }
    variance += zero * zero;
    return (struct ht_spread_figure){ sqrt(variance),
                                      weak > 0 ? variance * variance / weak
                                               : INFINITY };
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
