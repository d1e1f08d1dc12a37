/* One driveline from readings to results. */
#include "chain.h"
#include "check.h"
#include "doubt.h"
#include "interval.h"
#include "model.h"
#include "note.h"
#include "rules.h"
#include "spread.h"
#include "texts.h"
#include "verdict.h"

#include "halfturn/text.h"

#include "common/constants.h"
#include "common/statistics.h"

#include <math.h>
#include <stdio.h>

struct ht_driveline ht_driveline_blank(void)
{
    struct ht_driveline blank = { .heading_u_rad = NAN,
                                  .gauge = { NAN, NAN, NAN, NAN } };
    for (size_t i = 0; i < HT_MEMBERS_MAX; i++) {
        blank.slope[i].flip_a_rad = blank.slope[i].flip_b_rad = NAN;
        blank.slope[i].set_up_rad = NAN;
        blank.heading_rad[i] = blank.joint_to_joint_m[i] = NAN;
    }
    for (size_t j = 0; j < HT_JOINTS_MAX; j++)
        blank.joint_rad[j] = blank.offset_m[j] = NAN;
    return blank;
}

/* Beyond 45 degrees a joint of a propeller shaft does not go: a slip in the
 * readings. */
static enum ht_status check_bends(const struct ht_model *model,
                                  struct ht_error *err)
{
    for (size_t j = 0; j < model->joints; j++)
        if (!(model->joint_rad[j] <= HT_PI / 4)) {
            char angle[40];
            ht_format_number(angle, sizeof angle,
                             model->joint_rad[j] * HT_DEG_PER_RAD, 1);
            return ht_fail(err, ANGLES_BENT, j + 1, angle);
        }
    return HT_OK;
}

/* The interval is that of the bend's size; its plane takes the bend's two parts
 * as square, which the angle itself is not to a ten-thousandth. */
static struct ht_estimate estimate_of_joint(const struct ht_model *model,
                                            size_t j)
{
    struct ht_plane plane = ht_joint_plane(model, j);
    struct ht_range range = ht_size_range(&plane);
    double more = model->joint_rad[j] - hypot(plane.re, plane.im);
    return (struct ht_estimate){ model->joint_rad[j],
                                 ht_model_joint_u(model, j).u_rad,
                                 range.low > 0 ? fmax(0, range.low + more) : 0,
                                 range.high + more };
}

static void report_joints(struct ht_angles *result,
                          const struct ht_model *model,
                          const struct ht_driveline *driveline)
{
    const struct ht_chain *chain = &model->chain;
    char front[32], rear[32];
    result->joints = model->joints;
    for (size_t j = 0; j < model->joints; j++) {
        struct ht_joint_angle *joint = &result->joint[j];
        double from[3], to[3];
        snprintf(joint->between, sizeof joint->between, "%s / %s",
                 ht_member_name(driveline, j, front, sizeof front),
                 ht_member_name(driveline, j + 1, rear, sizeof rear));
        ht_member_direction(chain->slope_rad[j], chain->heading_rad[j], from);
        ht_member_direction(chain->slope_rad[j + 1], chain->heading_rad[j + 1],
                            to);
        joint->kind = chain->kind[j];
        joint->plane_rad = model->side_view_only
                               ? NAN
                               : atan2(from[2] - to[2], to[1] - from[1]);
        joint->angle_rad = estimate_of_joint(model, j);
    }
}

static struct ht_five as_angles(const struct ht_five *h2)
{
    return (struct ht_five){ ht_joint_bend_of_harmonic(h2->low),
                             ht_joint_bend_of_harmonic(h2->below),
                             ht_joint_bend_of_harmonic(h2->median),
                             ht_joint_bend_of_harmonic(h2->above),
                             ht_joint_bend_of_harmonic(h2->high) };
}

static struct ht_five as_shake(const struct ht_five *h2, double shaft_rad_s)
{
    double w2 = 4 * shaft_rad_s * shaft_rad_s;
    return (struct ht_five){ w2 * h2->low, w2 * h2->below, w2 * h2->median,
                             w2 * h2->above, w2 * h2->high };
}

/* The 2x part of the acceleration that one joint makes: (2w)^2 tan^2(b/2). */
static struct ht_estimate shake_of(const struct ht_joint_angle *joint,
                                   double shaft_rad_s)
{
    double w = 2 * shaft_rad_s;
    if (!ht_joint_is_cardan(joint->kind))
        return (struct ht_estimate){ 0 * w, 0 * w, 0 * w, 0 * w };
    const struct ht_estimate *bend = &joint->angle_rad;
    double value = tan(bend->value / 2), low = tan(bend->low / 2);
    double high = tan(fmin(bend->high, HT_PI / 2) / 2);
    return (struct ht_estimate){ w * w * value * value,
                                 w * w * value * (1 + value * value) * bend->u,
                                 w * w * low * low, w * w * high * high };
}

/* The only Cardan joint of a line leaves its own angle, and is known better by
 * it: its square has a law that is far from normal near zero. NULL: none, or
 * several. */
static const struct ht_joint_angle *only_cardan(const struct ht_angles *result)
{
    const struct ht_joint_angle *found = NULL;
    for (size_t j = 0; j < result->joints; j++) {
        if (!ht_joint_is_cardan(result->joint[j].kind))
            continue;
        if (found)
            return NULL;
        found = &result->joint[j];
    }
    return found;
}

static void report_sum(struct ht_angles *result, const struct ht_model *model,
                       struct ht_five *h2)
{
    double shaft_rad_s = result->accelerations.shaft_rad_s;
    const struct ht_joint_angle *only = only_cardan(result);
    if (only) {
        result->leftover_rad = only->angle_rad;
        result->leftover_is_zero = !(only->angle_rad.low > 0);
        result->accelerations.axle = shake_of(only, shaft_rad_s);
        return;
    }
    struct ht_plane sum = ht_sum_plane(model);
    struct ht_range range = ht_size_range(&sum);
    h2->low = fmin(range.low, h2->median);
    h2->high = fmax(range.high, h2->median);
    struct ht_five bend = as_angles(h2);
    struct ht_five shake = as_shake(h2, shaft_rad_s);
    result->leftover_rad = ht_estimate_of(&bend);
    result->leftover_is_zero = !(range.low > 0);
    result->accelerations.axle = ht_estimate_of(&shake);
}

static enum ht_status report_drawn(struct ht_angles *result,
                                   const struct ht_model *model,
                                   const struct ht_spread *spread,
                                   struct ht_error *err)
{
    struct ht_five h2, section;
    double shaft_rad_s = result->accelerations.shaft_rad_s;
    if (!ht_five_of(&h2, spread->h2_rad, spread->draws) ||
        !ht_five_of(&section, spread->section_rad, spread->draws))
        return ht_fail(err, ANGLES_NO_MEMORY);
    report_sum(result, model, &h2);
    section = as_shake(&section, shaft_rad_s);
    result->section_rad_s2 = (struct ht_estimate){ NAN, NAN, NAN, NAN };
    if (result->joints > 2)
        result->section_rad_s2 = only_cardan(result)
                                     ? result->accelerations.axle
                                     : ht_estimate_of(&section);
    return HT_OK;
}

static void report_nominal(struct ht_angles *result,
                           const struct ht_model *model,
                           const struct ht_angles_options *options)
{
    struct ht_chain_motion motion = ht_chain_exact(&model->chain);
    struct ht_accelerations *shake = &result->accelerations;
    for (int n = 0; n < 3; n++)
        result->harmonic_rad[n] = motion.harmonic_rad[n];
    result->speed_ripple = motion.ripple;
    result->leftover_read_rad = motion.leftover_rad;
    result->leftover_closed_form_rad = ht_joint_bend_of_harmonic(
        ht_phasor_size(ht_chain_closed_form(&model->chain)));
    shake->shaft_rad_s = options->shaft_rad_s;
    shake->speed_m_s = options->speed_m_s;
    shake->pulled = shake_of(&result->joint[0], shake->shaft_rad_s);
    shake->held =
        shake_of(&result->joint[result->joints - 1], shake->shaft_rad_s);
}

/* From the readings to a model that makes sense. */
static enum ht_status build_model(struct ht_model *model,
                                  const struct ht_driveline *driveline,
                                  struct ht_error *err)
{
    enum ht_status status = ht_driveline_check(driveline, err);
    if (status != HT_OK)
        return status;
    ht_model_build(model, driveline);
    return check_bends(model, err);
}

static enum ht_status compute(struct ht_angles *result,
                              const struct ht_driveline *driveline,
                              const struct ht_angles_options *options,
                              struct ht_error *err)
{
    struct ht_model model;
    struct ht_spread spread;
    enum ht_status status = build_model(&model, driveline, err);
    if (status == HT_OK)
        status = ht_spread_create(&spread, &model, HT_SPREAD_DRAWS, err);
    if (status != HT_OK)
        return status;
    result->side_view_only = model.side_view_only;
    result->verdict_allowed =
        driveline->suspension == HT_SUSPENSION_WHEELS_ON_GROUND ||
        driveline->suspension == HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT;
    report_joints(result, &model, driveline);
    report_nominal(result, &model, options);
    ht_note_assumptions(result, driveline, &model);
    ht_doubt_readings(result, driveline, &model);
    status = report_drawn(result, &model, &spread, err);
    if (status == HT_OK && result->verdict_allowed)
        status =
            ht_verdicts_add(result, &model, &spread, driveline, options, err);
    ht_spread_free(&spread);
    return status;
}

enum ht_status ht_angles_compute(struct ht_angles *result,
                                 const struct ht_driveline *driveline,
                                 const struct ht_angles_options *options,
                                 struct ht_error *err)
{
    *result = (struct ht_angles){ 0 };
    enum ht_status status = compute(result, driveline, options, err);
    if (status != HT_OK)
        *result = (struct ht_angles){ 0 };
    return status;
}

enum ht_status ht_rules_list(struct ht_rules *rules,
                             const struct ht_driveline *driveline,
                             const struct ht_angles_options *options,
                             struct ht_error *err)
{
    struct ht_model model;
    const struct ht_limit_set *named = NULL;
    rules->rules = 0;
    enum ht_status status = build_model(&model, driveline, err);
    if (status == HT_OK && options->limit_set)
        status =
            ht_limits_find(&named, options->limits, options->limit_set, err);
    if (status == HT_OK)
        ht_rules_collect(rules, &model, named, options->own,
                         options->shaft_rad_s);
    return status;
}

enum ht_status ht_chain_read(struct ht_chain *line,
                             const struct ht_driveline *driveline,
                             struct ht_error *err)
{
    struct ht_model model;
    enum ht_status status = build_model(&model, driveline, err);
    if (status == HT_OK)
        *line = model.chain;
    return status;
}

enum ht_status ht_chain_draw(struct ht_chain *line, size_t count,
                             const struct ht_driveline *driveline,
                             struct ht_error *err)
{
    struct ht_model model;
    enum ht_status status = build_model(&model, driveline, err);
    return status == HT_OK ? ht_spread_lines(line, count, &model, err) : status;
}
