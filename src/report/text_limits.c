/* Differences, leftover angle and shakes against limits: one line for each
 * thing that was judged, over all sets of limits. */
#include "text_parts.h"

#include "judged.h"
#include "lines.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>
#include <string.h>

static bool is_shake(const struct ht_limit_verdict *v)
{
    return strcmp(v->unit, "rad/s2") == 0;
}

static struct shown_range shown_value(const struct ht_limit_verdict *v)
{
    struct ht_estimate e = { v->value, v->u, v->low, v->high };
    return is_shake(v) ? shown_rate_range(&e) : shown_angle_range(&e);
}

static struct shown shown_limit(const struct ht_limit_verdict *v)
{
    return is_shake(v) ? shown_number(v->limit, 0)
                       : shown_degrees(v->limit, 1);
}

static void put_one(struct ht_text *text, const char *what,
                    const struct ht_limit_verdict *v)
{
    struct ht_text set = { 0 };
    if (verdict_from_side(v))
        ht_text_addf(text, v->is_minimum ? REPORT_HELD_LEAST_SIDE
                                         : REPORT_HELD_MOST_SIDE,
                     what, shown_value(v).text, shown_limit(v).text,
                     id_words(&set, v->set), verdict_word(v->verdict));
    else if (!verdict_has_chance(v))
        ht_text_addf(text, v->is_minimum ? REPORT_HELD_LEAST_ZERO
                                         : REPORT_HELD_MOST_ZERO,
                     what, shown_value(v).text, shown_limit(v).text,
                     id_words(&set, v->set), verdict_word(v->verdict));
    else
        ht_text_addf(text, v->is_minimum ? REPORT_HELD_LEAST
                                         : REPORT_HELD_MOST,
                     what, shown_value(v).text, shown_limit(v).text,
                     id_words(&set, v->set), verdict_word(v->verdict),
                     verdict_in_100(v));
    ht_text_end(text, &set);
}

static void put_several(struct ht_text *text, const char *what,
                        const struct judged_sets *sets)
{
    const struct ht_limit_verdict *low = sets->strictest, *high = sets->loosest;
    struct ht_text strict = { 0 }, loose = { 0 };
    id_words(&strict, low->set);
    id_words(&loose, high->set);
    if (low->limit < high->limit)
        ht_text_addf(text, REPORT_SETS_SAY, what, shown_value(low).text,
                     sets->over, sets->count, shown_limit(low).text,
                     ht_text_get(&strict), verdict_word(low->verdict),
                     shown_limit(high).text, ht_text_get(&loose),
                     verdict_word(high->verdict));
    else if (!verdict_has_chance(low))
        ht_text_addf(text,
                     verdict_from_side(low) ? REPORT_SETS_SAY_SIDE
                                            : REPORT_SETS_SAY_ZERO,
                     what, shown_value(low).text, shown_limit(low).text,
                     sets->count, verdict_word(low->verdict));
    else
        ht_text_addf(text, REPORT_SETS_SAY_ALIKE, what, shown_value(low).text,
                     shown_limit(low).text, sets->count,
                     verdict_word(low->verdict), verdict_in_100(low));
    ht_text_end(text, &strict);
    ht_text_end(text, &loose);
}

static void put_other(struct ht_text *out, const struct ht_angles *angles,
                      const struct ht_limit_verdict *v)
{
    struct judged_sets sets = judged_what(angles, v->what);
    struct ht_text text = { 0 }, what = { 0 };
    cleaned(&what, v->what);
    capital(&what, 0);
    if (sets.count > 1)
        put_several(&text, ht_text_get(&what), &sets);
    else
        put_one(&text, ht_text_get(&what), v);
    ht_text_addf(out, "%s\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &what);
}

/* The largest angle that the sets allow any joint. */
static void put_joint_limits(struct ht_text *out,
                             const struct ht_angles *angles)
{
    struct judged_sets sets = judged_what(angles, NULL);
    struct ht_text text = { 0 }, strict = { 0 }, loose = { 0 };
    if (sets.count < 2 || !(sets.strictest->limit < sets.loosest->limit))
        return;
    ht_text_addf(&text, REPORT_JOINTS_ALLOWED,
                 shown_limit(sets.strictest).text,
                 id_words(&strict, sets.strictest->set),
                 shown_limit(sets.loosest).text,
                 id_words(&loose, sets.loosest->set));
    ht_text_addf(out, "%s\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &strict);
    ht_text_end(out, &loose);
}

static const struct ht_limit_verdict *
first_of(const struct ht_angles *angles, bool is_minimum)
{
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        if (v->joint > 0 && v->is_minimum == is_minimum)
            return v;
    }
    return NULL;
}

bool say_mixed_limits(struct ht_text *out, const struct ht_angles *angles)
{
    const struct ht_limit_verdict *low = first_of(angles, true);
    const struct ht_limit_verdict *high = first_of(angles, false);
    struct ht_text least = { 0 }, most = { 0 };
    if (!low || !high || judged_what(angles, NULL).count != 1 ||
        strcmp(low->set, high->set) == 0)
        return false;
    ht_text_addf(out, REPORT_JOINT_MIXED, shown_limit(low).text,
                 id_words(&least, low->set), shown_limit(high).text,
                 id_words(&most, high->set));
    ht_text_end(out, &least);
    ht_text_end(out, &most);
    return true;
}

static bool was_said(const struct ht_angles *angles, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (strcmp(angles->verdict[i].what, angles->verdict[index].what) == 0)
            return true;
    return false;
}

void say_limits(struct ht_text *out, const struct ht_angles *angles)
{
    put_joint_limits(out, angles);
    if (say_mixed_limits(out, angles))
        ht_text_add(out, "\n");
    for (size_t i = 0; i < angles->verdicts; i++)
        if (angles->verdict[i].joint == 0 && !was_said(angles, i))
            put_other(out, angles, &angles->verdict[i]);
}

void text_limits(struct ht_text *out, const struct ht_angles *angles)
{
    struct ht_text lines = { 0 }, line = { 0 };
    say_limits(&lines, angles);
    for (const char *at = ht_text_get(&lines); *at;) {
        size_t length = strcspn(at, "\n");
        line.length = 0;
        ht_text_add_bytes(&line, at, length);
        put_paragraph(out, "  ", ht_text_get(&line));
        at += length + 1;
    }
    ht_text_end(out, &lines);
    ht_text_end(out, &line);
}
