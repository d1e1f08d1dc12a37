/* repair.h - which shims put the joint angles right.
 *
 * Every combination of the sizes on the shelf is tried on the joint centres of
 * one driveline; the few that are worth their work are followed through what
 * the readings leave possible. Pure. Formulae, sources and what is taken for a
 * length that is not known: docs/shims.md.
 */
#ifndef HALFTURN_REPAIR_H
#define HALFTURN_REPAIR_H

#include "halfturn/angles.h"
#include "halfturn/joint.h"
#include "halfturn/sheet.h"
#include "halfturn/status.h"

enum { HT_SHIM_PLACES_MAX = 6, HT_SHIM_PLANS_MAX = 6, HT_SHIM_LINES_MAX = 40 };

/* What is done at one place; the other figures are 0. */
struct ht_shim_work {
    enum ht_shim_place place;
    size_t member;               /* SUPPORT, SPLINE: that shaft; from 0 */
    double turn_rad;             /* AXLE: onto its slope, + = its front end
                                    goes up; SPLINE: onto its clocking */
    double lift_m;               /* SUPPORT, GEARBOX: + = up */
    double plate_m[2];           /* of which lift_m is made; 0: none */
    int teeth;                   /* SPLINE: of which turn_rad is made */
    bool turned;                 /* what is in there already, put the other way
                                    round: half of turn_rad or lift_m */
};

/* A limit that is to be kept, and where a plan comes to lie against it. */
struct ht_shim_limit {
    char what[96];               /* as in a verdict */
    enum ht_rule_about about;
    size_t joint;                /* JOINT: which one, from 0 */
    bool is_minimum;
    double limit;                /* rad, or rad/s2 */
};
struct ht_shim_held {
    struct ht_estimate value;    /* in the limit's unit */
    double probability;          /* that it is kept */
};

struct ht_shim_plan {
    size_t works;                /* 0: as it stands */
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    size_t members;
    struct ht_estimate slope_rad[HT_MEMBERS_MAX]; /* the readings to expect,
                                                     but for the gauge */
    struct ht_estimate joint_rad[HT_JOINTS_MAX];
    struct ht_estimate leftover_rad;
    double probability;          /* that every limit is kept */
    char weakest[96];            /* the limit that is the likeliest to fail */
    double weakest_probability;  /* that this one is kept */
    struct ht_shim_held held[HT_RULES_MAX]; /* by limit of the struct below */
    double minutes;              /* of work */
};

struct ht_shims {
    size_t refusals;             /* put right first; then no plan is made */
    char refusal[HT_SHIM_LINES_MAX][200];
    size_t notes;                /* taken, left out, cautions of a place */
    char note[HT_SHIM_LINES_MAX][200];
    char driveline[64];          /* its name; empty: it has none */
    size_t members;
    char member[HT_MEMBERS_MAX][64]; /* names; empty: it has none */
    char limits[32];             /* id of the set that is to be kept */
    size_t limit_count;
    struct ht_shim_limit limit[HT_RULES_MAX];
    size_t combinations;         /* that were tried */
    struct ht_shim_plan as_it_stands;
    bool needs_nothing;          /* it has 0.95 or more: no plans are made */
    size_t plans;                /* what is only turned round, then least work
                                    first; each likelier than those before */
    struct ht_shim_plan plan[HT_SHIM_PLANS_MAX];
    size_t advised;              /* the first that is likely enough, else the
                                    likeliest; meaningless without plans */
    bool enough;                 /* the advised one has 0.95 or more */
};

struct ht_shims_input {
    const struct ht_sheet *sheet;
    size_t driveline_index, set_index;
    const struct ht_limits *limits;
    const struct ht_limit_set *own; /* the vehicle maker's figures, or NULL */
    double shaft_rad_s;             /* NAN: shakes are not held to a limit */
    bool (*progress)(void *context, double share); /* of the search; false: no
                                       more of it, HT_STOPPED. NULL: none */
    void *context;
    bool after_fitted;              /* the readings are those after `fitted` */
    const struct ht_shim_work *reversed; /* of what was fitted: what is in the
                                       other way round; NULL: nothing */
};

/* A plan, or why there is none. Fails for want of memory, and for readings
 * that ht_angles_compute would refuse. */
enum ht_status ht_shims_plan(struct ht_shims *shims,
                             const struct ht_shims_input *input,
                             struct ht_error *err);

/* Lengths of a line: joint to joint of shaft m under m, then these. */
enum ht_length {
    HT_LENGTH_JOINT_TO_AXLE = HT_MEMBERS_MAX, /* the axle's joint to the
                                       wheels' axis, along the pinion */
    HT_LENGTH_MOUNT_SPACING,        /* gearbox mount to engine mounts */
    HT_LENGTH_MOUNT_TO_JOINT,       /* gearbox mount to first joint */
    HT_LENGTH_SUPPORT_TO_JOINT,     /* centre support to the joint next to it,
                                       on the axle's side */
    HT_LENGTHS
};

/* A line of joint centres. NAN: a length that is not known; the middle of what
 * it may be is taken. */
struct ht_joint_centres {
    struct ht_chain line;
    bool axle_in_front;             /* the axle is the first member */
    double length_m[HT_LENGTHS];
};

/* What the line becomes when this is done to it. */
void ht_centres_move(struct ht_chain *moved,
                     const struct ht_joint_centres *centres,
                     const struct ht_shim_work *work, size_t works);

/* ---- after the repair -------------------------------------------------- */

struct ht_shim_reading {
    double predicted_rad, measured_rad;
    double u_rad;                   /* of the difference */
    bool as_predicted;              /* within 95 % */
};
struct ht_shims_after {
    bool said;                      /* the sheet says what was put in; */
    bool guessed;                   /* or these works are a guess: what of the
                                       shelf the readings fit best */
    size_t works;
    struct ht_shim_work work[HT_SHIM_PLACES_MAX];
    double kept_before, kept_after; /* how likely every limit is kept; NAN:
                                       no limits, or not read at ride height */
    bool compared;                  /* false: no slope of each member was read
                                       both times, and nothing follows */
    size_t members;
    struct ht_shim_reading reading[HT_MEMBERS_MAX];
    bool all_as_predicted;          /* as before, when there are no works */
    bool fits_reversed;             /* if not: they all do when one of the
                                       works is taken the other way round */
    size_t reversed;                /* which one */
};
/* Readings of input->set_index before, of `after_index` after what the sheet
 * lists under `fitted`; where it lists nothing, what it may have been. Both
 * gauges are taken as independent: a zero error that both share makes the test
 * milder than it need be. Fails like ht_shims_plan, for works at places that
 * the line does not have and, with works, for other members than before. */
enum ht_status ht_shims_compare(struct ht_shims_after *after,
                                const struct ht_shims_input *input,
                                size_t after_index, struct ht_error *err);

#endif
