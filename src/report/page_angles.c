/* Joint angles: side view, a strip for each joint, what is left over. */
#include "page.h"

#include "effects_said.h"
#include "figure.h"
#include "joint_cells.h"
#include "markup.h"
#include "shown.h"
#include "text_parts.h"
#include "texts.h"
#include "texts_figures.h"
#include "travel.h"
#include "words.h"

#include <math.h>

/* A figure of the angles cannot fail but for want of memory, which the text
 * remembers. */
static void put_figure(struct ht_text *out, draw_function draw,
                       const struct subject *subject)
{
    (void)page_figure(out, draw, subject, NULL);
}

/* The disc of HTML text: the same sign as in the figures. */
static void put_verdict(struct ht_text *out, enum ht_verdict verdict)
{
    const char *disc = verdict_disc(verdict);
    markup(out, "<svg class=\"disc\" viewBox=\"0 0 12 12\" aria-hidden="
           "\"true\"><circle class=\"disc-ring %s\" cx=\"6\" cy=\"6\" "
           "r=\"5\"/>%s</svg><b>%s</b>",
           disc, *disc == 'h' ? "<path class=\"disc-half\" d=\"M6 1a5 5 0 0 0 "
                                "0 10z\"/>" : "",
           verdict_word(verdict));
}

static void put_shake_verdict(struct ht_text *out, const struct judged *judged)
{
    const struct ht_limit_verdict *v = judged->deciding;
    struct ht_text text = { 0 }, source = { 0 };
    ht_text_add(out, "<p class=\"small block-text\">");
    put_verdict(out, judged->verdict);
    const char *limit = cleaned(&source, v->source);
    if (verdict_has_chance(v))
        ht_text_addf(&text, FIGURE_SHAKE_CHANCE, verdict_in_100(v),
                     shown_number(v->limit, 0).text, limit);
    else
        ht_text_addf(&text,
                     verdict_from_side(v) ? FIGURE_SHAKE_SIDE
                                          : FIGURE_SHAKE_ZERO,
                     shown_number(v->limit, 0).text, limit);
    markup(out, "%t</p>\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &source);
}

static void put_leftover(struct ht_text *out, const struct subject *subject)
{
    const struct ht_angles *angles = subject->set.angles;
    if (!isfinite(angles->leftover_rad.value))
        return;
    bool shake = isfinite(angles->accelerations.axle.value);
    struct ht_text text = { 0 };
    ht_text_addf(&text,
                 angles->joints == 1 ? FIGURE_LEFT_OVER_ONE : FIGURE_LEFT_OVER,
                 shown_angle_range(&angles->leftover_rad).text);
    if (angles->leftover_is_zero) {
        next_sentence(&text);
        ht_text_add(&text, FIGURE_LEFT_OVER_ZERO);
    }
    if (shake && isfinite(angles->accelerations.speed_m_s)) {
        next_sentence(&text);
        ht_text_addf(&text, FIGURE_LEFT_OVER_SHAKES,
                     shown_speed(angles->accelerations.speed_m_s).text,
                     shown_rate_range(&angles->accelerations.axle).text);
    }
    markup(out, "<p class=\"small block-text\">%t</p>\n", ht_text_get(&text));
    ht_text_end(out, &text);
    (void)page_plate(out, drawn_axle_shake, subject, NULL);
    struct judged judged = judged_shake(angles, "axle");
    if (shake && judged.deciding)
        put_shake_verdict(out, &judged);
}

static void put_source(struct ht_text *out, const struct ht_angles *angles)
{
    struct judged judged = { 0 };
    for (size_t j = 1; j <= angles->joints && !judged.deciding; j++)
        judged = judged_joint(angles, j);
    if (!judged.deciding)
        return;
    struct ht_text text = { 0 }, source = { 0 };
    if (judged.sets > 1)
        ht_text_addf(&text, FIGURE_ALL_SETS, judged.sets);
    else if (!say_mixed_limits(&text, angles))
        ht_text_addf(&text, FIGURE_LIMITS_FROM,
                     cleaned(&source, judged.deciding->source));
    page_note(out, ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &source);
}

/* Under the name of its set, where there are several. */
static void put_effects_of(struct ht_text *out, const struct ht_workup *workup,
                           size_t line)
{
    struct ht_text lines = { 0 }, name = { 0 };
    say_effects(&lines, workup, line);
    if (lines.length && several_sets(workup)) {
        (void)set_name(&name, workup, &workup->lines[line]);
        capital(&name, 0);
        markup(out, "<h3>%t</h3>\n", ht_text_get(&name));
    }
    if (lines.length)
        page_list(out, ht_text_get(&lines), "list");
    ht_text_end(out, &lines);
    ht_text_end(out, &name);
}

/* Of the first set, or of every one to go by. */
static void put_effects(struct ht_text *out, const struct ht_workup *workup)
{
    struct ht_text all = { 0 };
    for (size_t i = 0; i < workup->line_count; i++)
        if (workup->line_count == 1 || workup->lines[i].decides)
            put_effects_of(&all, workup, i);
    if (all.length) {
        markup(out, "<section><h2>%t</h2>\n", REPORT_DOES);
        ht_text_add(out, ht_text_get(&all));
        ht_text_add(out, "</section>\n");
    }
    ht_text_end(out, &all);
}

/* ---- tables -------------------------------------------------------------- */

struct cells {
    struct ht_text *out;
    size_t columns, at;
};

static void add_cell(void *context, const char *text)
{
    struct cells *cells = context;
    size_t column = cells->at % cells->columns;
    bool head = cells->at < cells->columns || column == 0;
    if (column == 0)
        ht_text_add(cells->out, "<tr>");
    markup(cells->out, head ? "<th>%t</th>" : "<td>%t</td>", text);
    if (++cells->at % cells->columns == 0)
        ht_text_add(cells->out, "</tr>\n");
}

/* The joints, and everything else that was held against a limit. */
static void put_joints(struct ht_text *out, const struct ht_angles *angles)
{
    struct ht_text lines = { 0 };
    struct cells cells = { out, JOINT_COLUMNS, 0 };
    ht_text_add(out, "<table class=\"joints\">\n");
    joint_cells(out, angles, add_cell, &cells);
    ht_text_add(out, "</table>\n");
    say_limits(&lines, angles);
    if (lines.length)
        page_list(out, ht_text_get(&lines), "list");
    ht_text_end(out, &lines);
}

/* ---- one set, or several ------------------------------------------------ */

static void put_set(struct ht_text *out, const struct subject *subject,
                    bool tables)
{
    put_figure(out, drawn_side_view, subject);
    put_figure(out, drawn_plan_view, subject);
    put_figure(out, drawn_joints, subject);
    if (tables)
        put_joints(out, subject->set.angles);
    put_source(out, subject->set.angles);
    put_leftover(out, subject);
    put_figure(out, drawn_turn, subject);
    put_figure(out, drawn_shakes, subject);
}

/* Sets that nothing is decided by: their joints and what is left over. */
static void put_short_set(struct ht_text *out, const struct subject *subject,
                          bool tables)
{
    const struct ht_angles *angles = subject->set.angles;
    struct ht_text text = { 0 };
    (void)page_plate(out, drawn_joints, subject, NULL);
    if (tables)
        put_joints(out, angles);
    if (isfinite(angles->leftover_rad.value)) {
        ht_text_addf(&text, FIGURE_LEFT_OVER,
                     shown_angle_range(&angles->leftover_rad).text);
        markup(out, "<p class=\"small block-text\">%t</p>\n",
               ht_text_get(&text));
    }
    ht_text_end(out, &text);
}

static void put_named_set(struct ht_text *out, const struct ht_workup *workup,
                          const struct ht_line_angles *line, bool tables)
{
    struct ht_text text = { 0 }, name = { 0 };
    const struct subject subject = { .workup = workup,
                                     .set = shown_set_of(workup, line) };
    (void)set_name(&name, workup, line);
    capital(&name, 0);
    ht_text_addf(&text, line->decides ? REPORT_SET_DECIDES : REPORT_SET_ALONE,
                 ht_text_get(&name));
    markup(out, "<h3>%t</h3>\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &name);
    if (line->decides)
        put_set(out, &subject, tables);
    else
        put_short_set(out, &subject, tables);
}

/* ---- over the travel ---------------------------------------------------- */

static void put_travel(struct ht_text *out, const struct ht_workup *workup,
                       const struct ht_line_angles *deciding)
{
    struct travel travel;
    struct ht_text caption = { 0 };
    if (!travel_from(&travel, workup, deciding))
        return;
    travel_caption(&caption, workup, &travel);
    markup(out, "<h3>%t</h3>\n", FIGURE_TRAVEL);
    page_note(out, ht_text_get(&caption));
    ht_text_end(out, &caption);
    for (size_t j = 0; j < travel.joints; j += TRAVEL_JOINTS_ACROSS) {
        struct cells cells = { out, travel_columns(&travel, j), 0 };
        ht_text_add(out, "<table class=\"travel\">\n");
        travel_cells(&travel, j, add_cell, &cells);
        ht_text_add(out, "</table>\n");
    }
}

static void put_sets(struct ht_text *out, const struct ht_workup *workup,
                     bool tables)
{
    for (size_t i = 0; i < workup->line_count; i++)
        put_named_set(out, workup, set_in_order(workup, i), tables);
    for (size_t i = 0; i < workup->line_count; i++)
        if (set_in_order(workup, i)->decides)
            put_travel(out, workup, set_in_order(workup, i));
}

void page_angles(struct ht_text *out, const struct ht_workup *workup,
                 bool tables)
{
    const struct subject only = { .workup = workup, .set = only_set(workup) };
    if (!workup->has_angles || workup->angles.joints == 0)
        return;
    markup(out, "<section><h2>%t</h2>\n", REPORT_ANGLES);
    if (several_sets(workup))
        put_sets(out, workup, tables);
    else
        put_set(out, &only, tables);
    ht_text_add(out, "</section>\n");
    put_effects(out, workup);
}
