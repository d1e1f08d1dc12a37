/* The table of caps, in the order of the quarter turns. */
#include "blank.h"

#include "report/markup.h"
#include "report/texts_paper.h"

#include <math.h>
#include <stdio.h>

#define CELL_HEIGHT 11.0
#define HEADS_HEIGHT 6.8
#define CELL_LINE 0.25

static const struct paper_style small = { .points = PAPER_SMALL };
static const struct paper_style middle = { .points = PAPER_SMALL,
                                           .align = PAPER_MIDDLE };

enum column {
    COLUMN_CAP, COLUMN_MEMBER, COLUMN_HELD, COLUMN_OUT, COLUMN_ZERO,
    COLUMN_SIGN, COLUMN_1, COLUMN_2, COLUMN_3, COLUMN_TURNED, COLUMN_BACK,
    COLUMNS
};
static const struct {
    const char *head;
    double width; /* mm; 0: what is left */
    int number;
} columns[COLUMNS] = {
    [COLUMN_CAP] = { PAPER_COLUMN_CAP, 9, 0 },
    [COLUMN_MEMBER] = { PAPER_COLUMN_MEMBER, 0, 0 },
    [COLUMN_HELD] = { PAPER_COLUMN_HELD, 15, 0 },
    [COLUMN_OUT] = { PAPER_COLUMN_OUT, 9, 0 },
    [COLUMN_ZERO] = { PAPER_COLUMN_ZERO, 16.5, 0 },
    [COLUMN_SIGN] = { PAPER_COLUMN_SIGN, 18, 0 },
    [COLUMN_1] = { PAPER_COLUMN_READING, 17.5, 1 },
    [COLUMN_2] = { PAPER_COLUMN_READING, 17.5, 2 },
    [COLUMN_3] = { PAPER_COLUMN_READING, 17.5, 3 },
    [COLUMN_TURNED] = { PAPER_COLUMN_TURNED, 17.5, 0 },
    [COLUMN_BACK] = { PAPER_COLUMN_BACK, 15, 0 },
};

static double column_width(const struct form *form, enum column column)
{
    double rest = form->right - form->left;
    if (columns[column].width > 0)
        return columns[column].width;
    for (int i = 0; i < COLUMNS; i++)
        rest -= columns[i].width;
    return rest;
}

/* ---- one row ------------------------------------------------------------ */

static void put_place(struct ht_text *out, const struct cap *cap)
{
    if (cap->turn == CAP_NONE)
        ht_text_add(out, PAPER_CAP_NONE);
    else if (cap->rear)
        ht_text_addf(out, PAPER_CAP_REAR, cap->member + 1);
    else
        ht_text_addf(out, PAPER_CAP_FRONT, cap->member);
}

static void draw_member(struct form *form, const struct cap *cap, double x,
                        double width)
{
    struct paper *p = form->paper;
    static const struct paper_style name_style = { PAPER_BODY, true, false,
                                                   PAPER_LEFT, 2 };
    struct paper_style place_style = small;
    struct ht_text name = { 0 }, place = { 0 };
    place_style.lines = 1;
    put_member(&name, form, cap->member);
    put_place(&place, cap);
    (void)paper_put(p, x + 1, form->y + 0.3, width - 1.5, name_style, &name);
    (void)paper_put(p, x + 1, form->y + 7.5, width - 1.5, place_style, &place);
}

static void draw_held(struct form *form, double x)
{
    static const char *const words[] = { PAPER_HELD_CLIP, PAPER_HELD_STRAP,
                                         PAPER_HELD_PLATE };
    for (size_t i = 0; i < 3; i++)
        (void)paper_tick(form->paper, x + 1, form->y + 0.4 + 3.4 * (double)i,
                         words[i]);
}

static void draw_signs(struct form *form, double x)
{
    struct paper *p = form->paper;
    draw_sign(p, x + 1.4, form->y + 3.2, 6.6, true);
    draw_sign(p, x + 10.2, form->y + 3.2, 6.6, false);
    (void)paper_text(p, x + 0.7, form->y + 6.6, 8, middle, PAPER_PLUS);
    (void)paper_text(p, x + 9.5, form->y + 6.6, 8, middle, PAPER_MINUS);
}

static void draw_square(struct form *form, double x, double width)
{
    paper_box(form->paper, x + width / 2 - 2, form->y + CELL_HEIGHT / 2 - 2, 4,
              4, CELL_LINE);
}

static void draw_degrees(struct form *form, double x, double width)
{
    static const struct paper_style style = { PAPER_BODY, false, false,
                                              PAPER_RIGHT, 0 };
    (void)paper_text(form->paper, x, form->y + 0.6, width - 0.8, style,
                     DEGREE);
}

static void draw_cell(struct form *form, const struct cap *cap,
                      enum column column, double x, double width)
{
    bool has_cap = cap->turn != CAP_NONE;
    switch (column) {
    case COLUMN_CAP:
        paper_letter(form->paper, x + width / 2, form->y + CELL_HEIGHT / 2,
                     3, member_letter(cap->member), cap->turn == CAP_FIRST,
                     cap->turn >= CAP_OWN);
        break;
    case COLUMN_MEMBER:
        draw_member(form, cap, x, width);
        break;
    case COLUMN_HELD:
        if (has_cap)
            draw_held(form, x);
        break;
    case COLUMN_SIGN:
        draw_signs(form, x);
        break;
    case COLUMN_OUT:
    case COLUMN_BACK:
        if (has_cap)
            draw_square(form, x, width);
        break;
    case COLUMN_ZERO:
        if (has_cap)
            draw_degrees(form, x, width);
        break;
    default:
        draw_degrees(form, x, width);
    }
}

static void draw_row(struct form *form, const struct cap *cap)
{
    double x = form->left;
    paper_tag(form->paper, "TR");
    for (int i = 0; i < COLUMNS; i++) {
        double width = column_width(form, (enum column)i);
        paper_tag(form->paper, "TD");
        draw_cell(form, cap, (enum column)i, x, width);
        paper_untag(form->paper, "TD");
        paper_box(form->paper, x, form->y, width, CELL_HEIGHT, CELL_LINE);
        x += width;
    }
    paper_untag(form->paper, "TR");
    form->y += CELL_HEIGHT;
}

static void draw_column_heads(struct form *form)
{
    double x = form->left;
    paper_tag(form->paper, "TR");
    for (int i = 0; i < COLUMNS; i++) {
        double width = column_width(form, (enum column)i);
        char text[64];
        (void)snprintf(text, sizeof text, columns[i].head, columns[i].number);
        paper_tag(form->paper, "TH");
        (void)paper_text(form->paper, x + 0.4, form->y, width - 0.8, middle,
                         text);
        paper_untag(form->paper, "TH");
        x += width;
    }
    paper_untag(form->paper, "TR");
    form->y += HEADS_HEIGHT;
}

/* ---- the places --------------------------------------------------------- */

static void put_roll(struct ht_text *out, const struct form *form)
{
    char mm[40], inches[40];
    double way_m = form->line.quarter_m;
    if (!isfinite(way_m)) {
        ht_text_add(out, PAPER_TURN_QUARTER);
        return;
    }
    ht_format_number(mm, sizeof mm, 1000 * way_m, 0);
    ht_format_number(inches, sizeof inches, way_m / 0.0254, 1);
    if (form->request->paper == HT_PAPER_LETTER)
        ht_text_addf(out, PAPER_TURN_ROLL_INCHES, mm, inches);
    else
        ht_text_addf(out, PAPER_TURN_ROLL, mm);
}

static void put_turn(struct ht_text *out, const struct form *form,
                     const struct cap *cap)
{
    if (cap->turn == CAP_FIRST)
        ht_text_addf(out, PAPER_TURN_FIRST, member_letter(cap->member));
    else if (cap->turn == CAP_QUARTER)
        put_roll(out, form);
    else
        ht_text_add(out, cap->turn == CAP_OWN ? PAPER_TURN_OWN
                                              : PAPER_TURN_NONE);
}

/* What else is to be known of the roll; nothing about the other places. */
static void put_more(struct ht_text *out, const struct form *form,
                     enum cap_turn turn)
{
    if (turn != CAP_QUARTER)
        return;
    ht_text_add(out, isfinite(form->line.quarter_m) ? PAPER_ROLL_STANDS
                                                    : PAPER_ROLL_UNKNOWN);
    if (any_clocking_is_asked(&form->line))
        ht_text_add(out, " " PAPER_NOT_DOWN);
}

static size_t caps_with(const struct form *form, enum cap_turn turn)
{
    size_t count = 0;
    for (size_t i = 0; i < form->plan.caps; i++)
        count += form->plan.cap[i].turn == turn;
    return count;
}

/* A place's heading stays with its first two rows, and a row is never cut. */
static void draw_place(struct form *form, const struct cap *first,
                       size_t count, bool heads)
{
    struct ht_text title = { 0 }, sentence = { 0 };
    put_turn(&title, form, first);
    put_more(&sentence, form, first->turn);
    const char *words = ht_text_get(&title);
    const char *more = sentence.length ? sentence.bytes : NULL;
    double lead = form_part_height(form, words, more);
    size_t kept = count < 2 ? count : 2;
    form_need(form, lead + (heads ? HEADS_HEIGHT : 0) +
                        CELL_HEIGHT * (double)kept);
    form_part(form, words, more);
    paper_tag(form->paper, "Table");
    if (heads)
        draw_column_heads(form);
    for (size_t i = 0; i < count; i++) {
        if (form->y + CELL_HEIGHT > form->bottom) {
            paper_untag(form->paper, "Table");
            form_page(form, false);
            paper_tag(form->paper, "Table");
            draw_column_heads(form);
        }
        draw_row(form, first + i);
    }
    paper_untag(form->paper, "Table");
    form->paper->lost =
        form->paper->lost || title.failed || sentence.failed;
    ht_text_free(&title);
    ht_text_free(&sentence);
    form->y += 1.2;
}

void form_caps(struct form *form)
{
    size_t at = 0;
    for (int turn = 0; turn < CAP_TURNS; turn++) {
        size_t count = caps_with(form, (enum cap_turn)turn);
        if (count > 0)
            draw_place(form, &form->plan.cap[at], count, at == 0);
        at += count;
    }
}
