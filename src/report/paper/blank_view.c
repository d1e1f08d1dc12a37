/* The driveline from the left side, front at the left, with its joints, yokes
 * and the letters of the caps. Not to scale: a shaft's length is, as far as
 * it is known. */
#include "blank.h"

#include "report/markup.h"
#include "report/texts_paper.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>

#define TUBE 3.6        /* mm: diameter drawn */
#define FORK 2.7        /* from the middle to a cap */
#define METAL 0.3       /* outline */

struct view {
    struct form *form;
    struct paper *paper;
    size_t members;
    double end_length;
    double x[HT_MEMBERS_MAX + 1], y[HT_MEMBERS_MAX + 1]; /* free ends, joints */
};

static const struct paper_style name_style = { PAPER_SMALL, false, false,
                                               PAPER_MIDDLE, 1 };
static const struct paper_style joint_style = { PAPER_SMALL, true, false,
                                                PAPER_MIDDLE, 1 };

/* ---- where things lie --------------------------------------------------- */

static double usual_length(const struct blank_line *line)
{
    double sum = 0;
    size_t known = 0;
    for (size_t i = 1; i + 1 < line->members; i++)
        if (isfinite(line->length_m[i])) {
            sum += line->length_m[i];
            known++;
        }
    return known ? sum / (double)known : 1;
}

/* None shorter than half the usual, so that its name and forks have room. */
static double shown_length(const struct blank_line *line, size_t member)
{
    double usual = usual_length(line), length = line->length_m[member];
    return isfinite(length) ? fmin(fmax(length, usual / 2), 2 * usual) : usual;
}

static void place(struct view *view)
{
    const struct blank_line *line = &view->form->line;
    double width = view->form->right - view->form->left - 8, sum = 0;
    size_t last = view->members - 1;
    view->end_length = view->members > 5 ? 17 : 26;
    for (size_t i = 1; i < last; i++)
        sum += shown_length(line, i);
    double room = fmin(width - 2 * view->end_length,
                       view->members == 2 ? 0 : 400);
    double drop = sum > 0 ? 5 : 2.5;
    view->x[0] = view->form->left + 4 +
                 (sum > 0 ? 0 : width / 2 - view->end_length);
    for (size_t i = 0; i <= last; i++)
        view->x[i + 1] = view->x[i] +
                         (i == 0 || i == last
                              ? view->end_length
                              : room * shown_length(line, i) / sum);
    for (size_t i = 0; i <= last + 1; i++) {
        double part = (view->x[i] - view->x[0]) /
                      (view->x[last + 1] - view->x[0]);
        view->y[i] = view->form->y + 9.3 + drop * sin(part * HT_PI / 2);
    }
}

/* Origin at a node, x along the member that leads from there. */
static void turn_to(struct view *view, size_t from, size_t to)
{
    cairo_save(view->paper->cairo);
    cairo_translate(view->paper->cairo, view->x[from], view->y[from]);
    cairo_rotate(view->paper->cairo, atan2(view->y[to] - view->y[from],
                                           view->x[to] - view->x[from]));
}

/* ---- metal -------------------------------------------------------------- */

static void outline(struct paper *p)
{
    cairo_set_source_rgb(p->cairo, 1, 1, 1);
    cairo_fill_preserve(p->cairo);
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
    cairo_set_line_width(p->cairo, METAL);
    cairo_stroke(p->cairo);
}

static void draw_tube(struct paper *p, double from, double to, double half)
{
    cairo_rectangle(p->cairo, from, -half, to - from, 2 * half);
    outline(p);
}

/* Seen from the side its two arms stand above and below the cross, with a
 * cap outside each. */
static void draw_upright_fork(struct paper *p)
{
    for (int side = -1; side <= 1; side += 2) {
        cairo_move_to(p->cairo, 6, side * TUBE / 2);
        cairo_line_to(p->cairo, 3.2, side * FORK);
        cairo_line_to(p->cairo, -1.2, side * FORK);
        cairo_line_to(p->cairo, -1.2, side * (FORK - 1));
        cairo_line_to(p->cairo, 2.6, side * (FORK - 1));
        cairo_line_to(p->cairo, 6, side * 0.4);
        cairo_close_path(p->cairo);
        outline(p);
        paper_fill(p, -1.1, side * (FORK + 0.45) - 0.45, 2.2, 0.9);
    }
}

/* One arm in front of the other; its cap looks at the reader. */
static void draw_flat_fork(struct paper *p)
{
    cairo_move_to(p->cairo, 6, TUBE / 2);
    cairo_line_to(p->cairo, 0.5, 1.5);
    cairo_arc(p->cairo, 0, 0, 1.6, HT_PI / 2, 3 * HT_PI / 2);
    cairo_line_to(p->cairo, 6, -TUBE / 2);
    cairo_close_path(p->cairo);
    outline(p);
    cairo_arc(p->cairo, 0, 0, 1.0, 0, 2 * HT_PI);
    outline(p);
}

/* With x from the joint into the member. */
static void draw_fork(struct view *view, size_t member, bool rear)
{
    double at = yoke_at_rad(&view->form->line, member, rear);
    bool upright = isnan(at) || fabs(cos(at)) > 0.7;
    size_t joint = rear ? member + 1 : member;
    turn_to(view, joint, rear ? member : member + 1);
    if (view->form->line.kind[joint - 1] == HT_JOINT_DOUBLE_CARDAN)
        cairo_translate(view->paper->cairo, 2.2, 0);
    if (upright)
        draw_upright_fork(view->paper);
    else
        draw_flat_fork(view->paper);
    cairo_restore(view->paper->cairo);
}

static void draw_even_joint(struct view *view, size_t j, bool rubber)
{
    struct paper *p = view->paper;
    turn_to(view, j, j + 1);
    if (rubber) {
        draw_tube(p, -1.2, 0, 4);
        draw_tube(p, 0, 1.2, 4);
    } else {
        cairo_arc(p->cairo, 0, 0, 3, 0, 2 * HT_PI);
        outline(p);
        cairo_arc(p->cairo, 0, 0, 1, 0, 2 * HT_PI);
        outline(p);
    }
    cairo_restore(p->cairo);
}

static void draw_joint(struct view *view, size_t j)
{
    enum ht_joint_kind kind = view->form->line.kind[j - 1];
    if (kind == HT_JOINT_CONSTANT_VELOCITY || kind == HT_JOINT_RUBBER_DISC) {
        draw_even_joint(view, j, kind == HT_JOINT_RUBBER_DISC);
        return;
    }
    if (kind == HT_JOINT_DOUBLE_CARDAN) {
        turn_to(view, j, j + 1);
        draw_tube(view->paper, -3.4, 3.4, 3.6);
        cairo_restore(view->paper->cairo);
    }
    double front = yoke_at_rad(&view->form->line, j - 1, true);
    bool upright = isnan(front) || fabs(cos(front)) > 0.7;
    /* the arm that looks at the reader lies in front */
    draw_fork(view, upright ? j - 1 : j, upright);
    draw_fork(view, upright ? j : j - 1, !upright);
}

/* How far from a joint's middle the tube of a member begins. */
static double metal_from(const struct view *view, size_t joint)
{
    switch (view->form->line.kind[joint - 1]) {
    case HT_JOINT_CONSTANT_VELOCITY:
        return 2.9;
    case HT_JOINT_RUBBER_DISC:
        return 1.2;
    case HT_JOINT_DOUBLE_CARDAN:
        return 7.8;
    default:
        return 5.7;
    }
}

/* What drives, from the joint towards the line's end. */
static void draw_box(struct view *view, size_t joint, size_t end)
{
    double e = view->end_length;
    turn_to(view, joint, end);
    draw_tube(view->paper, metal_from(view, joint), e * 0.5, 1.3);
    draw_tube(view->paper, e * 0.45, e, 4.6);
    cairo_restore(view->paper->cairo);
}

static void draw_axle(struct view *view, size_t joint, size_t end)
{
    struct paper *p = view->paper;
    double e = view->end_length;
    turn_to(view, joint, end);
    draw_tube(p, metal_from(view, joint), e - 4.5, 1.3);
    cairo_arc(p->cairo, e - 4.6, 0, 4.6, 0, 2 * HT_PI);
    outline(p);
    cairo_arc(p->cairo, e - 4.6, 0, 0.9, 0, 2 * HT_PI);
    outline(p);
    cairo_restore(p->cairo);
}

static void draw_ends(struct view *view)
{
    size_t last = view->members - 1;
    bool axle_in_front = view->form->line.from_rear;
    (axle_in_front ? draw_axle : draw_box)(view, 1, 0);
    (axle_in_front ? draw_box : draw_axle)(view, last, view->members);
}

static void draw_sections(struct view *view)
{
    for (size_t i = 1; i + 1 < view->members; i++) {
        turn_to(view, i, i + 1);
        draw_tube(view->paper, metal_from(view, i),
                  hypot(view->x[i + 1] - view->x[i],
                        view->y[i + 1] - view->y[i]) -
                      metal_from(view, i + 1),
                  TUBE / 2);
        cairo_restore(view->paper->cairo);
    }
}

/* ---- words and letters -------------------------------------------------- */

static void draw_names(struct view *view)
{
    bool crowded = view->members > 6;
    for (size_t i = 0; i < view->members; i++) {
        double from = view->x[i], to = view->x[i + 1];
        struct ht_text name = { 0 };
        double y = fmin(view->y[i], view->y[i + 1]) - 9.6;
        bool end = i == 0 || i + 1 == view->members;
        double gap = end ? 0.5 : crowded ? 2.5 : 7;
        put_member(&name, view->form, i);
        if (i == 0)
            to -= crowded ? 2 : 6;
        if (i + 1 == view->members)
            from += crowded ? 2 : 6;
        (void)paper_put(view->paper, from + gap, y, to - from - 2 * gap,
                        name_style, &name);
    }
    for (size_t j = 1; j < view->members; j++) {
        struct ht_text name = { 0 };
        ht_text_addf(&name, crowded ? "%zu" : PAPER_JOINT, j);
        (void)paper_put(view->paper, view->x[j] - 8, view->y[j] - 9.6, 16,
                        joint_style, &name);
    }
}

static size_t joint_of(const struct cap *cap)
{
    return cap->rear || cap->member == 0 ? cap->member + 1 : cap->member;
}

static size_t caps_at(const struct cap_plan *plan, size_t joint)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->caps; i++)
        count += joint_of(&plan->cap[i]) == joint;
    return count;
}

/* Below the joint, to the side of its own fork where two caps are read. */
static void draw_letters(struct view *view, double y)
{
    const struct cap_plan *plan = &view->form->plan;
    for (size_t i = 0; i < plan->caps; i++) {
        const struct cap *cap = &plan->cap[i];
        size_t j = joint_of(cap);
        double to = view->x[j], x = to;
        bool down = cap->turn == CAP_FIRST;
        if (caps_at(plan, j) > 1)
            x += cap->member < j ? -3.6 : 3.6;
        paper_line(view->paper, x, y, to + (x - to) * 0.3,
                   view->y[j] + (down ? FORK + 1 : 0.6), 0.2);
        paper_letter(view->paper, x, y, 2.5, member_letter(cap->member), down,
                     cap->turn >= CAP_OWN);
    }
}

/* "A gearbox, B shaft, C pinion" */
static void begin_figure(struct view *view)
{
    struct ht_text names = { 0 }, alternative = { 0 };
    for (size_t i = 0; i < view->members; i++) {
        ht_text_addf(&names, "%s%s ", i ? ", " : "", member_letter(i));
        put_member(&names, view->form, i);
    }
    ht_text_addf(&alternative, PAPER_VIEW_SAYS, ht_text_get(&names));
    ht_text_end(&alternative, &names);
    view->paper->lost = view->paper->lost || alternative.failed;
    paper_figure(view->paper, ht_text_get(&alternative));
    ht_text_free(&alternative);
}

void form_view(struct form *form)
{
    struct view view = { .form = form, .paper = form->paper,
                         .members = form->line.members };
    static const struct paper_style small = { .points = PAPER_SMALL };
    bool own = form->plan.cap[form->plan.caps - 1].turn >= CAP_OWN;
    form_need(form, 32);
    form_part(form, PAPER_VIEW, own ? PAPER_MARKS_OWN : PAPER_MARKS);
    place(&view);
    begin_figure(&view);
    draw_sections(&view);
    draw_ends(&view);
    for (size_t j = 1; j < view.members; j++)
        draw_joint(&view, j);
    draw_names(&view);
    double y = form->y + 21.6;
    draw_letters(&view, y);
    paper_arrow(form->paper, form->left + 5, form->left + 0.5, y + 1);
    (void)paper_text(form->paper, form->left + 5.6, y - 0.8, -1, small,
                     PAPER_FRONT);
    paper_figure_end(form->paper);
    form->y = y + 3.4;
}
