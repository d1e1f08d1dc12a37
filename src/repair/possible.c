#include "possible.h"

#include "centres.h"
#include "texts.h"

#include "angles/chain.h"
#include "angles/rules.h"
#include "angles/spread.h"
#include "common/constants.h"
#include "common/memory.h"
#include "common/random.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { MAKES = HT_SHIM_PLACES_MAX };
static const uint64_t seed = UINT64_C(20261129);

/* A wedge is off by at most 0.1 degree as it sits, a plate by 0.3 mm: common
 * practice, no source. */
static const double wedge_off_rad = 0.1 * HT_RAD_PER_DEG;
static const double plate_off_m = 0.0003;

static void draw_rest(struct possible *possible)
{
    uint64_t state = seed;
    const struct ht_joint_centres *centres = possible->centres;
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++) {
        for (size_t k = 0; k < HT_LENGTHS; k++) {
            struct length_range range = ht_length_range(k);
            double share = ht_random_share(&state);
            possible->length_m[i * HT_LENGTHS + k] =
                isnan(centres->length_m[k])
                    ? range.low_m + share * (range.high_m - range.low_m)
                    : centres->length_m[k];
        }
        for (size_t k = 0; k < MAKES; k++)
            possible->make[i * MAKES + k] = 2 * ht_random_share(&state) - 1;
    }
}

enum ht_status ht_possible_create(struct possible *possible,
                                  const struct ht_joint_centres *centres,
                                  const struct ht_driveline *driveline,
                                  struct ht_error *err)
{
    *possible = (struct possible){
        .centres = centres,
        .line = ht_allocate(POSSIBLE_DRAWS, sizeof *possible->line),
        .length_m = ht_allocate(POSSIBLE_DRAWS * HT_LENGTHS, sizeof(double)),
        .make = ht_allocate(POSSIBLE_DRAWS * MAKES, sizeof(double)),
    };
    if (!possible->line || !possible->length_m || !possible->make) {
        ht_possible_free(possible);
        return ht_fail(err, REPAIR_NO_MEMORY);
    }
    enum ht_status status =
        ht_chain_draw(possible->line, POSSIBLE_DRAWS, driveline, err);
    if (status == HT_OK)
        draw_rest(possible);
    else
        ht_possible_free(possible);
    return status;
}

void ht_possible_free(struct possible *possible)
{
    ht_release(possible->line);
    ht_release(possible->length_m);
    ht_release(possible->make);
    *possible = (struct possible){ 0 };
}

void ht_possible_line(struct ht_chain *moved, const struct possible *possible,
                      size_t draw, const struct ht_shim_work *work,
                      size_t works)
{
    struct ht_joint_centres centres = { .line = possible->line[draw],
                                        .axle_in_front =
                                            possible->centres->axle_in_front };
    struct ht_shim_work made[HT_SHIM_PLACES_MAX];
    memcpy(centres.length_m, possible->length_m + draw * HT_LENGTHS,
           sizeof centres.length_m);
    for (size_t i = 0; i < works; i++) {
        double off = possible->make[draw * MAKES + i];
        made[i] = work[i];
        if (work[i].place == HT_SHIM_AXLE)
            made[i].turn_rad += off * (work[i].turned ? 2 : 1) * wedge_off_rad;
        else if (work[i].place != HT_SHIM_SPLINE)
            made[i].lift_m += off * (work[i].turned ? 2 : 1) * plate_off_m;
    }
    ht_centres_move(moved, &centres, made, works);
}

static bool keeps(struct kept *kept, const struct ht_rules *rules,
                  const struct ht_chain *line)
{
    double value[HT_RULES_MAX];
    bool all = true;
    ht_rules_values(rules, line, value);
    for (size_t r = 0; r < rules->rules; r++) {
        const struct ht_rule *rule = &rules->rule[r];
        bool held = rule->is_minimum ? value[r] >= rule->held_to
                                     : value[r] <= rule->held_to;
        kept->each[r] += held / (double)POSSIBLE_DRAWS;
        all = all && held;
    }
    return all;
}

void ht_possible_kept(struct kept *kept, const struct possible *possible,
                      const struct ht_rules *rules,
                      const struct ht_shim_work *work, size_t works,
                      double bar)
{
    double most = 1;
    *kept = (struct kept){ 0 };
    for (size_t i = 0; i < POSSIBLE_DRAWS && most > bar; i++) {
        struct ht_chain line;
        ht_possible_line(&line, possible, i, work, works);
        if (keeps(kept, rules, &line))
            kept->all += 1.0 / POSSIBLE_DRAWS;
        else
            most -= 1.0 / POSSIBLE_DRAWS;
    }
}

double ht_possible_share(const struct ht_chain *line,
                         const struct ht_rules *rules)
{
    struct kept kept = { 0 };
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++)
        kept.all += keeps(&kept, rules, &line[i]) / (double)POSSIBLE_DRAWS;
    return kept.all;
}

/* ---- what is to be expected -------------------------------------------- */

enum { SLOPES = 0, JOINTS = HT_MEMBERS_MAX, H2 = JOINTS + HT_JOINTS_MAX,
       RULES, ROWS = RULES + HT_RULES_MAX };

static void fill_rules(double *row, size_t draw, const struct ht_chain *line,
                       const struct ht_rules *rules, double shaft_rad_s)
{
    double value[HT_RULES_MAX];
    ht_rules_values(rules, line, value);
    for (size_t r = 0; r < rules->rules; r++)
        row[(RULES + r) * POSSIBLE_DRAWS + draw] =
            ht_rule_in_limit_unit(&rules->rule[r], value[r], shaft_rad_s);
}

static void fill_rows(double *row, const struct possible *possible,
                      const struct ht_shim_plan *plan,
                      const struct ht_rules *rules, double shaft_rad_s)
{
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++) {
        struct ht_chain line;
        struct ht_chain_figures figures;
        ht_possible_line(&line, possible, i, plan->work, plan->works);
        ht_chain_figures(&line, &figures);
        for (size_t m = 0; m < plan->members; m++)
            row[(SLOPES + m) * POSSIBLE_DRAWS + i] = line.slope_rad[m];
        for (size_t j = 0; j + 1 < plan->members; j++)
            row[(JOINTS + j) * POSSIBLE_DRAWS + i] = figures.bend_rad[j];
        row[H2 * POSSIBLE_DRAWS + i] = ht_phasor_size(ht_chain_second(&line));
        fill_rules(row, i, &line, rules, shaft_rad_s);
    }
}

static bool estimate_row(struct ht_estimate *estimate, const double *row)
{
    struct ht_five five;
    if (!ht_five_of(&five, row, POSSIBLE_DRAWS))
        return false;
    *estimate = ht_estimate_of(&five);
    return true;
}

static bool estimate_rows(struct ht_shim_plan *plan, double *row,
                          size_t rules)
{
    bool done = true;
    double *h2 = row + H2 * POSSIBLE_DRAWS;
    for (size_t m = 0; m < plan->members; m++)
        done = done && estimate_row(&plan->slope_rad[m],
                                    row + (SLOPES + m) * POSSIBLE_DRAWS);
    for (size_t j = 0; j + 1 < plan->members; j++)
        done = done && estimate_row(&plan->joint_rad[j],
                                    row + (JOINTS + j) * POSSIBLE_DRAWS);
    for (size_t r = 0; r < rules; r++)
        done = done && estimate_row(&plan->held[r].value,
                                    row + (RULES + r) * POSSIBLE_DRAWS);
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++)
        h2[i] = ht_joint_bend_of_harmonic(h2[i]);
    return done && estimate_row(&plan->leftover_rad, h2);
}

enum ht_status ht_possible_describe(struct ht_shim_plan *plan,
                                    const struct possible *possible,
                                    const struct ht_rules *rules,
                                    double shaft_rad_s, struct ht_error *err)
{
    double *row = ht_allocate(ROWS * POSSIBLE_DRAWS, sizeof *row);
    bool done = row;
    if (row) {
        fill_rows(row, possible, plan, rules, shaft_rad_s);
        done = estimate_rows(plan, row, rules->rules);
    }
    ht_release(row);
    return done ? HT_OK : ht_fail(err, REPAIR_NO_MEMORY);
}
