#include "text_parts.h"

#include "effects_said.h"
#include "judged.h"
#include "lines.h"
#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts.h"
#include "travel.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

static void put_limits(struct ht_text *out, const struct judged *judged)
{
    struct shown least = shown_degrees(judged->least, 1);
    struct shown most = shown_degrees(judged->most, 1);
    if (judged->sets > 1)
        ht_text_addf(out, REPORT_OUT_IN_SETS, judged->sets_bad, judged->sets);
    else if (isfinite(judged->least) && isfinite(judged->most))
        ht_text_addf(out, REPORT_BETWEEN, least.text, most.text);
    else if (isfinite(judged->most))
        ht_text_addf(out, REPORT_AT_MOST, most.text);
    else if (isfinite(judged->least))
        ht_text_addf(out, REPORT_AT_LEAST, least.text);
}

static void put_verdict(struct ht_text *out, const struct judged *judged)
{
    const struct ht_limit_verdict *v = judged->deciding;
    if (judged->sets == 1 && judged->verdict == HT_VERDICT_OPEN &&
        verdict_has_chance(v))
        ht_text_addf(out,
                     v->is_minimum ? REPORT_CHANCE_UNDER : REPORT_CHANCE_OVER,
                     verdict_word(v->verdict), verdict_in_100(v));
    else
        ht_text_add(out, verdict_word(judged->verdict));
}

static void put_joint(struct table *table, const struct ht_angles *angles,
                      size_t joint)
{
    struct judged judged = judged_joint(angles, joint);
    struct ht_text text = { 0 };
    ht_text_addf(&text, "%zu", joint);
    table_take(table, &text);
    clean_text(&text, angles->joint[joint - 1].between);
    table_take(table, &text);
    ht_text_add(&text,
                shown_angle_range(&angles->joint[joint - 1].angle_rad).text);
    table_take(table, &text);
    put_limits(&text, &judged);
    table_take(table, &text);
    put_verdict(&text, &judged);
    table_take(table, &text);
}

static void put_joints(struct ht_text *out, const struct ht_angles *angles)
{
    struct table table = { .align = "rclll" };
    static const char *const heads[] = { "", REPORT_HEAD_JOINT,
                                         REPORT_HEAD_ANGLE,
                                         REPORT_HEAD_ALLOWED,
                                         REPORT_HEAD_VERDICT };
    for (size_t i = 0; i < 5; i++)
        table_cell(&table, heads[i]);
    for (size_t j = 1; j <= angles->joints; j++)
        put_joint(&table, angles, j);
    ht_text_add(out, "\n");
    table_write(out, &table);
}

static void end_paragraph(struct ht_text *out, struct ht_text *text)
{
    put_paragraph(out, "  ", ht_text_get(text));
    ht_text_end(out, text);
}

static void put_shakes(struct ht_text *out, const struct ht_accelerations *a,
                       bool both)
{
    struct ht_text text = { 0 };
    struct shown rpm = shown_number(a->shaft_rad_s * 60 / (2 * HT_PI), 0);
    if (isnan(a->speed_m_s))
        ht_text_addf(&text, REPORT_AT_SHAFT_SPEED, rpm.text);
    else if (both)
        ht_text_addf(&text, REPORT_AT_BOTH, shown_speed(a->speed_m_s).text,
                     rpm.text);
    else
        ht_text_addf(&text, REPORT_AT_SPEED, shown_speed(a->speed_m_s).text);
    end_paragraph(out, &text);
    ht_text_addf(&text, REPORT_SHAKE_AXLE, shown_rate_range(&a->axle).text);
    end_paragraph(out, &text);
    if (isfinite(a->pulled.value))
        ht_text_addf(&text, REPORT_SHAKE_PULLED,
                     shown_rate_range(&a->pulled).text);
    end_paragraph(out, &text);
    if (isfinite(a->held.value))
        ht_text_addf(&text, REPORT_SHAKE_HELD,
                     shown_rate_range(&a->held).text);
    end_paragraph(out, &text);
}

static void put_chain(struct ht_text *out, const struct ht_angles *angles,
                      bool both_speeds)
{
    struct ht_text text = { 0 };
    if (isfinite(angles->leftover_rad.value))
        ht_text_addf(&text,
                     angles->leftover_is_zero ? REPORT_LEFT_OVER_ZERO
                                              : REPORT_LEFT_OVER,
                     shown_angle_range(&angles->leftover_rad).text);
    end_paragraph(out, &text);
    if (isfinite(angles->accelerations.axle.value))
        put_shakes(out, &angles->accelerations, both_speeds);
}

/* ---- sources ------------------------------------------------------------ */

/* Each source once, whichever set of readings was held against it. */
static void add_sources(struct ht_text *lines, const struct ht_angles *angles)
{
    struct ht_text line = { 0 }, set = { 0 }, source = { 0 };
    for (size_t i = 0; i < angles->verdicts; i++) {
        const struct ht_limit_verdict *v = &angles->verdict[i];
        line.length = 0;
        ht_text_addf(&line, REPORT_SET_SOURCE "\n", id_words(&set, v->set),
                     cleaned(&source, v->source));
        if (!strstr(ht_text_get(lines), ht_text_get(&line)))
            ht_text_add(lines, ht_text_get(&line));
    }
    ht_text_end(lines, &line);
    ht_text_end(lines, &set);
    ht_text_end(lines, &source);
}

static void put_sources(struct ht_text *out, const struct ht_workup *workup)
{
    struct ht_text lines = { 0 };
    if (workup->line_count == 0)
        add_sources(&lines, &workup->angles);
    for (size_t i = 0; i < workup->line_count; i++)
        add_sources(&lines, &workup->lines[i].angles);
    put_list(out, REPORT_LIMITS, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

/* ---- one set, or several ------------------------------------------------ */

static void put_set(struct ht_text *out, const struct ht_angles *angles,
                    bool both_speeds)
{
    put_joints(out, angles);
    ht_text_add(out, "\n");
    put_chain(out, angles, both_speeds);
    text_limits(out, angles);
}

static void put_effects(struct ht_text *out, const struct ht_workup *workup,
                        size_t line)
{
    struct ht_text lines = { 0 };
    say_effects(&lines, workup, line);
    put_list(out, REPORT_DOES, ht_text_get(&lines));
    ht_text_end(out, &lines);
}

static void put_named_set(struct ht_text *out, const struct ht_workup *workup,
                          const struct ht_line_angles *line)
{
    struct ht_text text = { 0 }, name = { 0 };
    (void)set_name(&name, workup, line);
    capital(&name, 0);
    ht_text_addf(&text, line->decides ? REPORT_SET_DECIDES : REPORT_SET_ALONE,
                 ht_text_get(&name));
    ht_text_add(out, "\n");
    put_paragraph(out, "", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &name);
    put_set(out, &line->angles, several_drivelines(workup));
    if (line->decides)
        put_effects(out, workup, (size_t)(line - workup->lines));
}

static void add_cell(void *table, const char *text)
{
    table_cell(table, text);
}

static void put_travel(struct ht_text *out, const struct ht_workup *workup,
                       const struct ht_line_angles *deciding)
{
    static const char *const aligns[] = { "", "", "cr", "crr", "crrr", "crrrr",
                                          "crrrrr" };
    struct travel travel;
    struct ht_text text = { 0 };
    if (!travel_from(&travel, workup, deciding))
        return;
    travel_caption(&text, workup, &travel);
    ht_text_add(out, "\n");
    put_paragraph(out, "", ht_text_get(&text));
    ht_text_end(out, &text);
    for (size_t j = 0; j < travel.joints; j += TRAVEL_JOINTS_ACROSS) {
        struct table table = { .align = aligns[travel_columns(&travel, j)] };
        travel_cells(&travel, j, add_cell, &table);
        ht_text_add(out, "\n");
        table_write(out, &table);
    }
}

void text_angles(struct ht_text *out, const struct ht_workup *workup)
{
    if (!several_sets(workup)) {
        put_set(out, &workup->angles, false);
        put_effects(out, workup, 0);
    } else
        for (size_t i = 0; i < workup->line_count; i++)
            put_named_set(out, workup, set_in_order(workup, i));
    for (size_t i = 0; several_sets(workup) && i < workup->line_count; i++)
        if (set_in_order(workup, i)->decides)
            put_travel(out, workup, set_in_order(workup, i));
    put_sources(out, workup);
}
