/* The top of a measuring sheet: cautions, how the vehicle stands, how to
 * read. */
#include "blank.h"

#include "report/texts_paper.h"

#include <math.h>
#include <string.h>

#define STRIPE 2.6      /* mm: width of the striped edge */
#define LINE_STEP 4.6   /* mm: from one written line to the next */

static const struct paper_style small = { .points = PAPER_SMALL };

/* ---- cautions ----------------------------------------------------------- */

static const struct {
    int column;
    const char *text;
} cautions[] = {
    { 0, PAPER_CAUTION_UNDER }, { 0, PAPER_CAUTION_WEIGHT },
    { 0, PAPER_CAUTION_ROLL },  { 1, PAPER_CAUTION_STANDS },
    { 1, PAPER_CAUTION_PARK },  { 1, PAPER_CAUTION_CLIPS },
    { 1, PAPER_CAUTION_MAKER },
};

/* 45 degree stripes, held to the edge. */
static void draw_stripes(struct paper *p, double x, double y, double height)
{
    cairo_save(p->cairo);
    cairo_rectangle(p->cairo, x, y, STRIPE, height);
    cairo_clip(p->cairo);
    for (int i = 0; i * 2.2 < height + 2 * STRIPE; i++) {
        double at = y - STRIPE + i * 2.2;
        paper_line(p, x - 1, at + STRIPE + 1, x + STRIPE + 1, at - 1, 0.8);
    }
    cairo_restore(p->cairo);
}

void form_cautions(struct form *form)
{
    struct paper *p = form->paper;
    static const struct paper_style bold = { PAPER_HEAD, true, false,
                                             PAPER_LEFT, 1 };
    double left = form->left + STRIPE + 2, top = form->y + 0.6;
    double room = (form->right - left - 4) / 2;
    double foot[2] = { top + 4.9, top + 0.8 };
    paper_tag(p, "H2");
    (void)paper_text(p, left, top + 0.2, room, bold, PAPER_CAUTION);
    paper_untag(p, "H2");
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++) {
        int column = cautions[i].column;
        paper_tag(p, "P");
        foot[column] += paper_text(p, left + column * (room + 4), foot[column],
                                   room, small, cautions[i].text) + 0.5;
        paper_untag(p, "P");
    }
    double bottom = fmax(foot[0], foot[1]) + 0.4;
    draw_stripes(p, form->left, form->y, bottom - form->y);
    paper_line(p, form->left, form->y, form->right, form->y, 0.5);
    paper_line(p, form->left, bottom, form->right, bottom, 0.5);
    form->y = bottom;
}

/* ---- how the vehicle stands --------------------------------------------- */

static double ticks(struct paper *p, double x, double y,
                    const char *const *words, size_t count)
{
    for (size_t i = 0; i < count; i++)
        x += paper_tick(p, x, y, words[i]) + 3.5;
    return x;
}

/* With the maker's figure, where the sheet has it. */
static void draw_height(struct form *form, double x, double width, double y,
                        const char *word, size_t end)
{
    const struct ht_numbers *maker =
        form->sheet ? &form->sheet->checks.ride_maker_m : NULL;
    struct ht_text unit = { 0 };
    char mm[40];
    if (maker && end < maker->count) {
        ht_format_number(mm, sizeof mm, 1000 * maker->value[end], 0);
        ht_text_addf(&unit, PAPER_RIDE_MAKER, mm);
    } else
        ht_text_add(&unit, PAPER_MM);
    paper_field(form->paper, x, y, width, word, ht_text_get(&unit));
    form->paper->lost = form->paper->lost || unit.failed;
    ht_text_free(&unit);
}

static void draw_gauge(struct form *form, double x, double y)
{
    static const char *const places[] = { PAPER_ON_CAP, PAPER_ON_FLANGE,
                                          PAPER_ON_YOKE };
    static const char *const ways[] = { PAPER_SET_CROSSWISE, PAPER_SET_BY_EYE };
    struct paper *p = form->paper;
    paper_field(p, x, y, 24, PAPER_GAUGE, DEGREE);
    paper_field(p, x + 27, y, 20, PAPER_STEP, DEGREE);
    x += 51;
    (void)paper_text(p, x, y, -1, small, PAPER_READ_ON);
    x = ticks(p, x + paper_text_width(p, small, PAPER_READ_ON) + 2, y, places,
              3);
    (void)paper_text(p, x, y, -1, small, PAPER_SET_UP);
    (void)ticks(p, x + paper_text_width(p, small, PAPER_SET_UP) + 2, y, ways,
                2);
}

void form_standing(struct form *form)
{
    static const char *const states[] = { PAPER_ON_WHEELS, PAPER_ON_STANDS,
                                          PAPER_HANGING };
    static const char *const sound[] = { PAPER_TYRES_RIGHT,
                                         PAPER_MOUNTS_SOUND };
    struct paper *p = form->paper;
    form_part(form, PAPER_STANDS, NULL);
    (void)ticks(p, form->left + 62, form->y - 5.1, states, 3);
    double x = ticks(p, form->left, form->y, sound, 2);
    double room = form->right - x;
    draw_height(form, x, room * 0.58 - 3, form->y, PAPER_RIDE_FRONT, 0);
    draw_height(form, x + room * 0.58, room * 0.42, form->y, PAPER_RIDE_REAR,
                1);
    draw_gauge(form, form->left, form->y + LINE_STEP);
    form->y += 2 * LINE_STEP + 0.6;
}

/* ---- how to read -------------------------------------------------------- */

/* The shaft as a tube, the gauge as a plain bar under it. */
void draw_sign(struct paper *p, double x, double y, double width, bool lower)
{
    double half = width / 2;
    cairo_save(p->cairo);
    cairo_translate(p->cairo, x + half, y);
    cairo_rotate(p->cairo, lower ? 0.2 : -0.2);
    paper_box(p, -half, -1, width, 2, 0.25);
    paper_fill(p, -half * 0.55, 1.3, width * 0.55, 0.9);
    cairo_restore(p->cairo);
}

static void draw_pictures(struct paper *p, double x, double y)
{
    static const struct {
        bool lower;
        const char *word;
    } signs[] = { { true, PAPER_REAR_LOWER }, { false, PAPER_REAR_HIGHER } };
    static const struct paper_style bold = { PAPER_SMALL, true, false,
                                             PAPER_MIDDLE, 1 };
    for (size_t i = 0; i < 2; i++, x += 37) {
        paper_dotted(p, x, y + 4.6, x + 34, y + 4.6);
        draw_sign(p, x + 10, y + 4.6, 18, signs[i].lower);
        paper_arrow(p, x + 6.5, x + 0.5, y + 8);
        (void)paper_text(p, x, y + 9.6, 10, small, PAPER_FRONT);
        (void)paper_text(p, x + 8, y + 9.6, 28, bold, signs[i].word);
    }
}

void form_signs(struct form *form)
{
    static const char *const steps[] = { PAPER_HOW_SET, PAPER_HOW_READ,
                                         PAPER_HOW_SIGN };
    struct paper *p = form->paper;
    form_need(form, 20);
    double x = form->left + 76, y = form->y + 1;
    form_part(form, PAPER_HOW, NULL);
    paper_figure(p, PAPER_SIGN_SAYS);
    draw_pictures(p, form->left, form->y - 1.2);
    paper_figure_end(p);
    for (size_t i = 0; i < 3; i++) {
        paper_tag(p, "P");
        y += paper_text(p, x, y, form->right - x, small, steps[i]) + 0.6;
        paper_untag(p, "P");
    }
    form->y = fmax(y, form->y + 12.4) + 0.6;
}
