/* Under the table of caps: headings, joints and yokes, run-out, the end. */
#include "blank.h"

#include "report/markup.h"
#include "report/texts_paper.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

#define CELL_HEIGHT 11.0
#define RUNOUT_HEIGHT 9.0
#define CELL_LINE 0.25
#define LABEL 4.0
#define LINE_STEP 4.2

static const struct paper_style small = { .points = PAPER_SMALL };
static const struct paper_style label_style = { PAPER_SMALL, false, false,
                                                PAPER_LEFT, 1 };
static const struct paper_style bold_style = { PAPER_SMALL, true, false,
                                               PAPER_LEFT, 1 };
static const struct paper_style unit_style = { PAPER_SMALL, false, false,
                                               PAPER_RIGHT, 1 };

/* A cell to write in, its name above it and its unit in a corner. */
static void draw_field(struct form *form, double x, double width,
                       double height, const char *word, const char *unit)
{
    struct paper *p = form->paper;
    paper_tag(p, "P");
    (void)paper_text(p, x + 0.3, form->y, width - 0.6, label_style, word);
    paper_untag(p, "P");
    paper_box(p, x, form->y + LABEL, width, height, CELL_LINE);
    (void)paper_text(p, x, form->y + LABEL + 0.6, width - 0.8, unit_style,
                     unit);
}

/* ---- headings ----------------------------------------------------------- */

void form_headings(struct form *form)
{
    size_t members = form->line.members;
    double width = (form->right - form->left) / (double)members;
    width = fmin(width, 34);
    form_need(form, form_part_height(form, PAPER_HEADINGS,
                                     PAPER_HEADINGS_HOW) +
                        LABEL + CELL_HEIGHT);
    form_part(form, PAPER_HEADINGS, PAPER_HEADINGS_HOW);
    form->y -= 1;
    for (size_t i = 0; i < members; i++) {
        struct ht_text word = { 0 };
        ht_text_addf(&word, "%s  ", member_letter(i));
        put_member(&word, form, i);
        draw_field(form, form->left + width * (double)i, width - 1.5,
                   CELL_HEIGHT, ht_text_get(&word), PAPER_MM_PER_M);
        form->paper->lost = form->paper->lost || word.failed;
        ht_text_free(&word);
    }
    form->y += LABEL + CELL_HEIGHT + 1.2;
}

/* ---- joints and yokes --------------------------------------------------- */

enum { KINDS = 4 };

static const struct {
    enum ht_joint_kind kind;
    const char *word;
} kinds[KINDS] = {
    { HT_JOINT_CARDAN, PAPER_KIND_CARDAN },
    { HT_JOINT_DOUBLE_CARDAN, PAPER_KIND_DOUBLE },
    { HT_JOINT_CONSTANT_VELOCITY, PAPER_KIND_CONSTANT },
    { HT_JOINT_RUBBER_DISC, PAPER_KIND_RUBBER },
};

static void draw_kind(struct form *form, size_t joint, double x)
{
    struct paper *p = form->paper;
    enum ht_joint_kind known = form->line.kind[joint];
    struct ht_text title = { 0 };
    ht_text_addf(&title, PAPER_JOINT, joint + 1);
    (void)paper_put(p, x, form->y, 14, bold_style, &title);
    x += 14;
    for (size_t i = 0; i < KINDS; i++)
        if (known == HT_JOINT_UNKNOWN)
            x += paper_tick(p, x, form->y, kinds[i].word) + 2;
        else if (known == kinds[i].kind)
            (void)paper_text(p, x, form->y, 60, label_style, kinds[i].word);
}

static void put_clocking(struct ht_text *out, double yoke_rad)
{
    char degrees[40];
    struct ht_text shown = { 0 };
    if (fabs(yoke_rad) < 0.05 * HT_RAD_PER_DEG) {
        ht_text_add(out, PAPER_IN_LINE);
        return;
    }
    ht_format_number(degrees, sizeof degrees,
                     fabs(yoke_rad) * HT_DEG_PER_RAD, 1);
    ht_text_add(&shown, yoke_rad < 0 ? MINUS : "");
    ht_text_add(&shown, degrees);
    ht_text_add(&shown, DEGREE);
    ht_text_addf(out, PAPER_CLOCKED, ht_text_get(&shown));
    ht_text_end(out, &shown);
}

static void draw_yokes(struct form *form, size_t section, double x,
                       double width)
{
    struct paper *p = form->paper;
    struct ht_text title = { 0 }, name = { 0 }, known = { 0 };
    double asked = paper_text_width(p, small, PAPER_IN_LINE) + 3.6;
    put_member(&name, form, section);
    ht_text_addf(&title, PAPER_YOKES, ht_text_get(&name));
    ht_text_end(&title, &name);
    (void)paper_put(p, x, form->y, width - asked - 30, bold_style, &title);
    x += width - asked - 28;
    if (isfinite(form->line.yoke_rad[section])) {
        put_clocking(&known, form->line.yoke_rad[section]);
        (void)paper_put(p, x, form->y, asked + 28, label_style, &known);
        return;
    }
    (void)paper_tick(p, x, form->y, PAPER_IN_LINE);
    paper_field(p, x + asked + 3, form->y, 25, PAPER_CLOCKED_FIELD, DEGREE);
}

/* A line for each joint, with the section behind it. */
void form_joints(struct form *form)
{
    double middle = form->left + (form->right - form->left) * 0.555;
    const char *more =
        any_clocking_is_asked(&form->line) ? PAPER_JOINTS_ASK : NULL;
    form_need(form, form_part_height(form, PAPER_JOINTS, more) +
                        2 * LINE_STEP);
    form_part(form, PAPER_JOINTS, more);
    for (size_t j = 0; j + 1 < form->line.members; j++) {
        form_need(form, LINE_STEP);
        paper_tag(form->paper, "P");
        draw_kind(form, j, form->left);
        if (has_two_yokes(&form->line, j + 1))
            draw_yokes(form, j + 1, middle, form->right - middle);
        paper_untag(form->paper, "P");
        form->y += LINE_STEP;
    }
    form->y += 0.6;
}

/* ---- run-out and the end ------------------------------------------------ */

void form_runout(struct form *form)
{
    static const char *const words[] = {
        PAPER_RUNOUT_FRONT, PAPER_RUNOUT_MIDDLE, PAPER_RUNOUT_REAR,
        PAPER_RUNOUT_FLANGE, PAPER_RUNOUT_TYRE, PAPER_RUNOUT_TYRE_SIDE,
        PAPER_RUNOUT_WHEEL, PAPER_RUNOUT_WHEEL_SIDE,
    };
    enum { WORDS = sizeof words / sizeof *words };
    double width = (form->right - form->left) / WORDS;
    form_need(form, 6.4 + LABEL + RUNOUT_HEIGHT);
    form_part(form, PAPER_RUNOUT, NULL);
    form->y -= 0.8;
    for (size_t i = 0; i < WORDS; i++)
        draw_field(form, form->left + width * (double)i, width - 1.5,
                   RUNOUT_HEIGHT, words[i], "mm");
    form->y += LABEL + RUNOUT_HEIGHT + 1.2;
}

/* As many ticks in a line as it holds; the first line stands beside the words
 * of the part. */
void form_end(struct form *form)
{
    static const char *const words[] = { PAPER_AFTER_CLIPS, PAPER_AFTER_BOLTS,
                                         PAPER_AFTER_NUTS, PAPER_AFTER_PLAY,
                                         PAPER_AFTER_TOOLS };
    struct paper *p = form->paper;
    form_need(form, 10);
    form_part(form, PAPER_AFTER, NULL);
    double x = form->left + 42, y = form->y - 5;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        double width = paper_text_width(p, small, words[i]) + 7;
        if (x + width > form->right + 3.4) {
            x = form->left;
            y += LINE_STEP + 0.6;
        }
        (void)paper_tick(p, x, y, words[i]);
        x += width;
    }
    form->y = y + LINE_STEP + 1;
    if (form->bottom - form->y > 14)
        form_part(form, PAPER_NOTES, NULL); /* what is left of the page */
}
