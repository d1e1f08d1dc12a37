/* Joint angles: side view, a strip for each joint, what is left over. */
#include "page.h"

#include "effects_said.h"
#include "figure.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "travel.h"
#include "words.h"

#include <math.h>

static void put_side_view(struct ht_text *out, const struct ht_workup *workup,
                          const struct shown_set *set)
{
    struct side_view view;
    if (!side_view_from(&view, workup, set))
        return;
    struct ht_text caption = { 0 };
    ht_text_addf(&caption, FIGURE_SIDE_CAPTION, side_view_times(&view));
    page_note(out, ht_text_get(&caption));
    ht_text_end(out, &caption);
    ht_text_add(out, "<div class=\"plate\">\n");
    draw_side_view(out, &view, FIGURE_NARROW);
    draw_side_view(out, &view, FIGURE_WIDE);
    ht_text_add(out, "</div>\n");
}

static void put_strips(struct ht_text *out, const struct ht_angles *angles)
{
    struct strips strips;
    joint_strips_from(&strips, angles);
    ht_text_add(out, "<div class=\"plate\">\n");
    draw_joint_strips(out, &strips, FIGURE_NARROW);
    draw_joint_strips(out, &strips, FIGURE_WIDE);
    ht_text_add(out, "</div>\n");
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
    ht_text_addf(&text, FIGURE_SHAKE_CHANCE, verdict_in_100(v),
                 shown_number(v->limit, 0).text, cleaned(&source, v->source));
    markup(out, "%t</p>\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &source);
}

static void put_shake(struct ht_text *out, const struct ht_angles *angles)
{
    struct judged judged = judged_shake(angles, "axle");
    struct strip strip = { NULL, angles->accelerations.axle, judged,
                           judged.verdict };
    struct ht_text label = { 0 };
    if (judged.deciding)
        ht_text_addf(&label, FIGURE_SHAKE_VERDICT,
                     shown_rate_range(&strip.value).text,
                     verdict_word(judged.verdict));
    else
        ht_text_addf(&label, FIGURE_SHAKE,
                     shown_rate_range(&strip.value).text);
    ht_text_add(out, "<div class=\"plate\">\n");
    draw_long_strip(out, &strip, FIGURE_NARROW, ht_text_get(&label));
    draw_long_strip(out, &strip, FIGURE_WIDE, ht_text_get(&label));
    ht_text_add(out, "</div>\n");
    ht_text_end(out, &label);
    if (judged.deciding)
        put_shake_verdict(out, &judged);
}

static void put_leftover(struct ht_text *out, const struct ht_angles *angles)
{
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
    if (shake)
        put_shake(out, angles);
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
    else
        ht_text_addf(&text, FIGURE_LIMITS_FROM,
                     cleaned(&source, judged.deciding->source));
    page_note(out, ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &source);
}

/* Of the first set, or of every one to go by. */
static void put_effects(struct ht_text *out, const struct ht_workup *workup)
{
    struct ht_text lines = { 0 };
    for (size_t i = 0; i < workup->line_count; i++)
        if (workup->line_count == 1 || workup->lines[i].decides)
            say_effects(&lines, workup, i);
    if (lines.length) {
        markup(out, "<section><h2>%t</h2>\n", REPORT_DOES);
        page_list(out, ht_text_get(&lines), "list");
        ht_text_add(out, "</section>\n");
    }
    ht_text_end(out, &lines);
}

/* ---- one set, or several ------------------------------------------------ */

static void put_set(struct ht_text *out, const struct ht_workup *workup,
                    const struct shown_set *set)
{
    put_side_view(out, workup, set);
    page_plan_view(out, workup, set);
    put_strips(out, set->angles);
    put_source(out, set->angles);
    put_leftover(out, set->angles);
    page_turn(out, workup, set);
    page_shakes(out, workup, set);
}

/* Sets that nothing is decided by: their joints and what is left over. */
static void put_short_set(struct ht_text *out, const struct ht_angles *angles)
{
    struct ht_text text = { 0 };
    put_strips(out, angles);
    if (isfinite(angles->leftover_rad.value)) {
        ht_text_addf(&text, FIGURE_LEFT_OVER,
                     shown_angle_range(&angles->leftover_rad).text);
        markup(out, "<p class=\"small block-text\">%t</p>\n",
               ht_text_get(&text));
    }
    ht_text_end(out, &text);
}

static void put_named_set(struct ht_text *out, const struct ht_workup *workup,
                          const struct ht_line_angles *line)
{
    struct ht_text text = { 0 }, name = { 0 };
    struct shown_set set = shown_set_of(workup, line);
    (void)set_name(&name, workup, line);
    capital(&name, 0);
    ht_text_addf(&text, line->decides ? REPORT_SET_DECIDES : REPORT_SET_ALONE,
                 ht_text_get(&name));
    markup(out, "<h3>%t</h3>\n", ht_text_get(&text));
    ht_text_end(out, &text);
    ht_text_end(out, &name);
    if (line->decides)
        put_set(out, workup, &set);
    else
        put_short_set(out, set.angles);
}

/* ---- over the travel ---------------------------------------------------- */

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

static void put_sets(struct ht_text *out, const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->line_count; i++)
        put_named_set(out, workup, set_in_order(workup, i));
    for (size_t i = 0; i < workup->line_count; i++)
        if (set_in_order(workup, i)->decides)
            put_travel(out, workup, set_in_order(workup, i));
}

void page_angles(struct ht_text *out, const struct ht_workup *workup)
{
    struct shown_set only = only_set(workup);
    if (!workup->has_angles || workup->angles.joints == 0)
        return;
    markup(out, "<section><h2>%t</h2>\n", REPORT_ANGLES);
    if (several_sets(workup))
        put_sets(out, workup);
    else
        put_set(out, workup, &only);
    ht_text_add(out, "</section>\n");
    put_effects(out, workup);
}
