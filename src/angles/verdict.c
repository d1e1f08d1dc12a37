/* Results against limits: every figure of every set that applies. */
#include "verdict.h"

#include "note.h"
#include "texts.h"
#include "way_out.h"

#include "halfturn/text.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Over from here up, within from the other end down. */
static const double sure = 0.95;

struct judge {
    struct ht_angles *result;
    const struct ht_model *model;
    const struct ht_spread *spread;
    struct ht_way_out *way_out;
    const struct ht_limit_set *named, *own; /* either may be NULL */
    bool full;
};

/* One result that can be held against one figure. */
struct question {
    char what[96];
    size_t joint;
    bool is_minimum, is_shake;
    double value, u;
    struct ht_quantity_ref quantity;
};

/* The figure at `offset` of a limit set; the maker's own comes first. */
static double figure(const struct judge *judge, size_t offset, bool *own)
{
    const struct ht_limit_set *sets[] = { judge->own, judge->named };
    for (int i = 0; i < 2; i++) {
        double value = NAN;
        if (sets[i])
            memcpy(&value, (const char *)sets[i] + offset, sizeof value);
        *own = i == 0;
        if (!isnan(value))
            return value;
    }
    return NAN;
}

/* A limit in the terms of what was drawn. */
static double drawn_limit(const struct question *question, double limit,
                          double shaft_rad_s)
{
    double h2 = limit / (4 * shaft_rad_s * shaft_rad_s);
    if (question->quantity.kind != HT_DRAWN_JOINT && question->is_shake)
        return h2;
    if (question->quantity.kind == HT_DRAWN_H2)
        return pow(tan(limit / 2), 2);
    return question->is_shake ? ht_joint_bend_of_harmonic(h2) : limit;
}

static enum ht_verdict verdict_of(double probability, bool is_minimum,
                                  bool side_view_only)
{
    /* From the side the true angle can only be larger: no maximum is kept
     * for sure, no minimum missed for sure. */
    if (probability >= sure && !(is_minimum && side_view_only))
        return is_minimum ? HT_VERDICT_UNDER : HT_VERDICT_OVER;
    if (probability <= 1 - sure && (is_minimum || !side_view_only))
        return HT_VERDICT_WITHIN;
    return HT_VERDICT_OPEN;
}

static void explain_open(const struct judge *judge,
                         const struct question *question,
                         struct ht_limit_verdict *verdict, double limit)
{
    double probability = verdict->probability_over;
    if (judge->model->side_view_only &&
        (probability >= sure || probability <= 1 - sure))
        snprintf(verdict->way_out, sizeof verdict->way_out,
                 ANGLES_HEADINGS_SHOW);
    else
        ht_way_out_find(judge->way_out, verdict->way_out,
                        sizeof verdict->way_out, question->quantity, limit);
}

static void ask(struct judge *judge, const struct question *question,
                size_t offset)
{
    bool own;
    double limit = figure(judge, offset, &own);
    struct ht_angles *result = judge->result;
    const struct ht_limit_set *set = own ? judge->own : judge->named;
    if (isnan(limit) || !set || judge->full)
        return;
    if (result->verdicts == HT_VERDICTS_MAX) {
        judge->full = true;
        ht_note(result, ANGLES_TOO_MANY_LIMITS, 0, 0, 0, 0);
        return;
    }
    struct ht_limit_verdict *verdict = &result->verdict[result->verdicts++];
    *verdict = (struct ht_limit_verdict){ .joint = question->joint,
                                          .is_minimum = question->is_minimum,
                                          .value = question->value,
                                          .u = question->u,
                                          .limit = limit,
                                          .unit = question->is_shake ? "rad/s2"
                                                                     : "rad" };
    snprintf(verdict->what, sizeof verdict->what, "%s", question->what);
    snprintf(verdict->set, sizeof verdict->set, "%s", set->id);
    snprintf(verdict->source, sizeof verdict->source, "%s",
             question->is_shake && set->acceleration_source[0]
                 ? set->acceleration_source
                 : set->source);
    double drawn =
        drawn_limit(question, limit, result->accelerations.shaft_rad_s);
    double above = ht_quantity_share(judge->spread, question->quantity, drawn);
    verdict->probability_over = question->is_minimum ? 1 - above : above;
    verdict->verdict =
        verdict_of(verdict->probability_over, question->is_minimum,
                   judge->model->side_view_only);
    if (verdict->verdict == HT_VERDICT_OPEN)
        explain_open(judge, question, verdict, drawn);
}

#define FIGURE(name) offsetof(struct ht_limit_set, name)

static void ask_joint(struct judge *judge, size_t j)
{
    const struct ht_joint_angle *joint = &judge->result->joint[j];
    struct question question = { .joint = j + 1,
                                 .value = joint->angle_rad.value,
                                 .u = joint->angle_rad.u,
                                 .quantity = { HT_DRAWN_JOINT, j } };
    snprintf(question.what, sizeof question.what, ANGLES_JOINT, j + 1);
    if (joint->kind == HT_JOINT_DOUBLE_CARDAN)
        ask(judge, &question, FIGURE(double_joint_max_rad));
    if (!ht_joint_is_cardan(joint->kind))
        return;
    ask(judge, &question, FIGURE(joint_max_rad));
    question.is_minimum = true;
    ask(judge, &question, FIGURE(joint_min_rad));
    question.is_minimum = false;
    snprintf(question.what, sizeof question.what, ANGLES_ODD_JOINT, j + 1);
    if (judge->model->odd[j])
        ask(judge, &question, FIGURE(odd_max_rad));
    snprintf(question.what, sizeof question.what, ANGLES_LONE_JOINT, j + 1);
    if (judge->model->alone[j])
        ask(judge, &question, FIGURE(alone_max_rad));
}

static void ask_pair(struct judge *judge, size_t p)
{
    const struct ht_joint_pair *pair = &judge->model->pair[p];
    struct question question = { .value =
                                     fabs(judge->model->joint_rad[pair->front] -
                                          judge->model->joint_rad[pair->rear]),
                                 .u = ht_model_pair_u(judge->model, p).u_rad,
                                 .quantity = { HT_DRAWN_PAIR, p } };
    snprintf(question.what, sizeof question.what, ANGLES_DIFFERENCE,
             pair->front + 1, pair->rear + 1);
    ask(judge, &question, FIGURE(difference_max_rad));
}

static void ask_shake(struct judge *judge, const char *what,
                      const struct ht_estimate *shake,
                      struct ht_quantity_ref quantity, size_t offset)
{
    struct question question = { .is_shake = true,
                                 .value = shake->value,
                                 .u = shake->u,
                                 .quantity = quantity };
    snprintf(question.what, sizeof question.what, "%s", what);
    ask(judge, &question, offset);
}

static void ask_whole(struct judge *judge)
{
    const struct ht_angles *result = judge->result;
    const struct ht_accelerations *shake = &result->accelerations;
    size_t last = result->joints - 1;
    struct question leftover = { .what = ANGLES_LEFTOVER,
                                 .value = result->leftover_rad.value,
                                 .u = result->leftover_rad.u,
                                 .quantity = { HT_DRAWN_H2, 0 } };
    ask(judge, &leftover, FIGURE(leftover_max_rad));
    if (!isfinite(shake->shaft_rad_s))
        return;
    ask_shake(judge, ANGLES_SHAKE_AXLE, &shake->axle,
              (struct ht_quantity_ref){ HT_DRAWN_H2, 0 }, FIGURE(axle_rad_s2));
    if (ht_joint_is_cardan(result->joint[0].kind))
        ask_shake(judge, ANGLES_SHAKE_PULLED, &shake->pulled,
                  (struct ht_quantity_ref){ HT_DRAWN_JOINT, 0 },
                  FIGURE(shaft_rad_s2));
    if (ht_joint_is_cardan(result->joint[last].kind))
        ask_shake(judge, ANGLES_SHAKE_HELD, &shake->held,
                  (struct ht_quantity_ref){ HT_DRAWN_JOINT, last },
                  FIGURE(shaft_rad_s2));
    if (result->joints > 2)
        ask_shake(judge, ANGLES_SHAKE_SECTION, &result->section_rad_s2,
                  (struct ht_quantity_ref){ HT_DRAWN_SECTION, 0 },
                  FIGURE(shaft_rad_s2));
}

static void ask_all(struct judge *judge)
{
    for (size_t j = 0; j < judge->model->joints; j++)
        ask_joint(judge, j);
    for (size_t p = 0; p < judge->model->pairs; p++)
        ask_pair(judge, p);
    ask_whole(judge);
}

static enum ht_status judge_sets(struct judge *judge,
                                 const struct ht_limits *limits, const char *id,
                                 struct ht_error *err)
{
    if (id) {
        enum ht_status status = ht_limits_find(&judge->named, limits, id, err);
        if (status != HT_OK)
            return status;
        ask_all(judge);
    } else if (judge->own) {
        ask_all(judge);
    } else {
        for (size_t i = 0; i < limits->sets; i++) {
            judge->named = &limits->set[i];
            ask_all(judge);
        }
    }
    return HT_OK;
}

enum ht_status ht_verdicts_add(struct ht_angles *result,
                               const struct ht_model *model,
                               const struct ht_spread *spread,
                               const struct ht_driveline *driveline,
                               const struct ht_angles_options *options,
                               struct ht_error *err)
{
    struct ht_limits built_in;
    struct ht_way_out way_out;
    const struct ht_limits *limits = options->limits;
    enum ht_status status = HT_OK;
    if (!limits)
        status = ht_limits_read(&built_in, NULL, err);
    if (status != HT_OK)
        return status;
    ht_way_out_start(&way_out, driveline, model->side_view_only);
    struct judge judge = { .result = result,
                           .model = model,
                           .spread = spread,
                           .way_out = &way_out,
                           .own = options->own };
    status = judge_sets(&judge, limits ? limits : &built_in, options->limit_set,
                        err);
    if (status == HT_OK && way_out.out_of_memory)
        status = ht_fail(err, ANGLES_NO_MEMORY);
    ht_way_out_free(&way_out);
    return status;
}
