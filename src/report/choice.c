/* The figure of a shim plan. */
#include "choice.h"

#include "figure.h"
#include "markup.h"
#include "shown.h"
#include "texts.h"
#include "texts_figures.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>

enum { ROW = 50, STRIP = 22, STRIP_AT = 19, AXIS = 24, HEAD = 22, GAP = 18 };

static bool is_wide(double width)
{
    return width > FIGURE_NARROW;
}

struct scale choice_scale(const struct choice *choice, double width)
{
    return (struct scale){ 0, choice->top, 4,
                           is_wide(width) ? width - 8 : width - 122 };
}

/* ---- one row ------------------------------------------------------------ */

/* Track inside the limits, hatching outside. */
static void draw_ground(struct ht_text *out, const struct choice_row *row,
                        const struct scale *axis, double y)
{
    double least = isnan(row->least) ? axis->start
                                     : scale_held_px(axis, row->least);
    double most = isnan(row->most) ? axis->end
                                   : scale_held_px(axis, row->most);
    markup(out, "<rect class=\"track\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%d\"/>\n", least, y, most - least, STRIP);
    figure_hatching(out, axis->start, y, least - axis->start, STRIP);
    figure_hatching(out, most, y, axis->end - most, STRIP);
}

static void draw_limit_at(struct ht_text *out, double limit,
                          const struct scale *axis, double y)
{
    double x = scale_held_px(axis, limit);
    if (isfinite(limit))
        figure_line(out, x, y - 3, x, y + STRIP + 3, "limit");
}

struct block { /* a range on the axis */
    double low, middle, high, y, height;
    bool off;   /* its end is not on the figure */
};

static struct block block_of(const struct ht_estimate *e,
                             const struct scale *axis, double y, double height)
{
    struct block block = { scale_held_px(axis, e->low),
                           scale_held_px(axis, e->value),
                           scale_held_px(axis, e->high), y, height,
                           e->high > axis->to };
    if (block.high - block.low < 4)
        block.low = fmin(fmax(block.middle - 2, axis->start), axis->end - 4);
    block.high = fmax(block.high, block.low + 4);
    if (block.off)
        block.low = fmin(block.low, axis->end - 8);
    return block;
}

/* Nothing of the ground close to it, nor a sliver of it at the edge. */
static void draw_clear(struct ht_text *out, const struct block *block,
                       double from, double to)
{
    markup(out, "<rect class=\"clear\" x=\"%n\" y=\"%n\" width=\"%n\" "
           "height=\"%n\"/>", block->low - 3, from,
           block->high - block->low + 6, to - from);
}

/* What runs off the figure ends in a head that points there. */
static void draw_block(struct ht_text *out, const struct block *b,
                       const char *css_class)
{
    double end = b->high, bottom = b->y + b->height;
    if (b->off)
        markup(out, "<path class=\"%s\" d=\"M%n %nH%nL%n %nL%n %nH%nZ\"/>\n",
               css_class, b->low, b->y, end - 2, end + 6,
               b->y + b->height / 2, end - 2, bottom, b->low);
    else
        markup(out, "<rect class=\"%s\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"%n\"/>\n", css_class, b->low, b->y, end - b->low,
               b->height);
    if (end - b->low >= 10 && b->middle < end)
        figure_line(out, b->middle, b->y, b->middle, bottom,
                    *css_class == 'n' ? "axis" : "slit");
}

/* In degrees or rad/s2; tens where the range is tens wide. */
static struct ht_estimate in_unit(const struct choice_row *row,
                                  const struct ht_estimate *e)
{
    double times = row->part * (row->shake ? 1 : HT_DEG_PER_RAD);
    double half = times * (e->high - e->low) / 2;
    double step = row->shake ? half >= 20 ? 10 : 1 : 0;
    struct ht_estimate shown = { times * e->value, times * e->u,
                                 times * e->low, times * e->high };
    if (step > 0) {
        shown.value = step * round(shown.value / step);
        shown.low = step * round(shown.low / step);
        shown.high = step * round(shown.high / step);
    }
    return shown;
}

/* "1.08° ± 0.47" */
static void draw_figures(struct ht_text *out, const struct choice_row *row,
                         double x, double y)
{
    struct ht_estimate e = in_unit(row, &row->then);
    struct shown value = row->shake
                             ? shown_number(e.value, 0)
                             : shown_degrees(row->then.value * row->part, 2);
    struct ht_text range = { 0 };
    figure_text(out, x, y, "t13 bold", value.text);
    figure_half_range(&range, &e, row->shake ? 0 : 2);
    figure_text(out, x + fmax(text_width_px(value.text, 13), 40) + 5, y,
                "t12 dim", ht_text_get(&range));
    ht_text_end(out, &range);
}

static void draw_strip(struct ht_text *out, const struct choice_row *row,
                       const struct scale *axis, double y)
{
    struct block now = block_of(&row->now, axis, y + 3, 5);
    struct block then = block_of(&row->then, axis, y + 12, 8);
    draw_ground(out, row, axis, y);
    draw_clear(out, &now, y - 1, now.y + now.height + 2);
    draw_clear(out, &then, then.y - 2, y + STRIP + 1);
    draw_limit_at(out, row->least, axis, y);
    draw_limit_at(out, row->most, axis, y);
    draw_block(out, &now, "now");
    draw_block(out, &then, "block");
}

/* Without its limits where they do not fit; never without the unit. */
static void draw_name(struct ht_text *out, const struct choice_row *row,
                      double room, double y)
{
    struct ht_text name = { 0 };
    if (text_width_px(row->long_name, 12) <= room)
        ht_text_add(&name, row->long_name);
    else if (row->shake)
        ht_text_addf(&name, FIGURE_CHOICE_UNIT, row->name);
    else
        ht_text_add(&name, row->name);
    figure_text(out, 4, y, "t12 dim", ht_text_get(&name));
    ht_text_end(out, &name);
}

static void draw_row(struct ht_text *out, const struct choice_row *row,
                     const struct scale *axis, double width, double y)
{
    bool wide = is_wide(width);
    double word = width - 92;
    draw_name(out, row, (wide ? width - 250 : word) - 12, y + 12);
    figure_disc(out, word + 6, y + 8, row->verdict);
    figure_text(out, word + 17, y + 12.5, "t13 bold",
                verdict_word(row->verdict));
    draw_figures(out, row, wide ? width - 236 : axis->end + 12,
                 wide ? y + 12.5 : y + STRIP_AT + 16);
    draw_strip(out, row, axis, y + STRIP_AT);
}

/* ---- one plan ----------------------------------------------------------- */

static void draw_axis(struct ht_text *out, const struct scale *axis, double y)
{
    for (int times = 0; times <= axis->to; times++) {
        double x = scale_px(axis, times);
        struct ht_text text = { 0 };
        if (times == 1)
            ht_text_add(&text, FIGURE_CHOICE_AT_LIMIT);
        else if (times == 0)
            ht_text_add(&text, "0");
        else
            ht_text_addf(&text, FIGURE_CHOICE_TIMES, times);
        figure_line(out, x, y, x, y + 5, "axis");
        figure_text(out, times ? x : x - 4, y + 17,
                    times ? "t12 m dim" : "t12 dim", ht_text_get(&text));
        ht_text_end(out, &text);
    }
    figure_line(out, axis->start, y, axis->end, y, "axis");
}

static double draw_panel(struct ht_text *out, const struct choice *choice,
                         double width, double y)
{
    struct scale axis = choice_scale(choice, width);
    for (size_t r = 0; r < choice->rows; r++)
        draw_row(out, &choice->row[r], &axis, width, y + ROW * (double)r);
    y += ROW * (double)choice->rows + 4;
    draw_axis(out, &axis, y);
    return y + AXIS;
}

static struct shown_range range_of(const struct choice_row *row,
                                   const struct ht_estimate *e)
{
    struct ht_estimate whole = { e->value * row->part, e->u * row->part,
                                 e->low * row->part, e->high * row->part };
    return row->shake ? shown_rate_range(&whole) : shown_angle_range(&whole);
}

static void say_choice(struct ht_text *out, const struct choice *choice)
{
    next_sentence(out);
    ht_text_add(out, choice->head);
    for (size_t r = 0; r < choice->rows; r++) {
        const struct choice_row *row = &choice->row[r];
        next_sentence(out);
        ht_text_addf(out, FIGURE_CHOICE_ROW, row->name,
                     range_of(row, &row->now).text,
                     range_of(row, &row->then).text,
                     verdict_word(row->verdict));
    }
}

void draw_choice(struct ht_text *out, const struct choice *choice,
                 double width)
{
    struct ht_text label = { 0 };
    say_choice(&label, choice);
    figure_open(out, width, ROW * (double)choice->rows + 4 + AXIS,
                is_wide(width) ? "wide" : "narrow", ht_text_get(&label));
    ht_text_end(out, &label);
    (void)draw_panel(out, choice, width, 0);
    figure_close(out);
}

/* ---- all plans ---------------------------------------------------------- */

static double draw_headed(struct ht_text *out, const struct choice *choice,
                          double width, double y)
{
    figure_text(out, 4, y + 14, "t13 bold", choice->head);
    y += HEAD + figure_paragraph(out, 4, y + HEAD, width - 8,
                                 ht_text_get(&choice->works));
    return draw_panel(out, choice, width, y + 8) + GAP;
}

void draw_choices(struct ht_text *out, const struct ht_shims *shims,
                  double width)
{
    struct ht_text label = { 0 }, body = { 0 };
    double y = 0;
    for (size_t p = 0; p < shims->plans; p++) {
        struct choice choice;
        if (choice_from(&choice, shims, p)) {
            say_choice(&label, &choice);
            y = draw_headed(&body, &choice, width, y);
        }
        choice_free(&choice, out);
    }
    figure_open(out, width, y - GAP, is_wide(width) ? "wide" : "narrow",
                ht_text_get(&label));
    ht_text_add_bytes(out, ht_text_get(&body), body.length);
    figure_close(out);
    ht_text_end(out, &label);
    ht_text_end(out, &body);
}
