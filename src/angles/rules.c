/* Which limits apply to what in a driveline. */
#include "rules.h"

#include "chain.h"
#include "texts.h"

#include "common/constants.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct collector {
    struct ht_rules *rules;
    const struct ht_limit_set *named, *own; /* either may be NULL */
    double shaft_rad_s;
};

bool ht_rule_is_shake(enum ht_rule_about about)
{
    return about >= HT_RULE_AXLE;
}

/* The figure at `offset` of a limit set; the maker's own comes first. */
static double figure(const struct collector *from, size_t offset,
                     const struct ht_limit_set **set)
{
    const struct ht_limit_set *sets[] = { from->own, from->named };
    for (int i = 0; i < 2; i++) {
        double value = NAN;
        *set = sets[i];
        if (sets[i])
            memcpy(&value, (const char *)sets[i] + offset, sizeof value);
        if (!isnan(value))
            return value;
    }
    return NAN;
}

/* A limit in the terms of what can be worked out of a chain. */
static double held_to(enum ht_rule_about about, double limit,
                      double shaft_rad_s)
{
    double h2 = limit / (4 * shaft_rad_s * shaft_rad_s);
    switch (about) {
    case HT_RULE_LEFTOVER:
        return pow(tan(limit / 2), 2);
    case HT_RULE_AXLE:
    case HT_RULE_SECTION:
        return h2;
    case HT_RULE_PULLED:
    case HT_RULE_HELD:
        return ht_joint_bend_of_harmonic(h2);
    default:
        return limit;
    }
}

/* The other way round. */
double ht_rule_in_limit_unit(const struct ht_rule *rule, double value,
                             double shaft_rad_s)
{
    double per_h2 = 4 * shaft_rad_s * shaft_rad_s;
    switch (rule->about) {
    case HT_RULE_LEFTOVER:
        return ht_joint_bend_of_harmonic(value);
    case HT_RULE_AXLE:
    case HT_RULE_SECTION:
        return per_h2 * value;
    case HT_RULE_PULLED:
    case HT_RULE_HELD:
        return per_h2 * pow(tan(value / 2), 2);
    default:
        return value;
    }
}

/* Adds `rule` where a set has a figure for it. */
static void add(struct collector *to, const struct ht_rule *rule, size_t offset,
                const char *what, ...) __attribute__((format(printf, 4, 5)));

static void add(struct collector *to, const struct ht_rule *rule, size_t offset,
                const char *what, ...)
{
    struct ht_rules *rules = to->rules;
    const struct ht_limit_set *set;
    double limit = figure(to, offset, &set);
    if (isnan(limit))
        return;
    assert(rules->rules < HT_RULES_MAX);
    struct ht_rule *added = &rules->rule[rules->rules++];
    *added = *rule;
    added->set = set;
    added->limit = limit;
    added->held_to = held_to(rule->about, limit, to->shaft_rad_s);
    va_list args;
    va_start(args, what);
    vsnprintf(added->what, sizeof added->what, what, args);
    va_end(args);
}

#define FIGURE(name) offsetof(struct ht_limit_set, name)

static void add_joint(struct collector *to, const struct ht_model *model,
                      size_t j)
{
    struct ht_rule rule = { .about = HT_RULE_JOINT, .index = j, .first = j };
    enum ht_joint_kind kind = model->chain.kind[j];
    if (kind == HT_JOINT_DOUBLE_CARDAN)
        add(to, &rule, FIGURE(double_joint_max_rad), ANGLES_JOINT, j + 1);
    if (!ht_joint_is_cardan(kind))
        return;
    add(to, &rule, FIGURE(joint_max_rad), ANGLES_JOINT, j + 1);
    rule.is_minimum = true;
    add(to, &rule, FIGURE(joint_min_rad), ANGLES_JOINT, j + 1);
    rule.is_minimum = false;
    if (model->odd[j])
        add(to, &rule, FIGURE(odd_max_rad), ANGLES_ODD_JOINT, j + 1);
    if (model->alone[j])
        add(to, &rule, FIGURE(alone_max_rad), ANGLES_LONE_JOINT, j + 1);
}

static void add_pair(struct collector *to, const struct ht_model *model,
                     size_t p)
{
    const struct ht_joint_pair *pair = &model->pair[p];
    struct ht_rule rule = { .about = HT_RULE_PAIR,
                            .index = p,
                            .first = pair->front,
                            .second = pair->rear };
    add(to, &rule, FIGURE(difference_max_rad), ANGLES_DIFFERENCE,
        pair->front + 1, pair->rear + 1);
}

static void add_shakes(struct collector *to, const struct ht_model *model)
{
    size_t last = model->joints - 1;
    struct ht_rule rule = { .about = HT_RULE_AXLE };
    add(to, &rule, FIGURE(axle_rad_s2), ANGLES_SHAKE_AXLE);
    rule.about = HT_RULE_PULLED;
    if (ht_joint_is_cardan(model->chain.kind[0]))
        add(to, &rule, FIGURE(shaft_rad_s2), ANGLES_SHAKE_PULLED);
    rule = (struct ht_rule){ .about = HT_RULE_HELD,
                             .index = last,
                             .first = last };
    if (ht_joint_is_cardan(model->chain.kind[last]))
        add(to, &rule, FIGURE(shaft_rad_s2), ANGLES_SHAKE_HELD);
    rule = (struct ht_rule){ .about = HT_RULE_SECTION };
    if (model->joints > 2)
        add(to, &rule, FIGURE(shaft_rad_s2), ANGLES_SHAKE_SECTION);
}

void ht_rules_collect(struct ht_rules *rules, const struct ht_model *model,
                      const struct ht_limit_set *named,
                      const struct ht_limit_set *own, double shaft_rad_s)
{
    struct collector to = { rules, named, own, shaft_rad_s };
    struct ht_rule leftover = { .about = HT_RULE_LEFTOVER };
    rules->rules = 0;
    for (size_t j = 0; j < model->joints; j++)
        add_joint(&to, model, j);
    for (size_t p = 0; p < model->pairs; p++)
        add_pair(&to, model, p);
    add(&to, &leftover, FIGURE(leftover_max_rad), ANGLES_LEFTOVER);
    if (isfinite(shaft_rad_s))
        add_shakes(&to, model);
}

static void take_values(const struct ht_rules *rules,
                        const struct ht_chain_figures *of, double *value)
{
    for (size_t i = 0; i < rules->rules; i++) {
        const struct ht_rule *rule = &rules->rule[i];
        switch (rule->about) {
        case HT_RULE_LEFTOVER:
        case HT_RULE_AXLE:
            value[i] = of->h2_rad;
            break;
        case HT_RULE_SECTION:
            value[i] = of->section_rad;
            break;
        case HT_RULE_PAIR:
            value[i] =
                fabs(of->bend_rad[rule->first] - of->bend_rad[rule->second]);
            break;
        default:
            value[i] = of->bend_rad[rule->first];
        }
    }
}

void ht_rules_values(const struct ht_rules *rules, const struct ht_chain *chain,
                     double *value)
{
    struct ht_chain_figures figures;
    ht_chain_figures(chain, &figures);
    figures.h2_rad = ht_phasor_size(ht_chain_second(chain));
    take_values(rules, &figures, value);
}

void ht_rules_values_closed_form(const struct ht_rules *rules,
                                 const struct ht_chain *chain, double *value)
{
    struct ht_chain_figures figures;
    ht_chain_figures(chain, &figures);
    take_values(rules, &figures, value);
}
