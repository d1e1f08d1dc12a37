/* reading.h - from what the gauge showed to slopes with their uncertainty.
 * JCGM 100:2008; the split of the budget is in docs/angles.md. */
#ifndef HALFTURN_ANGLES_READING_H
#define HALFTURN_ANGLES_READING_H

#include "halfturn/angles.h"

/* The stated defaults. */
#define HT_ACCURACY_DEG 0.2
#define HT_STEP_DEG 0.1
#define HT_SET_UP_DEG 0.4
#define HT_ZERO_SHARE 0.5
#define HT_HEADING_U_DEG 0.1
#define HT_OFFSET_U_MM 1.25 /* two of them over a metre: 0.1 degrees */
/* How far off the shaft's line a gauge is laid by eye, and what dirt and burrs
 * leave on a cap: common practice, no source. */
#define HT_ALONG_DEG 5
#define HT_BURR_DEG 0.05

/* A gauge with every figure filled in. */
struct ht_gauge ht_gauge_filled(struct ht_gauge gauge);

struct ht_reading {
    double value_rad;   /* slope, or signed joint difference */
    double zero;        /* how the gauge's zero error enters: 1, 0, -1 */
    double own_u_rad;   /* gauge step, placing, surface, rest of accuracy */
    double scatter_rad; /* standard deviation of the repeats; 0: one only */
    size_t repeats;
};

struct ht_reading ht_reading_of_slope(const struct ht_sheet_slope *slope,
                                      struct ht_gauge gauge,
                                      enum ht_surface read_on);
struct ht_reading ht_reading_of_joint(double joint_rad, struct ht_gauge gauge,
                                      enum ht_surface read_on);

/* Set-up of a cap whose yoke was set by laying the gauge crosswise: what is
 * left of the yoke's lean times how far off the shaft's line the gauge lies
 * (docs/angles.md). */
double ht_crosswise_set_up_rad(double crosswise_rad, double slope_rad,
                               struct ht_gauge gauge);
/* Of one member: its own figure, what crosswise showed, or the gauge's. */
double ht_slope_set_up_rad(const struct ht_sheet_slope *slope,
                           double slope_rad, struct ht_gauge gauge);
/* One look at one placing, without the common zero error. */
double ht_look_u_rad(const struct ht_sheet_slope *slope, double slope_rad,
                     struct ht_gauge gauge, enum ht_surface read_on);
bool ht_slope_turned(const struct ht_sheet_slope *slope);

double ht_surface_u_rad(enum ht_surface surface);
/* Standard uncertainty of the gauge's common zero error. */
double ht_zero_u_rad(struct ht_gauge gauge);
/* Of the mean: own part and scatter. Without the common zero error. */
double ht_reading_u_rad(const struct ht_reading *reading);
/* Welch and Satterthwaite, JCGM 100 G.4; INFINITY with one reading. */
double ht_reading_dof(const struct ht_reading *reading);

#endif
