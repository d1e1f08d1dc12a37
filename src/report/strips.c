/* Limit strips: a value's 95 % range against what is allowed. */
#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>

enum { STRIP_HEIGHT = 16 };

void joint_strips_from(struct strips *strips, const struct ht_angles *angles)
{
    double top = 4 * HT_RAD_PER_DEG;
    strips->count = angles->joints;
    for (size_t j = 0; j < angles->joints; j++) {
        struct strip *strip = &strips->strip[j];
        (void)snprintf(strips->titles[j], sizeof strips->titles[j],
                       FIGURE_JOINT, j + 1);
        *strip = (struct strip){ strips->titles[j],
                                 angles->joint[j].angle_rad,
                                 judged_joint(angles, j + 1), HT_VERDICT_NONE };
        strip->verdict = strip->judged.verdict;
        top = fmax(top, 1.08 * strip->value.high);
        if (isfinite(strip->judged.most_highest))
            top = fmax(top, 1.3 * strip->judged.most_highest);
    }
    strips->top = top;
}

static void draw_limit(struct ht_text *out, double x, double y)
{
    figure_line(out, x, y - 3, x, y + STRIP_HEIGHT + 3, "limit");
}

/* Track inside, hatching outside, lines at the limits, the block on top. */
static void draw_strip(struct ht_text *out, const struct strip *strip,
                       const struct scale *axis, double y)
{
    const struct judged *judged = &strip->judged;
    double end = axis->end;
    double most = isfinite(judged->most) ? scale_held_px(axis, judged->most)
                                         : end;
    double highest = isfinite(judged->most_highest)
                         ? scale_held_px(axis, judged->most_highest)
                         : end;
    double least = isfinite(judged->least) ? scale_held_px(axis, judged->least)
                                           : axis->start;
    markup(out, "<rect class=\"track\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%d\"/>\n", least, y, most - least, STRIP_HEIGHT);
    figure_hatching(out, axis->start, y, least - axis->start, STRIP_HEIGHT);
    figure_hatching(out, highest, y, end - highest, STRIP_HEIGHT);
    if (highest > most)
        markup(out, "<rect class=\"between\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"%d\"/>\n", most, y + 0.5, highest - most,
               STRIP_HEIGHT - 1);
    double low = scale_held_px(axis, strip->value.low);
    double high = scale_held_px(axis, strip->value.high);
    double middle = scale_held_px(axis, strip->value.value);
    if (!(high - low >= 4)) {
        low = fmax(middle - 2, axis->start);
        high = low + 4;
    }
    markup(out, "<rect class=\"clear\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%d\"/>", low - 3, y - 1, high - low + 6,
           STRIP_HEIGHT + 2);
    if (isfinite(judged->least))
        draw_limit(out, least, y);
    if (isfinite(judged->most))
        draw_limit(out, most, y);
    if (highest > most)
        draw_limit(out, highest, y);
    markup(out, "<rect class=\"block\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%d\" rx=\"1.5\"/>\n", low, y + 3, high - low,
           STRIP_HEIGHT - 6);
    if (high - low >= 10)
        figure_line(out, middle, y + 3, middle, y + STRIP_HEIGHT - 3, "slit");
}

static void put_why(struct ht_text *out, const struct strip *strip)
{
    const struct judged *judged = &strip->judged;
    const struct ht_limit_verdict *v = judged->deciding;
    if (judged->sets > 1)
        ht_text_addf(out, REPORT_OUT_IN_SETS, judged->sets_bad, judged->sets);
    else if (v && !verdict_has_chance(v))
        ht_text_add(out, verdict_from_side(v) ? FIGURE_SIDE_ALONE
                                              : FIGURE_ZERO_OPEN);
    else if (v && judged->verdict == HT_VERDICT_OPEN)
        ht_text_addf(out,
                     v->is_minimum ? FIGURE_CHANCE_UNDER : FIGURE_CHANCE_OVER,
                     verdict_in_100(v));
    else if (v)
        ht_text_addf(out, v->is_minimum ? REPORT_AT_LEAST : REPORT_AT_MOST,
                     shown_degrees(v->limit, 1).text);
}

static void draw_limit_numbers(struct ht_text *out, const struct judged *judged,
                               const struct scale *axis, double y)
{
    double limit[] = { judged->least, judged->most, judged->most_highest };
    double last = -INFINITY;
    for (int i = 0; i < 3; i++) {
        double x = scale_held_px(axis, limit[i]);
        if (!isfinite(limit[i]) || (i == 2 && limit[2] <= limit[1]) ||
            x - last < 26)
            continue;
        double degrees = limit[i] * HT_DEG_PER_RAD;
        bool whole = fabs(degrees - round(degrees)) < 0.05;
        struct shown shown = shown_degrees(limit[i], whole ? 0 : 1);
        double half = text_width_px(shown.text, 12) / 2;
        figure_text(out, fmax(x, axis->start - 4 + half), y, "t12 m dim",
                    shown.text);
        last = x;
    }
}

static struct ht_estimate in_degrees(const struct ht_estimate *e)
{
    return (struct ht_estimate){
        e->value * HT_DEG_PER_RAD, e->u * HT_DEG_PER_RAD,
        e->low * HT_DEG_PER_RAD, e->high * HT_DEG_PER_RAD
    };
}

/* Value on paint when it is over: rect behind, line under, and the word. */
static void draw_value(struct ht_text *out, const struct strip *strip,
                       double x, double y)
{
    struct ht_text text = { 0 };
    struct shown value = shown_degrees(strip->value.value, 2);
    double width = fmax(text_width_px(value.text, 15), 46) + 6;
    bool over = strip->verdict == HT_VERDICT_OVER;
    if (over)
        markup(out, "<rect class=\"paint\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"19\"/><rect class=\"under\" x=\"%n\" y=\"%n\" "
               "width=\"%n\" height=\"2\"/>",
               x, y - 15, width, x, y + 3, width);
    figure_text(out, over ? x + 4 : x, y,
                over ? "t15 bold onpaint" : "t15 bold", value.text);
    struct ht_estimate degrees = in_degrees(&strip->value);
    figure_half_range(&text, &degrees, 2);
    figure_text(out, x + width + 4, y, "t12 dim", ht_text_get(&text));
    ht_text_end(out, &text);
}

static void draw_joint_strip(struct ht_text *out, const struct strip *strip,
                             const struct scale *axis, double y)
{
    double x = axis->start;
    figure_text(out, x, y + 13, "t13 dim", strip->title);
    draw_value(out, strip, x, y + 33);
    draw_strip(out, strip, axis, y + 45);
    draw_limit_numbers(out, &strip->judged, axis, y + 78);
    figure_disc(out, x + 6, y + 93, strip->verdict);
    figure_text(out, x + 17, y + 97.5, "t13 bold",
                verdict_word(strip->verdict));
    struct ht_text why = { 0 };
    put_why(&why, strip);
    figure_text(out, x, y + 114, "t12 dim", ht_text_get(&why));
    ht_text_end(out, &why);
}

static void say_strips(struct ht_text *out, const struct strips *strips)
{
    for (size_t i = 0; i < strips->count; i++) {
        const struct strip *strip = &strips->strip[i];
        struct shown_range value = shown_angle_range(&strip->value);
        struct ht_text why = { 0 };
        put_why(&why, strip);
        next_sentence(out);
        if (why.length)
            ht_text_addf(out, FIGURE_STRIP_WHY, strip->title, value.text,
                         verdict_word(strip->verdict), ht_text_get(&why));
        else
            ht_text_addf(out, FIGURE_STRIP, strip->title, value.text,
                         verdict_word(strip->verdict));
        ht_text_end(out, &why);
    }
}

void draw_joint_strips(struct ht_text *out, const struct strips *strips,
                       double width)
{
    enum { ACROSS = 3, ROW = 128 };
    double cell = width / ACROSS, length = cell - 17;
    size_t rows = (strips->count + ACROSS - 1) / ACROSS;
    struct ht_text label = { 0 };
    say_strips(&label, strips);
    figure_open(out, width, (double)rows * ROW,
                width > FIGURE_NARROW ? "wide" : "narrow", ht_text_get(&label));
    ht_text_end(out, &label);
    for (size_t i = 0; i < strips->count; i++) {
        size_t row = i / ACROSS;
        double x = 4 + cell * (double)(i % ACROSS);
        struct scale axis = { 0, strips->top, x, x + length };
        draw_joint_strip(out, &strips->strip[i], &axis,
                         (double)row * ROW);
    }
    figure_close(out);
}

static void draw_end_number(struct ht_text *out, double x, double y,
                            const char *classes, double value)
{
    figure_text(out, x, y, classes, shown_number(value, 0).text);
}

void draw_long_strip(struct ht_text *out, const struct strip *strip,
                     double width, const char *label)
{
    double most = strip->judged.most;
    double reach = fmax(1.1 * strip->value.high,
                        isfinite(most) ? 2 * most : 0);
    double step = tick_step(reach, 5);
    double top = tick_first(reach, step);
    struct scale axis = { 0, top, 4, width - 20 };
    figure_open(out, width, 44, width > FIGURE_NARROW ? "wide" : "narrow",
                label);
    draw_strip(out, strip, &axis, 5);
    draw_end_number(out, axis.start, 40, "t12 m dim", 0);
    if (isfinite(most))
        draw_end_number(out, scale_px(&axis, most), 40, "t12 m dim", most);
    draw_end_number(out, axis.end, 40, "t12 m dim", top);
    figure_close(out);
}
