/* The figures that need little of a workup; those of curves: drawn_curves.c. */
#include "drawn.h"

#include "choice.h"
#include "figure.h"
#include "judged.h"
#include "shown.h"
#include "summary.h"
#include "texts_figures.h"
#include "words.h"

#include <math.h>

/* ---- angles ------------------------------------------------------------- */

enum ht_status drawn_side_view(struct ht_text *svg, struct ht_text *caption,
                               const struct subject *subject, double width,
                               struct ht_error *err)
{
    struct side_view view;
    (void)err;
    if (!side_view_from(&view, subject->workup, &subject->set))
        return HT_OK;
    ht_text_addf(caption, FIGURE_SIDE_CAPTION, side_view_times(&view));
    draw_side_view(svg, &view, width);
    return HT_OK;
}

enum ht_status drawn_plan_view(struct ht_text *svg, struct ht_text *caption,
                               const struct subject *subject, double width,
                               struct ht_error *err)
{
    struct side_view view;
    (void)err;
    if (!plan_view_from(&view, subject->workup, &subject->set))
        return HT_OK;
    ht_text_addf(caption, FIGURE_PLAN_CAPTION, side_view_times(&view));
    draw_side_view(svg, &view, width);
    return HT_OK;
}

enum ht_status drawn_joints(struct ht_text *svg, struct ht_text *caption,
                            const struct subject *subject, double width,
                            struct ht_error *err)
{
    struct strips strips;
    (void)err;
    joint_strips_from(&strips, subject->set.angles);
    ht_text_add(caption, FIGURE_STRIPS_CAPTION);
    if (strips.count)
        draw_joint_strips(svg, &strips, width);
    return HT_OK;
}

enum ht_status drawn_axle_shake(struct ht_text *svg, struct ht_text *caption,
                                const struct subject *subject, double width,
                                struct ht_error *err)
{
    const struct ht_angles *angles = subject->set.angles;
    struct judged judged = judged_shake(angles, "axle");
    struct strip strip = { NULL, angles->accelerations.axle, judged,
                           judged.verdict };
    struct ht_text label = { 0 };
    (void)err;
    if (!isfinite(strip.value.value) || !isfinite(angles->leftover_rad.value))
        return HT_OK;
    if (judged.deciding)
        ht_text_addf(&label, FIGURE_SHAKE_VERDICT,
                     shown_rate_range(&strip.value).text,
                     verdict_word(judged.verdict));
    else
        ht_text_addf(&label, FIGURE_SHAKE,
                     shown_rate_range(&strip.value).text);
    ht_text_add(caption, ht_text_get(&label));
    ht_text_add(caption, FIGURE_SHAKE_CAPTION_END);
    draw_long_strip(svg, &strip, width, ht_text_get(&label));
    ht_text_end(svg, &label);
    return HT_OK;
}

/* ---- shims -------------------------------------------------------------- */

enum ht_status drawn_shims(struct ht_text *svg, struct ht_text *caption,
                           const struct subject *subject, double width,
                           struct ht_error *err)
{
    (void)err;
    if (subject->shims->plans == 0 || subject->shims->limit_count == 0)
        return HT_OK;
    ht_text_add(caption, FIGURE_CHOICE_CAPTION);
    draw_choices(svg, subject->shims, width);
    return HT_OK;
}

/* ---- orders ------------------------------------------------------------- */

enum ht_status drawn_map(struct ht_text *svg, struct ht_text *caption,
                         const struct subject *subject, double width,
                         struct ht_error *err)
{
    const struct ht_workup *workup = subject->workup;
    const struct ht_order_map *map = &workup->orders.map;
    if (!workup->has_orders || map->across == 0 || map->up == 0)
        return HT_OK;
    ht_text_add(caption, FIGURE_MAP_CAPTION);
    return draw_order_map(svg, workup, width, err);
}

enum ht_status drawn_level(struct ht_text *svg, struct ht_text *caption,
                           const struct subject *subject, double width,
                           struct ht_error *err)
{
    const struct ht_workup *workup = subject->workup;
    const struct ht_order_result *chosen =
        workup->has_orders ? strongest_order(&workup->orders) : NULL;
    (void)err;
    if (!chosen || chosen->bins == 0)
        return HT_OK;
    const struct told told = told_all(workup);
    say_speed(caption, &told);
    next_sentence(caption);
    ht_text_add(caption, FIGURE_CURVE_CAPTION);
    if (curve_has_bands(&workup->orders)) {
        next_sentence(caption);
        ht_text_add(caption, FIGURE_CURVE_SHADED);
    }
    draw_level_curve(svg, workup, chosen, width);
    return HT_OK;
}
