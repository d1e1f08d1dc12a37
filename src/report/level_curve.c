/* Level against road speed: the chosen order with its 95 % band, the other
 * strong ones dashed, the smallest level that would have been seen dotted. */
#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { OTHERS_MAX = 4, CURVE_TOP = 26, RIGHT = 92 };

/* Workshop orders of magnitude at the seat rail: common practice, no
 * source. */
static const struct {
    double from, to;
    const char *name;
} bands[] = {
    { 0.05, 0.10, FIGURE_NOTICED },
    { 0.15, 0.30, FIGURE_COMPLAINED_OF },
};

bool curve_has_bands(const struct ht_orders *orders)
{
    return orders->calibrated && orders->place == HT_PLACE_SEAT_RAIL &&
           strcmp(orders->unit, "m/s2") == 0;
}

static bool is_drawn(const struct ht_order_bin *bin)
{
    return bin->state != HT_COULD_NOT_BE_SEEN && isfinite(bin->level.value);
}

void curve_scales(const struct ht_workup *workup,
                  const struct ht_order_result *chosen, double width,
                  struct scale *speed, struct scale *level)
{
    const struct ht_order_map *map = &workup->orders.map;
    double most = 0, from = map->from_m_s, to = map->to_m_s;
    for (size_t i = 0; i < chosen->bins; i++)
        if (is_drawn(&chosen->bin[i]))
            most = fmax(most, chosen->bin[i].level.high);
    if (!(to > from) && chosen->bins) {
        from = chosen->bin[0].from_m_s;
        to = chosen->bin[chosen->bins - 1].to_m_s;
    }
    double step = tick_step(fmax(most, 1e-9) * 1.05, 5);
    double bottom = CURVE_TOP + (width > FIGURE_NARROW ? 330 : 230);
    *speed = (struct scale){ from, to, 40, width - RIGHT };
    *level = (struct scale){ 0, tick_first(fmax(most, 1e-9) * 1.05, step),
                             bottom, CURVE_TOP };
}

static double bin_px(const struct scale *speed, const struct ht_order_bin *bin)
{
    return scale_held_px(speed, (bin->from_m_s + bin->to_m_s) / 2);
}

/* ---- ground ------------------------------------------------------------- */

static void draw_bands(struct ht_text *out, const struct scale *speed,
                       const struct scale *level)
{
    for (size_t i = 0; i < sizeof bands / sizeof *bands; i++) {
        double bottom = scale_px(level, bands[i].from);
        double top = scale_held_px(level, bands[i].to);
        if (bands[i].from >= level->to || bottom - top < 4)
            continue;
        markup(out, "<rect class=\"track\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"%n\"/>\n", speed->start, top,
               speed->end - speed->start, bottom - top);
    }
}

static void draw_band_names(struct ht_text *out, const struct scale *speed,
                            const struct scale *level)
{
    for (size_t i = 0; i < sizeof bands / sizeof *bands; i++) {
        double bottom = scale_px(level, bands[i].from);
        double top = scale_held_px(level, bands[i].to);
        if (bands[i].from < level->to && bottom - top >= 16)
            figure_text(out, speed->start + 5, top + 14, "t12 halo dim",
                        bands[i].name);
    }
}

static void draw_axes(struct ht_text *out, const struct ht_orders *orders,
                      const struct scale *speed, const struct scale *level)
{
    double step = tick_step(level->to, 5);
    for (size_t i = 0; (double)i <= level->to / step * (1 + 1e-9); i++) {
        double v = step * (double)i, y = scale_px(level, v);
        figure_line(out, speed->start - 5, y, speed->start, y, "axis");
        figure_text(out, speed->start - 8, y + 4, "t12 e dim",
                    shown_number(v, tick_decimals(step)).text);
    }
    double from = speed->from * HT_KM_H_PER_M_S;
    double to = speed->to * HT_KM_H_PER_M_S;
    step = tick_step(to - from, 6);
    double first = tick_first(from, step);
    for (size_t i = 0; first + step * (double)i <= to + 1e-9; i++) {
        double v = first + step * (double)i;
        double x = scale_px(speed, v * HT_M_S_PER_KM_H);
        figure_line(out, x, level->start, x, level->start + 5, "axis");
        figure_text(out, x, level->start + 18, "t12 m dim",
                    shown_number(v, 0).text);
    }
    figure_line(out, speed->start, level->start, speed->end, level->start,
                "axis");
    struct ht_text title = { 0 };
    ht_text_addf(&title, FIGURE_LEVEL_AXIS, unit_text(orders->unit),
                 place_word(orders->place));
    figure_text(out, 0, 12, "t12 dim", ht_text_get(&title));
    ht_text_end(out, &title);
    figure_text(out, speed->end + RIGHT - 8, level->start + 34, "t12 e dim",
                FIGURE_ROAD_SPEED);
}

static void draw_felt(struct ht_text *out, const struct ht_workup *workup,
                      const struct scale *speed, const struct scale *level)
{
    double from, to;
    if (!felt_range(workup, &from, &to))
        return;
    double left = scale_held_px(speed, from), right = scale_held_px(speed, to);
    markup(out, "<rect class=\"felt\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"6\"/>", left, level->start - 3, fmax(right - left, 4));
    double half = text_width_px(FIGURE_FELT_HERE, 12) / 2;
    double x = fmin((left + right) / 2, speed->end - 30);
    figure_text(out, fmax(x, half), level->start + 34, "t12 m",
                FIGURE_FELT_HERE);
}

/* ---- lines -------------------------------------------------------------- */

enum which { VALUE, LEAST_SEEN };

static bool has_point(const struct ht_order_result *r, size_t i,
                      enum which which)
{
    return i < r->bins && is_drawn(&r->bin[i]) &&
           isfinite(which == VALUE ? r->bin[i].level.value
                                   : r->bin[i].least_seen);
}

static bool stands_alone(const struct ht_order_result *r, size_t i,
                         enum which which)
{
    return !has_point(r, i + 1, which) &&
           (i == 0 || !has_point(r, i - 1, which));
}

/* Speeds not driven are left empty, not bridged. */
static void draw_line(struct ht_text *out, const struct ht_order_result *r,
                      const struct scale *speed, const struct scale *level,
                      enum which which, const char *classes)
{
    bool pen_down = false;
    markup(out, "<path class=\"line %s\" d=\"", classes);
    for (size_t i = 0; i < r->bins; i++) {
        const struct ht_order_bin *bin = &r->bin[i];
        double v = which == VALUE ? bin->level.value : bin->least_seen;
        if (!is_drawn(bin) || !isfinite(v)) {
            pen_down = false;
            continue;
        }
        double y = scale_held_px(level, v);
        if (stands_alone(r, i, which)) /* as wide as its speeds */
            markup(out, "M%n %nH%n", scale_held_px(speed, bin->from_m_s), y,
                   scale_held_px(speed, bin->to_m_s));
        else
            markup(out, "%s%n %n", pen_down ? "L" : "M", bin_px(speed, bin),
                   y);
        pen_down = true;
    }
    ht_text_add(out, "\"/>\n");
}

static void draw_band_run(struct ht_text *out, const struct ht_order_result *r,
                          size_t from, size_t to, const struct scale *speed,
                          const struct scale *level, const char *family)
{
    markup(out, "<path class=\"band %s\" d=\"", family);
    for (size_t i = from; i < to; i++)
        markup(out, "%s%n %n", i == from ? "M" : "L", bin_px(speed, &r->bin[i]),
               scale_held_px(level, r->bin[i].level.high));
    for (size_t i = to; i-- > from;)
        markup(out, "L%n %n", bin_px(speed, &r->bin[i]),
               scale_held_px(level, r->bin[i].level.low));
    ht_text_add(out, "Z\"/>\n");
}

static void draw_band(struct ht_text *out, const struct ht_order_result *r,
                      const struct scale *speed, const struct scale *level,
                      const char *family)
{
    size_t from = 0;
    for (size_t i = 0; i <= r->bins; i++) {
        if (i < r->bins && is_drawn(&r->bin[i]))
            continue;
        if (i > from)
            draw_band_run(out, r, from, i, speed, level, family);
        from = i + 1;
    }
}

/* ---- names at the right end --------------------------------------------- */

struct end {
    double x, y;                /* its last point */
    const char *family;
    char name[48];
};

static void add_end(struct end *ends, size_t *count,
                    const struct ht_order_result *r,
                    const struct scale *speed, const struct scale *level,
                    enum which which,
                    const char *family, const char *name)
{
    size_t last = r->bins;
    while (last > 0 && !has_point(r, last - 1, which))
        last--;
    if (last == 0)
        return;
    const struct ht_order_bin *bin = &r->bin[last - 1];
    double x = bin_px(speed, bin);
    if (stands_alone(r, last - 1, which))
        x = scale_held_px(speed, bin->to_m_s);
    double y = scale_held_px(level, which == VALUE ? bin->level.value
                                                   : bin->least_seen);
    size_t at = (*count)++;
    for (; at > 0 && ends[at - 1].y > y; at--)
        ends[at] = ends[at - 1];
    ends[at] = (struct end){ x, y, family, "" };
    (void)snprintf(ends[at].name, sizeof ends[at].name, "%s", name);
}

static void draw_ends(struct ht_text *out, const struct end *ends,
                      size_t count, const struct scale *speed,
                      const struct scale *level)
{
    double y[OTHERS_MAX + 1];
    for (size_t i = 0; i < count; i++)
        y[i] = ends[i].y;
    spread_labels(y, count, 16, level->end + 6, level->start - 6);
    for (size_t i = 0; i < count; i++) {
        char classes[40];
        (void)snprintf(classes, sizeof classes, "t13 %s", ends[i].family);
        figure_line(out, ends[i].x + 1, ends[i].y, speed->end + 10, y[i],
                    "leader");
        figure_text(out, speed->end + 13, y[i] + 4.5, classes, ends[i].name);
    }
}

static void draw_others(struct ht_text *out, const struct ht_workup *workup,
                        const struct ht_order_result *chosen,
                        const struct scale *speed, const struct scale *level)
{
    const struct ht_order_result *sorted[HT_ORDERS_MAX];
    size_t count = orders_by_strength(&workup->orders, sorted, HT_ORDERS_MAX);
    struct end ends[OTHERS_MAX + 1];
    size_t drawn = 0;
    draw_line(out, chosen, speed, level, LEAST_SEEN, "floor");
    add_end(ends, &drawn, chosen, speed, level, LEAST_SEEN, "dim",
            FIGURE_LEAST_SEEN);
    for (size_t i = 0; i < count && drawn < OTHERS_MAX; i++) {
        const struct ht_order_result *r = sorted[i];
        const char *family = family_class(order_family(workup, r));
        struct ht_text name = { 0 };
        if (r == chosen || r->state != HT_SEEN)
            continue;
        draw_line(out, r, speed, level, VALUE, family);
        add_end(ends, &drawn, r, speed, level, VALUE, family,
                order_name(&name, r->order.name));
        ht_text_end(out, &name);
    }
    draw_ends(out, ends, drawn, speed, level);
}

/* Name, value, range and speed beside the peak, where there is more room. */
static void draw_peak(struct ht_text *out, const struct ht_order_result *chosen,
                      const struct scale *speed, const struct scale *level,
                      const char *family)
{
    double x = scale_held_px(speed, chosen->at_m_s);
    double y = scale_held_px(level, chosen->level.value);
    bool right = speed->end + RIGHT - x > 150;
    const char *end = right ? "" : " e";
    struct ht_text text = { 0 };
    char classes[48];
    x += right ? 22 : 0;
    if (!right)
        y = scale_held_px(level, chosen->level.high) - 46;
    y = fmin(fmax(y, level->end + 12), level->start - 52);
    (void)snprintf(classes, sizeof classes, "t15 bold halo %s%s", family, end);
    figure_text(out, x, y, classes, order_name(&text, chosen->order.name));
    (void)snprintf(classes, sizeof classes, "t12 halo%s", end);
    figure_text(out, x, y + 16, classes, shown_level(&chosen->level).text);
    text.length = 0;
    ht_text_addf(&text, FIGURE_AT, shown_speed(chosen->at_m_s).text);
    figure_text(out, x, y + 31, classes, ht_text_get(&text));
    ht_text_end(out, &text);
}

static void say_curve(struct ht_text *out, const struct ht_workup *workup,
                      const struct ht_order_result *chosen)
{
    struct ht_text name = { 0 };
    ht_text_addf(out, FIGURE_CURVE_LABEL,
                 order_name(&name, chosen->order.name),
                 shown_level(&chosen->level).text,
                 unit_text(workup->orders.unit),
                 shown_speed(chosen->at_m_s).text);
    ht_text_end(out, &name);
}

void draw_level_curve(struct ht_text *out, const struct ht_workup *workup,
                      const struct ht_order_result *chosen, double width)
{
    const char *family = family_class(order_family(workup, chosen));
    struct scale speed, level;
    struct ht_text label = { 0 };
    char classes[32];
    curve_scales(workup, chosen, width, &speed, &level);
    say_curve(&label, workup, chosen);
    figure_open(out, width, level.start + 40,
                width > FIGURE_NARROW ? "wide" : "narrow", ht_text_get(&label));
    ht_text_end(out, &label);
    if (curve_has_bands(&workup->orders))
        draw_bands(out, &speed, &level);
    draw_band(out, chosen, &speed, &level, family);
    draw_others(out, workup, chosen, &speed, &level);
    (void)snprintf(classes, sizeof classes, "chosen %s", family);
    draw_line(out, chosen, &speed, &level, VALUE, classes);
    if (curve_has_bands(&workup->orders))
        draw_band_names(out, &speed, &level);
    draw_axes(out, &workup->orders, &speed, &level);
    draw_felt(out, workup, &speed, &level);
    draw_peak(out, chosen, &speed, &level, family);
    figure_close(out);
}
