/* One turn of the shaft, and the shakes over road speed. */
#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { TOP = 26, LEFT = 46, SAMPLE = 26, TURN_RIGHT = 124 };

/* Names stand at the right end of their lines. */
static double right_room(double width)
{
    return width > FIGURE_NARROW ? 128 : 92;
}

static void draw_upright(struct ht_text *out, const struct scale *x,
                         const struct scale *y, double step)
{
    double first = tick_first(y->from, step);
    for (size_t i = 0; first + step * (double)i <= y->to + 1e-9 * step; i++) {
        double v = first + step * (double)i, at = scale_px(y, v);
        figure_line(out, x->start - 5, at, x->start, at, "axis");
        figure_text(out, x->start - 8, at + 4, "t12 e dim",
                    shown_number(v, tick_decimals(step)).text);
    }
}

static void draw_level(struct ht_text *out, const struct scale *x,
                       const struct scale *y, double factor, double step)
{
    double from = x->from * factor, to = x->to * factor;
    double first = tick_first(from, step);
    for (size_t i = 0; first + step * (double)i <= to + 1e-9; i++) {
        double v = first + step * (double)i, at = scale_px(x, v / factor);
        figure_line(out, at, y->start, at, y->start + 5, "axis");
        figure_text(out, at, y->start + 18, "t12 m dim",
                    shown_number(v, 0).text);
    }
    figure_line(out, x->start, y->start, x->end, y->start, "axis");
}

static void draw_path(struct ht_text *out, const struct figure_line_of *line,
                      const double *at, const struct scale *x,
                      const struct scale *y)
{
    bool pen_down = false;
    markup(out, "<path class=\"line %s\" d=\"", line->classes);
    for (size_t i = 0; i < line->points; i++) {
        if (!isfinite(line->value[i])) {
            pen_down = false;
            continue;
        }
        markup(out, "%s%n %n", pen_down ? "L" : "M", scale_px(x, at[i]),
               scale_held_px(y, line->value[i]));
        pen_down = true;
    }
    ht_text_add(out, "\"/>\n");
}

static void draw_names(struct ht_text *out, const struct figure_line_of *line,
                       size_t lines, const struct scale *x,
                       const struct scale *y)
{
    size_t order[CURVE_LINES_MAX], count = 0;
    double middle[CURVE_LINES_MAX];
    for (size_t i = 0; i < lines; i++) { /* sorted from the top */
        double last = line[i].value[line[i].points - 1];
        double at = isfinite(last) ? scale_held_px(y, last) : NAN;
        size_t k = count;
        if (isnan(at))
            continue;
        for (; k > 0 && middle[k - 1] > at; k--) {
            middle[k] = middle[k - 1];
            order[k] = order[k - 1];
        }
        middle[k] = at;
        order[k] = i;
        count++;
    }
    spread_labels(middle, count, 16, y->end + 6, y->start - 6);
    for (size_t k = 0; k < count; k++) {
        const struct figure_line_of *of = &line[order[k]];
        double last = scale_held_px(y, of->value[of->points - 1]);
        figure_line(out, x->end + 2, last, x->end + 10, middle[k], "leader");
        figure_text(out, x->end + 13, middle[k] + 4.3, of->name_classes,
                    of->name);
    }
}

/* All lines of a turn end at one point: each name has a piece of its line. */
static void draw_samples(struct ht_text *out, const struct figure_line_of *line,
                         size_t lines, double x, double y, double width)
{
    for (size_t i = 0; i < lines; i++) {
        char name[64], classes[64];
        double at = y + 18 * (double)i;
        (void)snprintf(classes, sizeof classes, "line %s", line[i].classes);
        figure_line(out, x, at, x + SAMPLE, at, classes);
        figure_fit(name, sizeof name, line[i].name, 12,
                   width - x - SAMPLE - 6);
        figure_text(out, x + SAMPLE + 6, at + 4.3, line[i].name_classes, name);
    }
}

/* ---- one turn ----------------------------------------------------------- */

void turn_scales(const struct turn_figure *figure, double width,
                 struct scale *turn, struct scale *error)
{
    double most = 1e-9;
    for (size_t i = 0; i < figure->lines; i++)
        for (size_t k = 0; k < figure->line[i].points; k++)
            if (isfinite(figure->line[i].value[k]))
                most = fmax(most, fabs(figure->line[i].value[k]));
    double step = tick_step(most * 1.1, 3), top = tick_first(most * 1.02, step);
    double bottom = TOP + (width > FIGURE_NARROW ? 220 : 170);
    *turn = (struct scale){ 0, 360, LEFT, width - TURN_RIGHT };
    *error = (struct scale){ -top, top, bottom, TOP };
}

static void draw_turn_axes(struct ht_text *out, const struct scale *turn,
                           const struct scale *error)
{
    figure_text(out, 0, 12, "t12 dim", FIGURE_TURN_AXIS);
    draw_upright(out, turn, error, tick_step(error->to * 1.1, 3));
    for (int quarter = 0; quarter <= 4; quarter++) {
        double x = scale_px(turn, 90 * quarter);
        figure_line(out, x, error->start, x, error->start + 5, "axis");
        figure_text(out, x, error->start + 18, "t12 m dim",
                    shown_number(90 * quarter, 0).text);
    }
    figure_line(out, turn->start, error->start, turn->end, error->start,
                "axis");
    double zero = scale_px(error, 0);
    figure_line(out, turn->start, zero, turn->end, zero, "dotted");
    figure_text(out, turn->end, error->start + 34, "t12 e dim",
                FIGURE_TURN_ROTATION);
}

void draw_turn_curve(struct ht_text *out, const struct turn_figure *figure,
                     double width)
{
    struct scale turn, error;
    turn_scales(figure, width, &turn, &error);
    figure_open(out, width, error.start + 42,
                width > FIGURE_NARROW ? "wide" : "narrow", figure->label);
    draw_turn_axes(out, &turn, &error);
    for (size_t i = figure->lines; i-- > 0;)
        draw_path(out, &figure->line[i], figure->at_deg, &turn, &error);
    draw_samples(out, figure->line, figure->lines, turn.end + 12,
                 error.end + 10, width);
    figure_close(out);
}

/* ---- shake over speed --------------------------------------------------- */

void shake_scales(const struct shake_figure *figure, double width,
                  struct scale *speed, struct scale *shake)
{
    double most = 1e-9;
    for (size_t i = 0; i < figure->lines; i++)
        for (size_t k = 0; k < figure->line[i].points; k++)
            if (isfinite(figure->line[i].value[k]))
                most = fmax(most, figure->line[i].value[k]);
    for (size_t k = 0; k < figure->points; k++)
        most = fmax(most, figure->high ? figure->high[k] : 0);
    double data = most;
    for (size_t i = 0; i < figure->limits; i++)
        if (figure->limit[i].value < 3 * data)
            most = fmax(most, 1.08 * figure->limit[i].value);
    double step = tick_step(most, 5);
    double bottom = TOP + (width > FIGURE_NARROW ? 260 : 200);
    *speed = (struct scale){ figure->speed_m_s[0],
                             figure->speed_m_s[figure->points - 1], LEFT,
                             width - right_room(width) };
    *shake = (struct scale){ 0, tick_first(most * 1.02, step), bottom, TOP };
}

static void draw_band(struct ht_text *out, const struct shake_figure *figure,
                      const struct scale *speed, const struct scale *shake)
{
    if (!figure->low || !figure->high)
        return;
    ht_text_add(out, "<path class=\"band\" d=\"");
    for (size_t k = 0; k < figure->points; k++)
        markup(out, "%s%n %n", k ? "L" : "M",
               scale_px(speed, figure->speed_m_s[k]),
               scale_held_px(shake, figure->high[k]));
    for (size_t k = figure->points; k-- > 0;)
        markup(out, "L%n %n", scale_px(speed, figure->speed_m_s[k]),
               scale_held_px(shake, figure->low[k]));
    ht_text_add(out, "Z\"/>\n");
}

static void draw_limits(struct ht_text *out, const struct shake_figure *figure,
                        const struct scale *speed, const struct scale *shake)
{
    for (size_t i = 0; i < figure->limits; i++) {
        double at = scale_px(shake, figure->limit[i].value);
        if (figure->limit[i].value > shake->to)
            continue;
        figure_line(out, speed->start - 3, at, speed->end + 3, at, "limit");
        figure_text(out, speed->start + 6, at - 5, "t12 halo",
                    figure->limit[i].name);
    }
}

static void draw_felt(struct ht_text *out, const struct shake_figure *figure,
                      const struct scale *speed, const struct scale *shake)
{
    if (isnan(figure->felt_from_m_s))
        return;
    double left = scale_held_px(speed, figure->felt_from_m_s);
    double right = scale_held_px(speed, figure->felt_to_m_s);
    double half = text_width_px(FIGURE_FELT_HERE, 12) / 2;
    markup(out, "<rect class=\"felt\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"6\"/>", left, shake->start - 3, fmax(right - left, 4));
    double x = fmin((left + right) / 2, speed->end - half);
    figure_text(out, fmax(x, speed->start + half), shake->start + 34, "t12 m",
                FIGURE_FELT_HERE);
}

void draw_shake_curve(struct ht_text *out, const struct shake_figure *figure,
                      double width)
{
    struct scale speed, shake;
    shake_scales(figure, width, &speed, &shake);
    figure_open(out, width, shake.start + 42,
                width > FIGURE_NARROW ? "wide" : "narrow", figure->label);
    draw_band(out, figure, &speed, &shake);
    figure_text(out, 0, 12, "t12 dim", FIGURE_SHAKE_AXIS);
    draw_upright(out, &speed, &shake, tick_step(shake.to, 5));
    draw_level(out, &speed, &shake, HT_KM_H_PER_M_S,
               tick_step((speed.to - speed.from) * HT_KM_H_PER_M_S, 6));
    figure_text(out, width, shake.start + 34, "t12 e dim", FIGURE_ROAD_SPEED);
    for (size_t i = figure->lines; i-- > 0;)
        draw_path(out, &figure->line[i], figure->speed_m_s, &speed, &shake);
    draw_limits(out, figure, &speed, &shake);
    draw_felt(out, figure, &speed, &shake);
    draw_names(out, figure->line, figure->lines, &speed, &shake);
    figure_close(out);
}
