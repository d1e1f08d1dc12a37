/* effects.h - what a driveline's angles do: one turn of every member, couples
 * and support forces, shake over road speed, critical speeds, clocking.
 *
 * Pure: no allocation, no I/O, no globals; safe from any thread. Radians, SI.
 * Members, sections and joints count from 0, front to rear, whichever end
 * drives; a section is a member between two joints. Formulae, sources,
 * accuracy: docs/effects.md.
 */
#ifndef HALFTURN_EFFECTS_H
#define HALFTURN_EFFECTS_H

#include "halfturn/angles.h"
#include "halfturn/joint.h"

enum { HT_TURN_STEPS = 180, HT_ROAD_MAX = 60, HT_SUPPORTS_MAX = 8,
       HT_LIMIT_SPEEDS_MAX = 48 };

/* ---- one turn ---------------------------------------------------------- */

/* One member while the driving end turns once, evenly: value k belongs to the
 * input rotation 2 pi k / HT_TURN_STEPS. */
struct ht_turn_curve {
    double error_rad[HT_TURN_STEPS];    /* its rotation less the driving end's,
                                           mean 0 */
    double ratio[HT_TURN_STEPS];        /* its speed over the driving end's */
    double acceleration[HT_TURN_STEPS]; /* over the driving end's speed
                                           squared, [1] */
    double harmonic_rad[3];             /* of error_rad at 2x, 4x, 6x */
    double error_peak_rad, ratio_low, ratio_high, acceleration_peak;
};
struct ht_turn {
    size_t members;
    bool from_rear;                     /* which end turns evenly */
    struct ht_turn_curve member[HT_MEMBERS_MAX];
};
/* Exact, by the pins. Rotation 0: the driving end's pins point to the left, as
 * far as their plane across the shaft lets them. */
void ht_chain_turn(struct ht_turn *turn, const struct ht_chain *chain);

/* ---- double Cardan joint ----------------------------------------------- */

struct ht_double_joint {
    size_t joint;
    double bend_rad, front_rad, rear_rad; /* of the whole, of both halves */
    double second_rad;          /* amplitude left at 2x */
    double leftover_rad;        /* the single joint that leaves as much */
};
/* A centring ball that stands `error_m` beside the shaft's axis tilts the
 * coupling by error/cross_to_cross: one half bends more by it, the other
 * less. Taken as standing still in the joint's plane, which is the worst. */
struct ht_double_joint ht_double_joint(double bend_rad, double error_m,
                                       double cross_to_cross_m);

/* ---- planes and clocking ----------------------------------------------- */

enum ht_layout { HT_LAYOUT_STRAIGHT, HT_LAYOUT_PARALLEL,
                 HT_LAYOUT_INTERSECTING, HT_LAYOUT_SKEW };
struct ht_pair_layout {         /* two Cardan joints and the section between */
    size_t section;
    enum ht_layout layout;
    double planes_rad;          /* between the planes, 0 .. pi/2; NAN:
                                   straight, or headings not known */
    double front_rad, rear_rad; /* the bends */
};
struct ht_pair_layout ht_layout_of(const struct ht_chain *chain,
                                   size_t section);
const char *ht_layout_name(enum ht_layout layout); /* JSON */

/* Re-clocking one section, the others staying, or all of them together. */
struct ht_clocking {
    double yoke_rad[HT_MEMBERS_MAX];    /* best; in (-pi/2, pi/2] */
    long teeth[HT_MEMBERS_MAX];         /* spline teeth to move, + as yoke_rad
                                           grows; 0 without a spline */
    double second_rad, leftover_rad;    /* with it */
};
/* teeth 0: any angle. Angles within half a turn of each other do the same. */
struct ht_clocking ht_clock_section(const struct ht_chain *chain,
                                    size_t section, unsigned teeth);
struct ht_clocking ht_clock_all(const struct ht_chain *chain, unsigned teeth);

/* ---- couples and supports ---------------------------------------------- */

struct ht_swing {               /* of a vector in the vehicle's frame */
    double steady, twice, peak; /* twice: larger half axis of its 2x ellipse */
};
struct ht_bearings {            /* what holds a member; NAN: not known */
    double spacing_m, overhang_m; /* end member: between its bearings, joint
                                     centre to the nearer one */
    double centre_m;            /* section: front joint centre to its bearing */
};
struct ht_load {
    const struct ht_chain *chain;
    double torque_n_m;          /* steady, at the driving end */
    const double *length_m;     /* of each member between joint centres, by
                                   member; NAN not known */
    const struct ht_bearings *bearings; /* by member */
};
enum ht_support_place { HT_SUPPORT_FAR, HT_SUPPORT_NEAR, HT_SUPPORT_CENTRE };
struct ht_support {
    size_t member;
    enum ht_support_place place;/* far from and near the joint; on a section */
    struct ht_swing force_n;
    double bound_n;             /* of a centre bearing; NAN else */
};
struct ht_joint_load {
    struct ht_swing front_n_m, rear_n_m; /* couple on the member before and
                                            behind */
    double torque_swing;        /* largest share by which the torque into the
                                   joint leaves its mean */
};
struct ht_loads {
    size_t joints, supports;
    struct ht_joint_load joint[HT_JOINTS_MAX];
    struct ht_support support[HT_SUPPORTS_MAX + 2];
};
/* Loss-free, without the sections' inertia. Supports only where lengths and
 * bearings say enough: every section but one on a bearing of its own. */
void ht_loads_compute(struct ht_loads *loads, const struct ht_load *load);
/* Forces of the same supports, in the same order, at one input rotation:
 * vectors in the vehicle's axes. */
void ht_supports_at(double force_n[HT_SUPPORTS_MAX + 2][3],
                    const struct ht_load *load, double input_rad);
/* T (tan rear + sin front)/length: no force on a centre bearing is larger
 * while the section behind brings none. */
double ht_centre_bearing_bound(double torque_n_m, double front_rad,
                               double rear_rad, double length_m);

/* ---- speed ------------------------------------------------------------- */

/* Over road speed; entry i of each at speed_m_s[i]. rad/s^2, peak of the 2x
 * part. `low` and `high`: 95 % interval. */
struct ht_road_curve {
    double value[HT_ROAD_MAX], low[HT_ROAD_MAX], high[HT_ROAD_MAX];
};
struct ht_road {
    size_t points;
    double speed_m_s[HT_ROAD_MAX], shaft_rad_s[HT_ROAD_MAX];
    struct ht_road_curve axle, pulled, held, section; /* section: NAN with
                                           less than three joints */
};
/* From 20 km/h to the speed of `angles` in steps of 5 km/h, or more where
 * these are too many; the last point is that speed itself. */
void ht_road_fill(struct ht_road *road, const struct ht_angles *angles);

struct ht_limit_speed {
    size_t verdict;             /* of angles.verdict[] */
    double speed_m_s;           /* where the value meets the limit */
    double low_m_s, high_m_s;   /* 95 % interval; high may be INFINITY */
};

enum ht_whirl { HT_WHIRL_UNKNOWN, HT_WHIRL_CLEAR, HT_WHIRL_HALF,
                HT_WHIRL_NEAR };
struct ht_critical {
    size_t section;             /* a member */
    double critical_rad_s, half_rad_s;
    double critical_m_s, half_m_s; /* road speeds; NAN: not known */
    double share;               /* shaft speed at top speed over critical */
    enum ht_whirl whirl;        /* HALF: passes half-critical, within 8 %;
                                   NEAR: above 0.75 of critical */
    bool steel_taken;           /* material not stated */
};
const char *ht_whirl_name(enum ht_whirl whirl); /* JSON */
/* Young's modulus and density; false: no such material in the table. NULL is
 * steel. */
bool ht_tube_material(const char *name, double *young_pa,
                      double *density_kg_m3);

/* ---- a line ------------------------------------------------------------ */

struct ht_effects_options {
    double torque_n_m;          /* NAN: no couples */
    unsigned spline_teeth;      /* 0: not known */
    double centring_error_m, cross_to_cross_m; /* NAN: none, the default */
    struct ht_sheet_tube tube[HT_MEMBERS_MAX]; /* by member */
    struct ht_bearings bearings[HT_MEMBERS_MAX];
};
/* Nothing known. */
struct ht_effects_options ht_effects_blank(void);
/* From one driveline of the sheet and its vehicle. Texts stay the sheet's. */
struct ht_effects_options ht_effects_from_sheet(const struct ht_sheet *sheet,
                                                size_t driveline_index);

#define HT_CROSS_TO_CROSS_M 0.08 /* taken when not given; common practice, no
                                    source */

struct ht_effects {
    char member[HT_MEMBERS_MAX][48];
    struct ht_turn turn;        /* driven from its driving end */
    struct ht_turn turn_held;   /* from the other end: overrun */
    size_t doubles;
    struct ht_double_joint double_joint[HT_JOINTS_MAX];
    double centring_error_m, cross_to_cross_m; /* as used; NAN no such joint */
    bool cross_to_cross_taken;
    double leftover_most_rad;   /* with every centring error at its worst */
    size_t pairs;
    struct ht_pair_layout pair[HT_JOINTS_MAX];
    bool planes_known;          /* headings were read */
    size_t sections;            /* shafts between joints: members 1 .. */
    unsigned spline_teeth;
    double second_now_rad, leftover_now_rad; /* as read */
    struct ht_clocking clocking[HT_MEMBERS_MAX]; /* by member; sections only,
                                           and only with planes_known */
    struct ht_clocking together;
    double torque_n_m;          /* NAN: no loads */
    struct ht_loads loads;
    bool centre_taken;          /* centre bearings taken at the rear joints of
                                   their sections */
    struct ht_road road;
    size_t limit_speeds;
    struct ht_limit_speed limit_speed[HT_LIMIT_SPEEDS_MAX];
    size_t criticals;
    struct ht_critical critical[HT_MEMBERS_MAX];
};

/* About 100 kB: not for the stack. `angles` must be the result of the same
 * driveline. Cannot fail. */
void ht_effects_compute(struct ht_effects *effects,
                        const struct ht_driveline *driveline,
                        const struct ht_angles *angles,
                        const struct ht_effects_options *options);

#endif
