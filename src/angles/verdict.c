/* Results against limits: every figure of every set that applies. */
#include "verdict.h"

#include "interval.h"
#include "note.h"
#include "rules.h"
#include "texts.h"
#include "way_out.h"

#include <math.h>
#include <stdio.h>

/* Over from here up, within from the other end down. */
static const double sure = 0.95;

struct judge {
    struct ht_angles *result;
    const struct ht_model *model;
    const struct ht_spread *spread;
    struct ht_way_out *way_out;
    const struct ht_limit_set *own; /* may be NULL */
    struct ht_estimate pair[HT_PAIRS_MAX];
    bool full;
};

static struct ht_estimate difference_of(const struct ht_model *model, size_t p)
{
    struct ht_plane plane = ht_pair_plane(model, p);
    struct ht_range range = ht_size_range(&plane);
    return (struct ht_estimate){ plane.re, sqrt(plane.re_re), range.low,
                                 range.high };
}

/* What was drawn of the thing a rule is about. */
static struct ht_quantity_ref drawn_of(const struct ht_rule *rule)
{
    static const enum ht_drawn kind[] = {
        [HT_RULE_JOINT] = HT_DRAWN_JOINT,     [HT_RULE_PAIR] = HT_DRAWN_PAIR,
        [HT_RULE_LEFTOVER] = HT_DRAWN_H2,     [HT_RULE_AXLE] = HT_DRAWN_H2,
        [HT_RULE_PULLED] = HT_DRAWN_JOINT,    [HT_RULE_HELD] = HT_DRAWN_JOINT,
        [HT_RULE_SECTION] = HT_DRAWN_SECTION,
    };
    return (struct ht_quantity_ref){ kind[rule->about], rule->index };
}

/* From the side the true angle can only be larger: no maximum is kept for sure,
 * no minimum missed for sure. Draws of a size always lie above 0: where the 95
 * % interval reaches down to it, no maximum is missed for sure, no minimum
 * kept. */
static enum ht_verdict verdict_of(double probability, bool is_minimum,
                                  bool side_view_only, bool may_be_zero)
{
    if (probability >= sure && !(is_minimum ? side_view_only : may_be_zero))
        return is_minimum ? HT_VERDICT_UNDER : HT_VERDICT_OVER;
    if (probability <= 1 - sure && !(is_minimum ? may_be_zero : side_view_only))
        return HT_VERDICT_WITHIN;
    return HT_VERDICT_OPEN;
}

static void explain_open(const struct judge *judge, const struct ht_rule *rule,
                         struct ht_limit_verdict *verdict)
{
    double probability = verdict->probability_over;
    bool is_sure = probability >= sure || probability <= 1 - sure;
    bool is_larger = (probability > 0.5) != rule->is_minimum;
    if (is_sure && is_larger)
        snprintf(verdict->way_out, sizeof verdict->way_out, ANGLES_MAY_BE_ZERO);
    else if (is_sure)
        snprintf(verdict->way_out, sizeof verdict->way_out,
                 ANGLES_HEADINGS_SHOW);
    else
        ht_way_out_find(judge->way_out, verdict->way_out,
                        sizeof verdict->way_out, drawn_of(rule), rule->held_to);
}

/* The value that is held against the rule, in the limit's unit. Says whether it
 * may be none at all. */
static bool take_value(const struct judge *judge, const struct ht_rule *rule,
                       struct ht_limit_verdict *verdict)
{
    const struct ht_angles *result = judge->result;
    const struct ht_accelerations *shake = &result->accelerations;
    bool is_pair = rule->about == HT_RULE_PAIR;
    const struct ht_estimate *const estimates[] = {
        [HT_RULE_JOINT] = &result->joint[rule->first].angle_rad,
        [HT_RULE_PAIR] = &judge->pair[is_pair ? rule->index : 0],
        [HT_RULE_LEFTOVER] = &result->leftover_rad,
        [HT_RULE_AXLE] = &shake->axle,
        [HT_RULE_PULLED] = &shake->pulled,
        [HT_RULE_HELD] = &shake->held,
        [HT_RULE_SECTION] = &result->section_rad_s2,
    };
    const struct ht_estimate *e = estimates[rule->about];
    verdict->value = e->value;
    verdict->u = e->u;
    verdict->low = e->low;
    verdict->high = e->high;
    return !(e->low > 0);
}

static void judge_rule(struct judge *judge, const struct ht_rule *rule)
{
    struct ht_angles *result = judge->result;
    if (result->verdicts == HT_VERDICTS_MAX) {
        if (!judge->full)
            ht_note(result, ANGLES_TOO_MANY_LIMITS, 0, 0, 0, 0);
        judge->full = true;
        return;
    }
    struct ht_limit_verdict *verdict = &result->verdict[result->verdicts++];
    *verdict = (struct ht_limit_verdict){ .is_minimum = rule->is_minimum,
                                          .limit = rule->limit,
                                          .unit = ht_rule_is_shake(rule->about)
                                                      ? "rad/s2"
                                                      : "rad" };
    verdict->about = rule->about;
    verdict->index = rule->index;
    verdict->joint = rule->about == HT_RULE_JOINT ? rule->first + 1 : 0;
    snprintf(verdict->what, sizeof verdict->what, "%s", rule->what);
    snprintf(verdict->set, sizeof verdict->set, "%s", rule->set->id);
    snprintf(verdict->source, sizeof verdict->source, "%s",
             ht_rule_is_shake(rule->about) && rule->set->acceleration_source[0]
                 ? rule->set->acceleration_source
                 : rule->set->source);
    bool may_be_zero = take_value(judge, rule, verdict);
    double above =
        ht_quantity_share(judge->spread, drawn_of(rule), rule->held_to);
    verdict->probability_over = rule->is_minimum ? 1 - above : above;
    verdict->verdict = verdict_of(verdict->probability_over, rule->is_minimum,
                                  judge->model->side_view_only, may_be_zero);
    if (verdict->verdict == HT_VERDICT_OPEN)
        explain_open(judge, rule, verdict);
}

static void judge_set(struct judge *judge, const struct ht_limit_set *named)
{
    struct ht_rules rules = { .rules = 0 };
    ht_rules_collect(&rules, judge->model, named, judge->own,
                     judge->result->accelerations.shaft_rad_s);
    for (size_t i = 0; i < rules.rules; i++)
        judge_rule(judge, &rules.rule[i]);
}

static enum ht_status judge_sets(struct judge *judge,
                                 const struct ht_limits *limits, const char *id,
                                 struct ht_error *err)
{
    const struct ht_limit_set *named = NULL;
    if (id) {
        enum ht_status status = ht_limits_find(&named, limits, id, err);
        if (status != HT_OK)
            return status;
        judge_set(judge, named);
    } else if (judge->own) {
        judge_set(judge, NULL);
    } else {
        for (size_t i = 0; i < limits->sets; i++)
            judge_set(judge, &limits->set[i]);
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
    for (size_t p = 0; p < model->pairs; p++)
        judge.pair[p] = difference_of(model, p);
    status = judge_sets(&judge, limits ? limits : &built_in, options->limit_set,
                        err);
    if (status == HT_OK && way_out.out_of_memory)
        status = ht_fail(err, ANGLES_NO_MEMORY);
    ht_way_out_free(&way_out);
    return status;
}
