/* The driveline from the left side, front at the left, angles too large. */
#include "figure.h"

#include "markup.h"
#include "shown.h"
#include "texts_figures.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NODES_MAX = HT_MEMBERS_MAX + 1, LABELS_MAX = 2 * HT_MEMBERS_MAX };

struct label {
    double x, y, half_width; /* baseline and middle */
    double to_x, to_y;       /* what it names */
    const char *classes;
    char text[64];
};

/* Node 0 is the free end of the first member, then the joints, then the free
 * end of the last. */
struct drawing {
    struct ht_text *out;
    const struct side_view *view;
    double width, times, ring, tube, end_length;
    size_t nodes;
    double x[NODES_MAX], y[NODES_MAX];
    size_t labels;
    struct label label[LABELS_MAX];
};

/* ---- where things lie --------------------------------------------------- */

static double section_length(const struct side_view *view, size_t member)
{
    double sum = 0;
    size_t known = 0;
    for (size_t i = 1; i + 1 < view->members; i++)
        if (isfinite(view->length[i])) {
            sum += view->length[i];
            known++;
        }
    double usual = known ? sum / (double)known : 1;
    double length = view->length[member];
    return isfinite(length) ? fmin(fmax(length, usual / 3), 3 * usual) : usual;
}

static double drawn_slope(const struct drawing *d, size_t member)
{
    return d->times * d->view->slope_rad[member];
}

static void place_nodes(struct drawing *d)
{
    const struct side_view *view = d->view;
    size_t last = view->members - 1;
    double ends = d->end_length * (cos(drawn_slope(d, 0)) +
                                   cos(drawn_slope(d, last)));
    double run = 0;
    for (size_t i = 1; i < last; i++)
        run += section_length(view, i) * cos(drawn_slope(d, i));
    double lean = 1.6 * d->tube * fabs(sin(drawn_slope(d, 0)));
    double room = d->width - 24 - lean - ends;
    double px = run > 0 ? room / run : 0;
    d->nodes = view->members + 1;
    d->x[0] = 12 + lean + (run > 0 ? 0 : room / 2);
    d->y[0] = 0;
    for (size_t i = 0; i <= last; i++) {
        double length = i == 0 || i == last ? d->end_length
                                            : px * section_length(view, i);
        d->x[i + 1] = d->x[i] + length * cos(drawn_slope(d, i));
        d->y[i + 1] = d->y[i] + length * sin(drawn_slope(d, i));
    }
}

static double chain_y(const struct drawing *d, double x)
{
    size_t i = 1;
    while (i + 1 < d->nodes && d->x[i] < x)
        i++;
    double part = (x - d->x[i - 1]) / (d->x[i] - d->x[i - 1]);
    part = fmin(fmax(part, 0), 1);
    return d->y[i - 1] + part * (d->y[i] - d->y[i - 1]);
}

/* ---- labels ------------------------------------------------------------- */

static bool is_free(const struct drawing *d, const struct label *label)
{
    for (size_t i = 0; i < d->labels; i++) {
        const struct label *other = &d->label[i];
        double gap = label->half_width + other->half_width + 6;
        if (fabs(label->x - other->x) < gap &&
            fabs(label->y - other->y) < 16)
            return false;
    }
    return true;
}

/* The last wedge opens beyond the axle, the others along their shaft. */
static double wedge_radius(const struct drawing *d, size_t j)
{
    double length = hypot(d->x[j + 1] - d->x[j], d->y[j + 1] - d->y[j]);
    if (j + 2 == d->nodes)
        return d->end_length + 4;
    return fmin(fmax(length * 0.72, 22), d->width / 7);
}

/* Height of the end of a member's line, drawn through joint j. */
static double wedge_y(const struct drawing *d, size_t j, size_t member)
{
    return d->y[j] + (wedge_radius(d, j) + 5) * sin(drawn_slope(d, member));
}

/* A wedge needs less room than the metal that `clear` is for. */
static double past_wedges(const struct drawing *d, double x, int side,
                          double clear, double edge)
{
    for (size_t j = 1; j < d->view->members; j++) {
        double run = x - d->x[j];
        if (run < 0 || run > wedge_radius(d, j) + 8)
            continue;
        for (size_t i = j - 1; i <= j; i++) {
            double at = d->y[j] + run * tan(drawn_slope(d, i));
            at -= side * (clear - 7);
            edge = side < 0 ? fmin(edge, at) : fmax(edge, at);
        }
    }
    return edge;
}

/* Beside the metal over its whole width, then away from it until free. */
static void place_label(struct drawing *d, double x, double y, int side,
                        double clear, const char *text, const char *classes)
{
    if (d->labels == LABELS_MAX)
        return;
    struct label label = { .x = x, .to_x = x, .to_y = y, .classes = classes };
    (void)snprintf(label.text, sizeof label.text, "%s", text);
    label.half_width = text_width_px(text, 13) / 2;
    label.x = fmax(label.x, label.half_width + 2);
    label.x = fmin(label.x, d->width - label.half_width - 2);
    double edge = y;
    for (int i = -4; i <= 4; i++) {
        double beside = label.x + label.half_width * i / 4;
        double at = chain_y(d, beside);
        edge = side < 0 ? fmin(edge, at) : fmax(edge, at);
        edge = past_wedges(d, beside, side, clear, edge);
    }
    label.y = side < 0 ? edge - clear : edge + clear + 10;
    while (!is_free(d, &label))
        label.y += side * 16;
    d->label[d->labels++] = label;
}

static void place_labels(struct drawing *d)
{
    for (size_t i = 0; i < d->view->members; i++) {
        char name[60];
        struct ht_text clean = { 0 };
        clean_text(&clean, d->view->name[i]);
        figure_fit(name, sizeof name, ht_text_get(&clean), 13, d->width / 2);
        ht_text_end(d->out, &clean);
        bool end = i == 0 || i + 1 == d->view->members;
        double clear = end ? 1.6 * d->tube + 9 : 16;
        place_label(d, (d->x[i] + d->x[i + 1]) / 2,
                    (d->y[i] + d->y[i + 1]) / 2, -1, clear, name,
                    "t13 m halo");
    }
    /* a gearbox at the rear reaches further down than an axle's pinion */
    double end = d->view->from_rear ? 1.6 * d->tube + 3 : 5;
    for (size_t j = 1; j < d->view->members; j++) {
        bool last = j + 1 == d->view->members;
        double r = wedge_radius(d, j);
        place_label(d, d->x[j] + (last ? r : 0),
                    last ? fmax(wedge_y(d, j, j - 1), wedge_y(d, j, j))
                         : d->y[j],
                    1, last ? end : d->ring + 8,
                    shown_degrees(d->view->angle_rad[j - 1], 2).text,
                    "t13 m halo bold blue");
    }
}

static void draw_labels(struct ht_text *out, const struct drawing *d)
{
    for (size_t i = 0; i < d->labels; i++) {
        const struct label *label = &d->label[i];
        bool above = label->y < label->to_y;
        double from = above ? label->y + 4 : label->y - 13;
        if (fabs(from - label->to_y) > 36 ||
            fabs(label->x - label->to_x) > label->half_width)
            figure_line(out, label->x, from, label->to_x,
                        label->to_y + (above ? -9 : d->ring), "leader");
    }
    for (size_t i = 0; i < d->labels; i++)
        figure_text(out, d->label[i].x, d->label[i].y, d->label[i].classes,
                    d->label[i].text);
}

/* ---- metal -------------------------------------------------------------- */

static void draw_turned(struct ht_text *out, const struct drawing *d,
                        size_t node, size_t member, const char *shape)
{
    markup(out, "<g transform=\"translate(%n %n) rotate(%n)\">%s</g>\n",
           d->x[node], d->y[node], drawn_slope(d, member) * HT_DEG_PER_RAD,
           shape);
}

/* What stands before the first joint, or behind the last. A line that is
 * driven at the rear is drawn the other way round. */
static void draw_end(struct ht_text *out, const struct drawing *d, bool front,
                     const char *shape)
{
    struct ht_text whole = { 0 };
    size_t last = d->view->members - 1;
    markup(&whole,
           d->view->from_rear ? "<g transform=\"scale(-1 1)\">%s</g>" : "%s",
           shape);
    draw_turned(out, d, front ? 1 : d->nodes - 2, front ? 0 : last,
                ht_text_get(&whole));
    ht_text_end(out, &whole);
}

static void draw_gearbox(struct ht_text *out, const struct drawing *d)
{
    double e = d->end_length, h = d->tube * 1.6;
    struct ht_text shape = { 0 };
    markup(&shape, "<path class=\"metal\" d=\"M%n %nH%nL%n %nV%nL%n %nH%nZ\"/>",
           -e, -h, -e * 0.45, -d->ring, -d->tube * 0.5, d->tube * 0.5,
           -e * 0.45, h, -e);
    draw_end(out, d, !d->view->from_rear, ht_text_get(&shape));
    ht_text_end(out, &shape);
}

static void draw_axle(struct ht_text *out, const struct drawing *d)
{
    double e = d->end_length, r = d->tube * 1.55;
    struct ht_text shape = { 0 };
    markup(&shape,
           "<path class=\"metal\" d=\"M0 %nL%n %nV%nL0 %nZ\"/>"
           "<circle class=\"metal\" cx=\"%n\" cy=\"0\" r=\"%n\"/>"
           "<circle class=\"metal\" cx=\"%n\" cy=\"0\" r=\"2.5\"/>",
           -d->tube * 0.5, e - r, -d->tube * 0.9, d->tube * 0.9,
           d->tube * 0.5, e - r, r, e - r);
    draw_end(out, d, d->view->from_rear, ht_text_get(&shape));
    ht_text_end(out, &shape);
}

static void draw_sections(struct ht_text *out, const struct drawing *d)
{
    for (size_t i = 1; i + 1 < d->view->members; i++) {
        double length = hypot(d->x[i + 1] - d->x[i], d->y[i + 1] - d->y[i]);
        struct ht_text shape = { 0 };
        markup(&shape, "<rect class=\"metal\" x=\"%n\" y=\"%n\" width=\"%n\" "
               "height=\"%n\"/>",
               d->ring * 0.9, -d->tube / 2, fmax(length - 1.8 * d->ring, 1),
               d->tube);
        draw_turned(out, d, i, i, ht_text_get(&shape));
        ht_text_end(out, &shape);
    }
}

/* ---- angles ------------------------------------------------------------- */

static void draw_wedge(struct ht_text *out, const struct drawing *d, size_t j)
{
    double before = drawn_slope(d, j - 1), after = drawn_slope(d, j);
    double r = wedge_radius(d, j), x = d->x[j], y = d->y[j];
    double ax = x + r * cos(before), ay = y + r * sin(before);
    double bx = x + r * cos(after), by = y + r * sin(after);
    int sweep = after > before;
    markup(out, "<path class=\"wash\" d=\"M%n %nL%n %nA%n %n 0 0 %d %n %nZ\"/>",
           x, y, ax, ay, r, r, sweep, bx, by);
    markup(out, "<path class=\"arc\" d=\"M%n %nA%n %n 0 0 %d %n %n\"/>\n", ax,
           ay, r, r, sweep, bx, by);
    figure_line(out, x, y, x + (r + 5) * cos(before), y + (r + 5) * sin(before),
                "centre dashed");
    figure_line(out, x, y, x + (r + 5) * cos(after), y + (r + 5) * sin(after),
                "centre");
}

static void draw_ring(struct ht_text *out, const struct drawing *d, size_t j)
{
    char number[24];
    (void)snprintf(number, sizeof number, "%zu", j);
    markup(out, "<circle class=\"ring\" cx=\"%n\" cy=\"%n\" r=\"%n\"/>",
           d->x[j], d->y[j], d->ring);
    figure_text(out, d->x[j], d->y[j] + 4.3, "t12 m bold", number);
}

static void draw_chain(struct ht_text *out, const struct drawing *d)
{
    figure_line(out, d->x[1], d->y[1], d->width - 4, d->y[1], "dotted");
    draw_gearbox(out, d);
    draw_sections(out, d);
    draw_axle(out, d);
    for (size_t j = 1; j < d->view->members; j++)
        draw_wedge(out, d, j);
    for (size_t j = 1; j < d->view->members; j++)
        draw_ring(out, d, j);
    draw_labels(out, d);
}

static void say_view(struct ht_text *out, const struct drawing *d)
{
    ht_text_addf(out,
                 d->view->from_above ? FIGURE_PLAN_LABEL : FIGURE_SIDE_LABEL,
                 (int)d->times);
    for (size_t j = 1; j < d->view->members; j++) {
        next_sentence(out);
        ht_text_addf(out, FIGURE_JOINT_BENDS, j,
                     shown_degrees(d->view->angle_rad[j - 1], 2).text);
    }
}

/* Extent in height of metal and labels; returns the height, moves the chain
 * down so that it starts at 0. */
static double fit_height(struct drawing *d)
{
    double top = INFINITY, bottom = -INFINITY;
    for (size_t i = 0; i < d->nodes; i++) {
        top = fmin(top, d->y[i] - 24);
        bottom = fmax(bottom, d->y[i] + 24);
    }
    for (size_t j = 1; j < d->view->members; j++)
        for (size_t i = j - 1; i <= j; i++) {
            top = fmin(top, wedge_y(d, j, i) - 3);
            bottom = fmax(bottom, wedge_y(d, j, i) + 3);
        }
    for (size_t i = 0; i < d->labels; i++) {
        top = fmin(top, d->label[i].y - 13);
        bottom = fmax(bottom, d->label[i].y + 5);
    }
    for (size_t i = 0; i < d->nodes; i++)
        d->y[i] -= top;
    for (size_t i = 0; i < d->labels; i++) {
        d->label[i].y -= top;
        d->label[i].to_y -= top;
    }
    return bottom - top;
}

void draw_side_view(struct ht_text *out, const struct side_view *view,
                    double width)
{
    bool wide = width > FIGURE_NARROW, crowded = view->members > 5;
    struct drawing d = { .out = out, .view = view, .width = width,
                         .times = side_view_times(view),
                         .ring = wide ? 13 : 9.5, .tube = wide ? 14 : 11,
                         .end_length = wide ? 66 : 46 };
    if (crowded) {
        d.ring = 8.5;
        d.end_length = wide ? 50 : 34;
        d.tube = 8;
    }
    place_nodes(&d);
    place_labels(&d);
    double height = fit_height(&d) + 22;
    struct ht_text label = { 0 };
    say_view(&label, &d);
    figure_open(out, width, height, wide ? "wide" : "narrow",
                ht_text_get(&label));
    ht_text_end(out, &label);
    draw_chain(out, &d);
    markup(out, "<path class=\"arrow\" d=\"M36 %nH6M6 %nl7 -4v8z\"/>",
           height - 7, height - 7);
    figure_text(out, 42, height - 3, "t12 dim", FIGURE_FRONT);
    figure_close(out);
}
