/* Step 8: against the limits. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

enum { LIMIT_LINES = 24 };

/* As it was printed above. */
static struct explained explained_of(const struct explain *explain,
                                     const struct ht_limit_verdict *v)
{
    switch (v->about) {
    case HT_RULE_JOINT:
        return explain->joint[v->index];
    case HT_RULE_PAIR:
        return explain->pair[v->index];
    case HT_RULE_LEFTOVER:
        return explain->leftover;
    case HT_RULE_AXLE:
        return explain->axle;
    case HT_RULE_PULLED:
        return explain->pulled;
    case HT_RULE_HELD:
        return explain->held;
    default:
        return explain->section;
    }
}

static void explain_away(struct explain *explain,
                         const struct ht_limit_verdict *v, double limit,
                         int decimals)
{
    struct ht_text line = { 0 }, what = { 0 }, set = { 0 };
    struct explained known = explained_of(explain, v);
    ht_text_addf(&line, v->is_minimum ? EXPLAIN_BELOW : EXPLAIN_AWAY,
                 cleaned(&what, v->what), id_words(&set, v->set));
    ht_text_add(&line, "(");
    double a = explain_number(&line, v->is_minimum ? limit : known.value,
                              decimals);
    ht_text_add(&line, " " MINUS " ");
    double b = explain_number(&line, v->is_minimum ? known.value : limit,
                              decimals);
    ht_text_add(&line, ") / ");
    double u = explain_number(&line, known.u, decimals);
    (void)explain_result(&line, (a - b) / u, 1);
    explain_close(explain, &line);
    ht_text_end(explain->out, &what);
    ht_text_end(explain->out, &set);
}

static void explain_limit(struct explain *explain,
                          const struct ht_limit_verdict *v)
{
    bool shake = strcmp(v->unit, "rad/s2") == 0;
    int decimals = shake ? EXPLAIN_RATE : EXPLAIN_DEGREES;
    struct ht_text line = { 0 };
    if (!(explained_of(explain, v).u > 0))
        return; /* nothing to divide by at these decimals */
    explain_away(explain, v, v->limit * (shake ? 1 : HT_DEG_PER_RAD), decimals);
    if (verdict_has_chance(v))
        ht_text_addf(&line, v->is_minimum ? EXPLAIN_VERDICT_UNDER
                                          : EXPLAIN_VERDICT_OVER,
                     verdict_in_100(v), verdict_word(v->verdict));
    else
        ht_text_addf(&line,
                     verdict_from_side(v) ? EXPLAIN_VERDICT_SIDE
                                          : EXPLAIN_VERDICT_ZERO,
                     verdict_word(v->verdict));
    explain_made(explain, &line);
}

void explain_limits(struct explain *explain)
{
    const struct ht_angles *angles = explain->angles;
    explain_heading(explain, EXPLAIN_LIMITS);
    if (!angles->verdict_allowed) {
        explain_sentence(explain, EXPLAIN_NO_VERDICT);
        return;
    }
    if (angles->verdicts > LIMIT_LINES) {
        struct ht_text text = { 0 };
        ht_text_addf(&text, EXPLAIN_MANY_LIMITS, angles->verdicts);
        explain_made(explain, &text);
        return;
    }
    explain_sentence(explain, EXPLAIN_RULE);
    for (size_t i = 0; i < angles->verdicts; i++)
        explain_limit(explain, &angles->verdict[i]);
}
