/* Rows of a shim plan: limits about the same thing put together. */
#include "choice.h"

#include "shims.h"
#include "shown.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool is_shake(enum ht_rule_about about)
{
    return about >= HT_RULE_AXLE;
}

/* ---- names -------------------------------------------------------------- */

static void name_row(struct choice *choice, char *name,
                     const struct ht_shim_limit *limit)
{
    static const char *const shakes[] = {
        [HT_RULE_AXLE] = FIGURE_CHOICE_AXLE,
        [HT_RULE_PULLED] = FIGURE_CHOICE_PULLED,
        [HT_RULE_HELD] = FIGURE_CHOICE_HELD,
        [HT_RULE_SECTION] = FIGURE_CHOICE_SECTION,
    };
    struct ht_text text = { 0 };
    if (is_shake(limit->about))
        ht_text_add(&text, shakes[limit->about]);
    else
        (void)cleaned(&text, limit->what);
    capital(&text, 0);
    (void)snprintf(name, CHOICE_NAME, "%s", ht_text_get(&text));
    ht_text_end(&choice->works, &text);
}

static struct shown limit_number(double limit, bool shake)
{
    if (shake)
        return shown_number(limit, 0);
    double degrees = limit * HT_DEG_PER_RAD;
    return shown_degrees(limit, fabs(degrees - round(degrees)) < 0.05 ? 0 : 1);
}

static void name_limits(struct choice *choice, struct choice_row *row)
{
    struct shown least = limit_number(row->least, row->shake);
    struct shown most = limit_number(row->most, row->shake);
    struct ht_text text = { 0 };
    if (row->shake)
        ht_text_addf(&text, FIGURE_CHOICE_RATE, row->name, most.text);
    else if (isnan(row->least))
        ht_text_addf(&text, FIGURE_CHOICE_MOST, row->name, most.text);
    else if (isnan(row->most))
        ht_text_addf(&text, FIGURE_CHOICE_LEAST, row->name, least.text);
    else
        ht_text_addf(&text, FIGURE_CHOICE_BETWEEN, row->name, least.text,
                     most.text);
    (void)snprintf(row->long_name, CHOICE_LONG_NAME, "%s", ht_text_get(&text));
    ht_text_end(&choice->works, &text);
}

/* ---- rows --------------------------------------------------------------- */

/* What a limit is about: a minimum and a maximum of one joint share a row. */
static bool same_thing(const struct ht_shim_limit *a,
                       const struct ht_shim_limit *b)
{
    return a->about == b->about && strcmp(a->what, b->what) == 0;
}

/* Held by its chance, as every verdict is. */
static void judge(struct choice_row *row, const struct ht_shim_limit *limit,
                  double probability)
{
    enum ht_verdict verdict = HT_VERDICT_OPEN;
    if (probability >= 0.95)
        verdict = HT_VERDICT_WITHIN;
    else if (probability <= 0.05)
        verdict = limit->is_minimum ? HT_VERDICT_UNDER : HT_VERDICT_OVER;
    bool decided = row->verdict == HT_VERDICT_OVER ||
                   row->verdict == HT_VERDICT_UNDER;
    if (!decided && verdict != HT_VERDICT_WITHIN)
        row->verdict = verdict;
}

static struct ht_estimate in_parts(const struct ht_estimate *e, double part)
{
    return (struct ht_estimate){ e->value / part, e->u / part, e->low / part,
                                 e->high / part };
}

static void take_limit(struct choice_row *row,
                       const struct ht_shim_limit *limit)
{
    if (limit->is_minimum)
        row->least = limit->limit;
    else
        row->most = limit->limit;
}

/* Limits into parts, once both are known. */
static void finish_row(struct choice *choice, struct choice_row *row)
{
    name_limits(choice, row);
    row->part = isnan(row->most) ? row->least : row->most;
    row->now = in_parts(&row->now, row->part);
    row->then = in_parts(&row->then, row->part);
    row->least /= row->part;
    row->most /= row->part;
}

static bool is_drawn(const struct ht_shims *shims, size_t i,
                     const struct ht_shim_plan *plan)
{
    return isfinite(shims->limit[i].limit) && shims->limit[i].limit > 0 &&
           isfinite(shims->as_it_stands.held[i].value.high) &&
           isfinite(plan->held[i].value.high);
}

static void take_rows(struct choice *choice, const struct ht_shims *shims,
                      const struct ht_shim_plan *plan)
{
    size_t first[HT_RULES_MAX] = { 0 }; /* the limit that a row began with */
    choice->rows = 0;
    for (size_t i = 0; i < shims->limit_count; i++) {
        const struct ht_shim_limit *limit = &shims->limit[i];
        size_t r = 0;
        if (!is_drawn(shims, i, plan))
            continue;
        while (r < choice->rows &&
               !same_thing(&shims->limit[first[r]], limit))
            r++;
        struct choice_row *row = &choice->row[r];
        if (r == choice->rows) {
            first[choice->rows++] = i;
            *row = (struct choice_row){
                .now = shims->as_it_stands.held[i].value,
                .then = plan->held[i].value,
                .least = NAN, .most = NAN,
                .shake = is_shake(limit->about),
                .verdict = HT_VERDICT_WITHIN,
            };
            name_row(choice, row->name, limit);
        }
        take_limit(row, limit);
        judge(row, limit, plan->held[i].probability);
    }
    for (size_t r = 0; r < choice->rows; r++)
        finish_row(choice, &choice->row[r]);
}

/* Up to where the largest of all plans reaches; three times the limit is far
 * enough to see that it is far. */
static double top_of(const struct ht_shims *shims)
{
    double most = 1.5;
    for (size_t i = 0; i < shims->limit_count; i++) {
        if (shims->limit[i].is_minimum)
            continue;
        most = fmax(most, shims->as_it_stands.held[i].value.high /
                              shims->limit[i].limit);
        for (size_t p = 0; p < shims->plans; p++)
            most = fmax(most, shims->plan[p].held[i].value.high /
                                  shims->limit[i].limit);
    }
    return fmin(1.04 * most, 3);
}

bool choice_from(struct choice *choice, const struct ht_shims *shims,
                 size_t index)
{
    const struct ht_shim_plan *plan = &shims->plan[index];
    *choice = (struct choice){ .top = top_of(shims) };
    take_rows(choice, shims, plan);
    (void)snprintf(choice->head, sizeof choice->head, FIGURE_CHOICE_HEAD,
                   index + 1, in_100(plan->probability));
    for (size_t w = 0; w < plan->works; w++) {
        next_sentence(&choice->works);
        say_work(&choice->works, shims, &plan->work[w]);
    }
    return choice->rows > 0;
}

void choice_free(struct choice *choice, struct ht_text *out)
{
    ht_text_end(out, &choice->works);
}
