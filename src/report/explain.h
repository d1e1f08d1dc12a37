/* explain.h - the calculation of a driveline's angles, a line a step, each
 * from the numbers as they are printed above it. */
#ifndef HALFTURN_REPORT_EXPLAIN_H
#define HALFTURN_REPORT_EXPLAIN_H

#include "angles/model.h"

#include "halfturn/report.h"

/* Degrees of angles, and the parts of an arrow. */
enum { EXPLAIN_DEGREES = 4, EXPLAIN_PARTS = 9, EXPLAIN_RATE = 1,
       EXPLAIN_SPEED = 2 };
#define SQUARED "\302\262"

/* A result and its standard uncertainty, as printed. */
struct explained {
    double value, u;
};

struct explain_budget { /* degrees, as printed */
    double accuracy, shown, set_up, heading, zero, rest, step;
};

struct explain {
    struct ht_text *out;
    const struct ht_workup *workup;
    const struct ht_angles *angles;
    const struct ht_driveline *driveline;
    double shaft_turns; /* per wheel turn; NAN: not known */
    struct ht_model model;
    /* as printed */
    double slope[HT_MEMBERS_MAX], heading[HT_MEMBERS_MAX];
    double side[HT_JOINTS_MAX], plan[HT_JOINTS_MAX], bend[HT_JOINTS_MAX];
    double pythagoras[HT_JOINTS_MAX];
    double size[HT_JOINTS_MAX], x[HT_JOINTS_MAX], y[HT_JOINTS_MAX];
    double length, w_rad_s, reading_u[HT_MEMBERS_MAX];
    struct explained joint[HT_JOINTS_MAX], pair[HT_PAIRS_MAX];
    struct explained leftover, axle, pulled, held, section;
};

/* A line under way: the calculation, then its result. */
void explain_open(struct ht_text *line, const char *name, size_t number);
/* Appends the number and returns it as it stands there. */
double explain_number(struct ht_text *line, double value, int decimals);
/* The same without its sign. */
double explain_size(struct ht_text *line, double value, int decimals);
/* As a further term of a sum. */
double explain_next(struct ht_text *line, double value, int decimals,
                    bool first);
/* Taken off, in parentheses where it is below 0. */
double explain_less(struct ht_text *line, double value, int decimals);
/* An angle's square, which is returned. */
double explain_squared(struct ht_text *line, double value);
double explain_result(struct ht_text *line, double value, int decimals);
void explain_close(struct explain *explain, struct ht_text *line);
double explain_rounded(double value, int decimals);
/* A line that states a number. */
double explain_given(struct explain *explain, const char *name, size_t number,
                     double value, int decimals);

void explain_heading(struct explain *explain, const char *text);
void explain_sentence(struct explain *explain, const char *text);
/* A sentence made for the place; released. */
void explain_made(struct explain *explain, struct ht_text *text);

double in_degrees(double rad);

/* Step 1. */
void explain_slopes(struct explain *explain);

/* Sum of the parts of some joints' arrows; the length of an arrow. */
double explain_sum(struct explain *explain, const char *name,
                   const double *part, size_t from, size_t to);
double explain_length(struct explain *explain, double x, double y);

/* The joint, from 0, of a line with one Cardan joint; else how many joints. */
size_t explain_only_cardan(const struct explain *explain);

/* Steps 6 to 8. */
void explain_shake(struct explain *explain);
void explain_joints_sure(struct explain *explain,
                         const struct explain_budget *budget);
/* In step 7: uncertainty of a shake that one joint makes. */
void explain_shakes_sure(struct explain *explain);
void explain_sureness(struct explain *explain);
void explain_limits(struct explain *explain);

#endif
