/* Joint angles: side view, a strip for each joint, what is left over. */
#include "page.h"

#include "figure.h"
#include "markup.h"
#include "words.h"

#include <math.h>

static void put_side_view(struct ht_text *out, const struct ht_workup *workup)
{
    struct side_view view;
    if (!side_view_from(&view, workup))
        return;
    ht_text_addf(out, "<p class=\"small\">Side view; dotted: level. Angles "
                 "drawn %d times too large. Block: 95" NBSP "%% range of this "
                 "gauge. Hatched: outside the limit.</p>\n"
                 "<div class=\"plate\">\n", side_view_times(&view));
    draw_side_view(out, &view, FIGURE_NARROW);
    draw_side_view(out, &view, FIGURE_WIDE);
    ht_text_add(out, "</div>\n");
}

static void put_strips(struct ht_text *out, const struct ht_workup *workup)
{
    struct strips strips;
    joint_strips_from(&strips, &workup->angles);
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
    struct ht_text text = { 0 };
    ht_text_add(out, "<p class=\"small block-text\">");
    put_verdict(out, judged->verdict);
    ht_text_addf(&text, ", %d" NBSP "in" NBSP "100 that it is over. Limit ",
                 verdict_in_100(v));
    put_number(&text, v->limit, 0);
    ht_text_add(&text, ": ");
    clean_text(&text, v->source);
    ht_text_add(&text, ". The vehicle maker's figure comes first.");
    markup(out, "%t</p>\n", ht_text_get(&text));
    ht_text_end(out, &text);
}

static void put_shake(struct ht_text *out, const struct ht_angles *angles)
{
    struct judged judged = judged_shake(angles, "axle");
    struct strip strip = { NULL, angles->accelerations.axle, judged,
                           judged.verdict };
    struct ht_text label = { 0 };
    ht_text_add(&label, "Shake passed to the axle: ");
    put_rate_range(&label, &strip.value);
    if (judged.deciding)
        ht_text_addf(&label, ", %s", verdict_word(judged.verdict));
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
    ht_text_addf(&text, BOLD_ON "Left over after %s: ",
                 angles->joints == 1 ? "the joint" : "all joints");
    put_angle_range(&text, &angles->leftover_rad);
    ht_text_add(&text, "." BOLD_OFF);
    if (angles->leftover_is_zero)
        ht_text_add(&text, " Not to be told from zero with this gauge.");
    if (shake) {
        ht_text_add(&text, " At ");
        put_speed(&text, angles->accelerations.speed_m_s);
        ht_text_add(&text, " that shakes the axle with ");
        put_rate_range(&text, &angles->accelerations.axle);
        ht_text_add(&text, ".");
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
    struct ht_text text = { 0 };
    if (judged.sets > 1)
        ht_text_addf(&text, "No limit set is named: all %zu are shown. The "
                     "vehicle maker's figure comes first.", judged.sets);
    else {
        ht_text_add(&text, "Limits: ");
        clean_text(&text, judged.deciding->source);
        ht_text_add(&text, ". The vehicle maker's figure comes first.");
    }
    markup(out, "<p class=\"small\">%t</p>\n", ht_text_get(&text));
    ht_text_end(out, &text);
}

void page_angles(struct ht_text *out, const struct ht_workup *workup)
{
    if (!workup->has_angles || workup->angles.joints == 0)
        return;
    ht_text_add(out, "<section><h2>Joint angles</h2>\n");
    put_side_view(out, workup);
    put_strips(out, workup);
    put_source(out, &workup->angles);
    put_leftover(out, &workup->angles);
    ht_text_add(out, "</section>\n");
}
