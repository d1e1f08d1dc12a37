#include "text_parts.h"

#include "judged.h"
#include "lines.h"
#include "markup.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

/* Takes the text as the next cell and empties it. */
static void cell(struct table *table, struct ht_text *text)
{
    table_cell(table, ht_text_get(text));
    ht_text_end(&table->cells, text);
}

static void put_limits(struct ht_text *out, const struct judged *judged)
{
    if (judged->sets > 1) {
        ht_text_addf(out, "out in %zu of %zu sets", judged->sets_bad,
                     judged->sets);
        return;
    }
    if (isfinite(judged->least))
        put_degrees(out, judged->least, 1);
    if (isfinite(judged->least) && isfinite(judged->most))
        ht_text_add(out, " to ");
    else if (isfinite(judged->most))
        ht_text_add(out, "at most ");
    if (isfinite(judged->most))
        put_degrees(out, judged->most, 1);
}

static void put_chance(struct ht_text *out, const struct ht_limit_verdict *v)
{
    ht_text_addf(out, "%s, %d in 100 %s", verdict_word(v->verdict),
                 verdict_in_100(v),
                 v->is_minimum ? "under" : "over");
}

static void put_joints(struct ht_text *out, const struct ht_angles *angles)
{
    struct table table = { .align = "rclll" };
    static const char *const heads[] = { "", "Joint", "Angle, 95 % range",
                                         "Allowed", "Verdict" };
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t j = 0; j < angles->joints; j++) {
        struct judged judged = judged_joint(angles, j + 1);
        struct ht_text text = { 0 };
        ht_text_addf(&text, "%zu", j + 1);
        cell(&table, &text);
        clean_text(&text, angles->joint[j].between);
        cell(&table, &text);
        put_angle_range(&text, &angles->joint[j].angle_rad);
        cell(&table, &text);
        put_limits(&text, &judged);
        cell(&table, &text);
        if (judged.sets == 1 && judged.verdict == HT_VERDICT_OPEN)
            put_chance(&text, judged.deciding);
        else
            ht_text_add(&text, verdict_word(judged.verdict));
        cell(&table, &text);
    }
    ht_text_add(out, "\n");
    table_write(out, &table);
}

/* Differences and shakes: one line for each limit that was held against. */
static void put_others(struct ht_text *out, const struct ht_angles *angles)
{
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        struct ht_text text = { 0 };
        bool shake = strcmp(v->unit, "rad/s2") == 0;
        if (v->joint != 0)
            continue;
        clean_text(&text, v->what);
        capital(&text, 0);
        ht_text_add(&text, ": ");
        struct ht_estimate e = { v->value, v->u,
                                 fmax(0, v->value - 1.96 * v->u),
                                 v->value + 1.96 * v->u };
        if (shake)
            put_rate_range(&text, &e);
        else
            put_angle_range(&text, &e);
        ht_text_add(&text, v->is_minimum ? ", at least " : ", at most ");
        if (shake)
            put_number(&text, v->limit, 0);
        else
            put_degrees(&text, v->limit, 1);
        ht_text_add(&text, " (");
        clean_text(&text, v->set);
        ht_text_add(&text, "): ");
        put_chance(&text, v);
        ht_text_add(&text, ".");
        put_paragraph(out, "  ", ht_text_get(&text));
        ht_text_end(out, &text);
    }
}

static void put_shake(struct ht_text *out, const char *name,
                      const struct ht_estimate *value)
{
    if (!isfinite(value->value))
        return;
    struct ht_text text = { 0 };
    ht_text_addf(&text, "%s ", name);
    put_rate_range(&text, value);
    ht_text_add(&text, ".");
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
}

static void put_chain(struct ht_text *out, const struct ht_angles *angles)
{
    struct ht_text text = { 0 };
    if (isfinite(angles->leftover_rad.value)) {
        ht_text_add(&text, "Left over after all joints: ");
        put_angle_range(&text, &angles->leftover_rad);
        ht_text_add(&text, angles->leftover_is_zero
                               ? ", not to be told from zero with this gauge."
                               : ".");
        put_paragraph(out, "  ", ht_text_get(&text));
    }
    ht_text_end(out, &text);
    const struct ht_accelerations *a = &angles->accelerations;
    if (!isfinite(a->axle.value))
        return;
    ht_text_add(&text, "At ");
    if (isnan(a->speed_m_s)) {
        ht_text_number(&text, a->shaft_rad_s * 60 / (2 * HT_PI), 0);
        ht_text_add(&text, " rev/min of the shaft");
    } else
        put_speed(&text, a->speed_m_s);
    ht_text_add(&text, ":");
    put_paragraph(out, "  ", ht_text_get(&text));
    ht_text_end(out, &text);
    put_shake(out, "Shake passed to the axle", &a->axle);
    put_shake(out, "The shaft's own shake, pulled from the front", &a->pulled);
    put_shake(out, "The shaft's own shake, held from the rear", &a->held);
}

static bool is_first_with_source(const struct ht_angles *angles, size_t i)
{
    for (size_t j = 0; j < i; j++)
        if (strcmp(angles->verdict[j].source, angles->verdict[i].source) == 0)
            return false;
    return true;
}

static void put_sources(struct ht_text *out, const struct ht_angles *angles)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < angles->verdicts; i++)
        if (is_first_with_source(angles, i)) {
            clean_text(&lines, angles->verdict[i].set);
            ht_text_add(&lines, ": ");
            clean_text(&lines, angles->verdict[i].source);
            ht_text_add(&lines, "\n");
        }
    put_list(out, "Limits. The vehicle maker's figure comes first",
             ht_text_get(&lines));
    ht_text_end(out, &lines);
}

void text_angles(struct ht_text *out, const struct ht_workup *workup)
{
    put_joints(out, &workup->angles);
    ht_text_add(out, "\n");
    put_chain(out, &workup->angles);
    put_others(out, &workup->angles);
    put_sources(out, &workup->angles);
}
