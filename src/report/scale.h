/* scale.h - from values to pixels, ticks, and labels that do not collide. */
#ifndef HALFTURN_REPORT_SCALE_H
#define HALFTURN_REPORT_SCALE_H

#include <stddef.h>

struct scale { /* value `from` lies at pixel `start`, `to` at `end` */
    double from, to, start, end;
};
double scale_px(const struct scale *scale, double value);
/* As above, held between start and end. */
double scale_held_px(const struct scale *scale, double value);

/* A step of 1, 2 or 5 times a power of ten that cuts `span` into at most
 * `most` pieces. */
double tick_step(double span, int most);
/* The smallest multiple of the step that is >= value. */
double tick_first(double value, double step);
/* Decimals that a tick of this step needs. */
int tick_decimals(double step);

/* Width of a text in DejaVu Sans, the widest font the page may meet. */
double text_width_px(const char *text, double size_px);

/* Moves sorted middles apart so that neighbours are `gap` apart and all stay
 * in low..high where there is room. */
void spread_labels(double *middle, size_t count, double gap, double low,
                   double high);

#endif
