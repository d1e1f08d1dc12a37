/* figure.h - the drawings of the report, one function each.
 *
 * Each takes plain data and a width in CSS pixels (328 or 560) and appends
 * one <svg> with real text, role="img" and a label that says the finding.
 * Colours are classes of page.css.
 */
#ifndef HALFTURN_REPORT_FIGURE_H
#define HALFTURN_REPORT_FIGURE_H

#include "judged.h"
#include "scale.h"
#include "sets.h"

#include "halfturn/status.h"
#include "halfturn/text.h"

enum { FIGURE_NARROW = 328, FIGURE_WIDE = 560 };

/* <svg ...> with size, role and label (marks dropped). */
void figure_open(struct ht_text *out, double width, double height,
                 const char *css_class, const char *label);
void figure_close(struct ht_text *out);
/* Text with its middle, start or end at x ("m", "s", "e") and more classes. */
void figure_text(struct ht_text *out, double x, double y, const char *classes,
                 const char *text);
void figure_line(struct ht_text *out, double x1, double y1, double x2,
                 double y2, const char *classes);
/* 45 degree hatching, 1.2 px lines every 4.5 px, held to the box. */
void figure_hatching(struct ht_text *out, double x, double y, double width,
                     double height);
/* A text in lines of 12 px within the width, from the top at y; returns their
 * height. */
double figure_paragraph(struct ht_text *out, double x, double y, double width,
                        const char *text);
/* A clean text, cut at a character's start to what the width holds. */
void figure_fit(char *buffer, size_t size, const char *text, double size_px,
                double width_px);
/* The sign before a verdict's word, its middle at x, y. */
void figure_disc(struct ht_text *out, double x, double y,
                 enum ht_verdict verdict);
/* What stands behind a value: "± 0.47", or "0.66–2.28" when the range is
 * lopsided. */
void figure_half_range(struct ht_text *out, const struct ht_estimate *e,
                       int decimals);

/* ---- side view ---------------------------------------------------------- */

struct side_view {
    size_t members;
    const char *name[HT_MEMBERS_MAX];
    double slope_rad[HT_MEMBERS_MAX];
    double length[HT_MEMBERS_MAX]; /* of sections, any unit; NAN: alike */
    double angle_rad[HT_JOINTS_MAX];
    bool from_above;            /* slopes are headings, + = to the left going
                                   rearward */
    bool from_rear;             /* driven at the rear: the axle is in front */
};
/* False when the slopes of all members are not known. */
bool side_view_from(struct side_view *view, const struct ht_workup *workup,
                    const struct shown_set *set);
/* How many times too large the angles are drawn. */
int side_view_times(const struct side_view *view);
void draw_side_view(struct ht_text *out, const struct side_view *view,
                    double width);

/* The same from above: headings; false when they are not all known or all
 * straight ahead. */
bool plan_view_from(struct side_view *view, const struct ht_workup *workup,
                    const struct shown_set *set);

/* ---- curves of the angles ------------------------------------------------ */

enum { CURVE_LINES_MAX = 4, CURVE_LIMITS_MAX = 2 };
struct figure_line_of {         /* one line of a curve; NAN: not drawn there */
    const char *classes, *name, *name_classes;
    const double *value;
    size_t points;
};
struct turn_figure {            /* degrees over one turn in degrees */
    const double *at_deg;
    size_t lines;               /* the first is the one that matters */
    struct figure_line_of line[CURVE_LINES_MAX];
    const char *label;          /* what it says, for who cannot see it */
};
void turn_scales(const struct turn_figure *figure, double width,
                 struct scale *turn, struct scale *error);
void draw_turn_curve(struct ht_text *out, const struct turn_figure *figure,
                     double width);

struct shake_figure {           /* rad/s^2 over road speed */
    size_t points;
    const double *speed_m_s, *low, *high; /* 95 % of the first line; or NULL */
    size_t lines;
    struct figure_line_of line[CURVE_LINES_MAX];
    size_t limits;
    struct {
        double value;
        const char *name;
    } limit[CURVE_LIMITS_MAX];
    double felt_from_m_s, felt_to_m_s; /* NAN: nobody complained */
    const char *label;
};
void shake_scales(const struct shake_figure *figure, double width,
                  struct scale *speed, struct scale *shake);
void draw_shake_curve(struct ht_text *out, const struct shake_figure *figure,
                      double width);

void draw_chance_bar(struct ht_text *out, double probability, double now,
                     const char *label);

/* ---- limit strips ------------------------------------------------------- */

struct strip {
    const char *title;          /* "Joint 1"; NULL: none above */
    struct ht_estimate value;   /* in the strip's unit */
    struct judged judged;       /* its limits in the strip's unit */
    enum ht_verdict verdict;
};
struct strips {
    size_t count;
    struct strip strip[HT_JOINTS_MAX];
    double top;                 /* end of the shared axis */
    char titles[HT_JOINTS_MAX][32];
};
void joint_strips_from(struct strips *strips, const struct ht_angles *angles);
void draw_joint_strips(struct ht_text *out, const struct strips *strips,
                       double width);
/* One strip over the whole width with ticks at 0, limit and end. */
void draw_long_strip(struct ht_text *out, const struct strip *strip,
                     double width, const char *label);

/* ---- order map ---------------------------------------------------------- */

enum { MAP_CLASSES = 9 };
/* Lower edge of class 1; each class doubles. */
double map_first_edge(const struct ht_orders *orders);
unsigned map_class(double level, double first_edge);
/* Where an order and a speed lie in the map of this width. */
void map_scales(const struct ht_workup *workup, double width,
                struct scale *order, struct scale *speed);
enum ht_status draw_order_map(struct ht_text *out,
                              const struct ht_workup *workup, double width,
                              struct ht_error *err);

/* ---- level against speed ------------------------------------------------ */

void curve_scales(const struct ht_workup *workup,
                  const struct ht_order_result *chosen, double width,
                  struct scale *speed, struct scale *level);
/* Whether the levels that drivers notice and complain of are shaded. */
bool curve_has_bands(const struct ht_orders *orders);
void draw_level_curve(struct ht_text *out, const struct ht_workup *workup,
                      const struct ht_order_result *chosen, double width);

/* ---- order rows --------------------------------------------------------- */

/* Block on the shared doubling axis; as wide as its place (percent). */
void draw_order_row(struct ht_text *out, const struct ht_orders *orders,
                    const struct ht_order_result *result, const char *family);

#endif
