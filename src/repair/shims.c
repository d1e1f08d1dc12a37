/* Plans: from the sheet to the few works that are worth their while. */
#include "centres.h"
#include "lengths.h"
#include "note.h"
#include "possible.h"
#include "ready.h"
#include "take.h"
#include "texts.h"

#include "common/memory.h"
#include "common/parallel.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A plan is enough from here on; more work must be likelier by this much. */
static const double enough = 0.95, worth = 0.02;

/* ---- candidates -------------------------------------------------------- */

struct candidate {
    size_t works;
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    unsigned mask;
    double minutes, merit;
    struct kept kept;
};

struct planner {
    struct ht_shims *shims;
    struct shelf shelf;
    struct ht_joint_centres centres;
    struct ht_rules rules;
    double shaft_rad_s;
    struct possible possible;
    struct search_best *best;
    struct candidate *candidate;
    size_t candidates;
    struct candidate turned; /* without works: nothing is the other way round */
};

/* The spread of each rule's value as it stands, for the rough search. */
static void aim_at(struct search_aim *aim, const struct planner *planner)
{
    double sum[HT_RULES_MAX] = { 0 }, squares[HT_RULES_MAX] = { 0 };
    const struct ht_rules *rules = &planner->rules;
    aim->rules = rules;
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++) {
        double value[HT_RULES_MAX];
        ht_rules_values(rules, &planner->possible.line[i], value);
        for (size_t r = 0; r < rules->rules; r++) {
            sum[r] += value[r];
            squares[r] += value[r] * value[r];
        }
    }
    for (size_t r = 0; r < rules->rules; r++) {
        double mean = sum[r] / POSSIBLE_DRAWS;
        double variance = squares[r] / POSSIBLE_DRAWS - mean * mean;
        aim->u[r] = sqrt(fmax(variance, 0)) + 1e-9;
    }
}

static double minutes_of(const struct shelf *shelf, unsigned mask)
{
    double minutes = 0;
    for (size_t i = 0; i < shelf->places; i++)
        minutes += mask >> i & 1 ? shelf->place[i].minutes : 0;
    return minutes;
}

static void take_candidates(struct planner *planner)
{
    for (unsigned mask = 0; mask < MASKS; mask++)
        for (size_t k = 0; k < planner->best[mask].count; k++) {
            const struct search_found *found = &planner->best[mask].found[k];
            struct candidate *candidate =
                &planner->candidate[planner->candidates++];
            candidate->works =
                ht_shelf_works(&planner->shelf, found->combination,
                               candidate->work, &candidate->mask);
            candidate->minutes = minutes_of(&planner->shelf, mask);
            candidate->merit = found->merit;
        }
}

/* What is in the other way round goes twice as far back. */
static void take_turned(struct planner *planner,
                        const struct search_aim *aim,
                        const struct ht_shim_work *reversed)
{
    struct candidate *turned = &planner->turned;
    struct ht_chain line;
    if (!reversed)
        return;
    turned->works = 1;
    turned->work[0] = *reversed;
    turned->work[0].turn_rad *= 2;
    turned->work[0].lift_m *= 2;
    turned->work[0].turned = true;
    turned->minutes = ht_shelf_minutes(reversed->place);
    ht_centres_move(&line, &planner->centres, turned->work, 1);
    turned->merit = ht_search_merit(aim, &line);
    ht_possible_kept(&turned->kept, &planner->possible, &planner->rules,
                     turned->work, 1, -1);
}

/* Candidates of as much work. */
struct group {
    const struct planner *planner;
    struct candidate *candidate;
    double bar; /* what none of them is worth looking at below */
};

static void follow(void *context, size_t index)
{
    const struct group *group = context;
    struct candidate *candidate = &group->candidate[index];
    ht_possible_kept(&candidate->kept, &group->planner->possible,
                     &group->planner->rules, candidate->work, candidate->works,
                     group->bar);
}

/* Least work first; then the likelier, then the one with more room. */
static int by_work(const void *a, const void *b)
{
    const struct candidate *x = a, *y = b;
    if (x->minutes != y->minutes)
        return x->minutes < y->minutes ? -1 : 1;
    if (x->kept.all != y->kept.all)
        return x->kept.all > y->kept.all ? -1 : 1;
    if (x->merit != y->merit)
        return x->merit > y->merit ? -1 : 1;
    return 0;
}

/* A plan has to be likelier than all that is less work, but for those of next
 * to no chance, which are told apart by their merit (is_better). */
static void follow_all(struct planner *planner)
{
    struct candidate *candidate = planner->candidate;
    size_t all = planner->candidates, end;
    double most = 0;
    qsort(candidate, all, sizeof *candidate, by_work);
    for (size_t i = 0; i < all; i = end) {
        struct group group = { planner, &candidate[i],
                               most < 2 * worth ? -1 : most };
        end = i + 1;
        while (end < all && candidate[end].minutes == candidate[i].minutes)
            end++;
        ht_parallel(end - i, follow, &group);
        for (size_t k = i; k < end; k++)
            most = fmax(most, candidate[k].kept.all);
    }
    qsort(candidate, all, sizeof *candidate, by_work);
}

/* ---- plans ------------------------------------------------------------- */

static enum ht_status plan_from(struct ht_shim_plan *plan,
                                const struct planner *planner,
                                const struct candidate *candidate,
                                struct ht_error *err)
{
    plan->works = candidate->works;
    memcpy(plan->work, candidate->work, sizeof plan->work);
    plan->members = planner->centres.line.members;
    plan->minutes = candidate->minutes;
    plan->probability = candidate->kept.all;
    plan->weakest_probability = 1;
    for (size_t r = 0; r < planner->rules.rules; r++) {
        plan->held[r].probability = candidate->kept.each[r];
        if (candidate->kept.each[r] < plan->weakest_probability) {
            plan->weakest_probability = candidate->kept.each[r];
            snprintf(plan->weakest, sizeof plan->weakest, "%s",
                     planner->rules.rule[r].what);
        }
    }
    return ht_possible_describe(plan, &planner->possible, &planner->rules,
                                planner->shaft_rad_s, err);
}

/* How good: the chance that all holds; where there is next to none, what comes
 * nearest. */
static bool is_better(const struct candidate *candidate,
                      const struct candidate *than)
{
    if (candidate->kept.all >= worth || than->kept.all >= worth)
        return candidate->kept.all > than->kept.all + worth;
    return candidate->merit > than->merit + 1;
}

/* Where something is likely, what hardly is needs no place. */
static double least_likely(const struct planner *planner)
{
    double most = 0;
    for (size_t i = 0; i < planner->candidates; i++)
        most = fmax(most, planner->candidate[i].kept.all);
    return most >= 0.5 ? 0.1 : 0;
}

static enum ht_status choose_more(struct planner *planner,
                                  const struct candidate *last,
                                  struct ht_error *err)
{
    struct ht_shims *shims = planner->shims;
    double least = least_likely(planner);
    enum ht_status status = HT_OK;
    for (size_t i = 1; status == HT_OK && i < planner->candidates &&
                       shims->plans < HT_SHIM_PLANS_MAX;
         i++) {
        const struct candidate *next = &planner->candidate[i];
        if (next->kept.all < least || !is_better(next, last))
            continue;
        status = plan_from(&shims->plan[shims->plans++], planner, next, err);
        last = next;
    }
    return status;
}

static enum ht_status choose(struct planner *planner, struct ht_error *err)
{
    struct ht_shims *shims = planner->shims;
    const struct candidate *last = &planner->candidate[0]; /* as it stands */
    const struct candidate *turned = &planner->turned;
    enum ht_status status =
        plan_from(&shims->as_it_stands, planner, last, err);
    shims->needs_nothing = shims->as_it_stands.probability >= enough;
    if (status != HT_OK || shims->needs_nothing)
        return status;
    if (turned->works > 0 && is_better(turned, last)) {
        status = plan_from(&shims->plan[shims->plans++], planner, turned, err);
        last = turned;
    } else if (turned->works > 0) {
        ht_repair_note(shims, REPAIR_TURNING_NO_HELP);
    }
    if (status == HT_OK)
        status = choose_more(planner, last, err);
    for (size_t i = shims->plans; i-- > 0;)
        if (i + 1 == shims->plans || shims->plan[i].probability >= enough)
            shims->advised = i;
    shims->enough = shims->plans > 0 &&
                    shims->plan[shims->advised].probability >= enough;
    return status;
}

static enum ht_status search_and_follow(struct planner *planner,
                                        const struct ht_shims_input *input,
                                        struct ht_error *err)
{
    struct search_aim aim;
    struct search_progress progress = { input->progress, input->context };
    struct search_request request = {
        .shelf = &planner->shelf,
        .centres = &planner->centres,
        .aim = &aim,
        .progress = input->progress ? &progress : NULL,
    };
    aim_at(&aim, planner);
    enum ht_status status = ht_search(planner->best, &request, err);
    if (status != HT_OK)
        return status;
    planner->shims->combinations = planner->shelf.combinations;
    take_candidates(planner);
    take_turned(planner, &aim, input->reversed);
    follow_all(planner);
    return choose(planner, err);
}

static void list_limits(struct ht_shims *shims, const struct ht_rules *rules)
{
    shims->limit_count = rules->rules;
    for (size_t r = 0; r < rules->rules; r++) {
        const struct ht_rule *rule = &rules->rule[r];
        struct ht_shim_limit *limit = &shims->limit[r];
        *limit = (struct ht_shim_limit){ .about = rule->about,
                                         .joint = rule->first,
                                         .is_minimum = rule->is_minimum,
                                         .limit = rule->limit };
        memcpy(limit->what, rule->what, sizeof limit->what);
    }
}

static enum ht_status plan_line(struct planner *planner,
                                const struct ht_shims_input *input,
                                const struct ht_driveline *driveline,
                                struct ht_error *err)
{
    planner->best = ht_allocate(MASKS, sizeof *planner->best);
    planner->candidate =
        ht_allocate(MASKS * BEST_KEPT, sizeof *planner->candidate);
    if (!planner->best || !planner->candidate)
        return ht_fail(err, REPAIR_NO_MEMORY);
    enum ht_status status = ht_shelf_create(
        &planner->shelf, planner->shims, input, &planner->centres, err);
    if (status != HT_OK)
        return status;
    if (planner->shelf.places == 0 && !input->reversed) {
        ht_repair_refuse(planner->shims, REPAIR_FIRST_NO_PLACE);
        return HT_OK;
    }
    ht_lengths_say(planner->shims, &planner->shelf, &planner->centres);
    list_limits(planner->shims, &planner->rules);
    status = ht_possible_create(&planner->possible, &planner->centres,
                                driveline, err);
    return status == HT_OK ? search_and_follow(planner, input, err) : status;
}

static bool is_fitted(const struct ht_shims_input *input)
{
    const struct ht_sheet *sheet = input->sheet;
    for (size_t i = 0; i < sheet->fitted_count; i++)
        if (ht_take_fitted(input, &sheet->fitted[i]))
            return true;
    return false;
}

static void say_taken(struct ht_shims *shims,
                      const struct ht_shims_input *input,
                      const struct ht_driveline *driveline)
{
    bool headings = true;
    for (size_t m = 0; m < driveline->members; m++)
        headings = headings && !isnan(driveline->heading_rad[m]);
    if (!headings && isnan(driveline->offset_m[0]))
        ht_repair_note(shims, REPAIR_SIDE_VIEW);
    if (!isfinite(input->shaft_rad_s))
        ht_repair_note(shims, REPAIR_NO_SPEED);
    if (input->driveline_index < input->sheet->driveline_count &&
        !isnan(input->sheet->drivelines[input->driveline_index].spline_teeth))
        ht_repair_note(shims, REPAIR_SPLINE_WHERE);
    if (is_fitted(input))
        ht_repair_note(shims, input->after_fitted ? REPAIR_ON_TOP
                                                  : REPAIR_FITTED_NOT_READ);
}

static void copy_name(char *to, size_t size, const char *name)
{
    snprintf(to, size, "%s", name ? name : "");
}

/* Which rules there are, and the plans. */
static enum ht_status plan_all(struct ht_shims *shims,
                               const struct ht_shims_input *input,
                               const struct ht_driveline *driveline,
                               const struct ht_joint_centres *centres,
                               struct ht_error *err)
{
    struct planner *planner = ht_allocate(1, sizeof *planner);
    if (!planner)
        return ht_fail(err, REPAIR_NO_MEMORY);
    planner->shims = shims;
    planner->centres = *centres;
    planner->shaft_rad_s = input->shaft_rad_s;
    say_taken(shims, input, driveline);
    struct ht_angles_options options = ht_take_limits(input);
    enum ht_status status =
        ht_rules_list(&planner->rules, driveline, &options, err);
    if (status == HT_OK)
        status = plan_line(planner, input, driveline, err);
    ht_possible_free(&planner->possible);
    ht_shelf_free(&planner->shelf);
    ht_release(planner->best);
    ht_release(planner->candidate);
    ht_release(planner);
    return status;
}

enum ht_status ht_shims_plan(struct ht_shims *shims,
                             const struct ht_shims_input *input,
                             struct ht_error *err)
{
    struct ht_driveline driveline;
    struct ht_joint_centres centres;
    const struct ht_sheet *sheet = input->sheet;
    *shims = (struct ht_shims){ 0 };
    enum ht_status status = ht_take_line(&driveline, &centres, input, err);
    if (status != HT_OK)
        return status;
    if (input->driveline_index < sheet->driveline_count)
        copy_name(shims->driveline, sizeof shims->driveline,
                  sheet->drivelines[input->driveline_index].name);
    copy_name(shims->limits, sizeof shims->limits, sheet->limits.name);
    shims->members = driveline.members;
    for (size_t m = 0; m < driveline.members; m++)
        copy_name(shims->member[m], sizeof shims->member[m],
                  driveline.member[m]);
    ht_ready_check(shims, input, &driveline);
    ht_sizes_say(shims, input);
    if (shims->refusals == 0)
        status = plan_all(shims, input, &driveline, &centres, err);
    if (status != HT_OK)
        *shims = (struct ht_shims){ 0 };
    return status;
}
