/* angles.h - from gauge readings to working angles, what they do, verdicts.
 *
 * Pure but for ht_limits_read. Radians, SI. Axes as ISO 8855; slope positive
 * when a member's rear end is lower, heading positive when it runs to the
 * left going rearward; members front to rear. Formulae, sources, accuracy:
 * docs/angles.md.
 */
#ifndef HALFTURN_ANGLES_H
#define HALFTURN_ANGLES_H

#include "halfturn/sheet.h"
#include "halfturn/status.h"

enum { HT_MEMBERS_MAX = 9, HT_JOINTS_MAX = 8, HT_REPEATS_MAX = 20,
       HT_VERDICTS_MAX = 256 };

/* NAN anywhere: the stated default. */
struct ht_gauge {
    double accuracy_rad; /* the maker's +/- figure */
    double step_rad;     /* smallest step shown */
    double set_up_rad;   /* standard uncertainty of one placing */
    double zero_share;   /* share of the accuracy's variance that is one zero
                            error, common to all readings; 0..1 */
};

/* The readings of one driveline, as taken. */
struct ht_driveline {
    size_t members;                 /* 2..9; joints = members - 1 */
    const char *member[HT_MEMBERS_MAX]; /* names; NULL: "member 1".. */
    struct ht_sheet_slope slope[HT_MEMBERS_MAX]; /* ignored if by_joint */
    double heading_rad[HT_MEMBERS_MAX]; /* NAN: unknown */
    double heading_u_rad;           /* standard uncertainty; NAN: default */
    bool drawing;                   /* slopes are those of a drawing's side
                                       view, not inclinations */
    double offset_m[HT_JOINTS_MAX]; /* joint centres across, + = left; NAN:
                                       unknown. Known, they give the shafts'
                                       headings; an end member's heading that
                                       is NAN is then straight ahead */
    double joint_to_joint_m[HT_MEMBERS_MAX]; /* length of section m; NAN */
    bool by_joint;                  /* only side-view differences are known */
    double joint_rad[HT_JOINTS_MAX];/* signed, rear minus front */
    enum ht_joint_kind kind[HT_JOINTS_MAX]; /* UNKNOWN: Cardan */
    double yoke_rad[HT_MEMBERS_MAX];/* clocking of section m (rear yoke against
                                       front yoke); 0 in line */
    enum ht_suspension suspension;
    enum ht_surface read_on;
    struct ht_gauge gauge;
    enum ht_end driven_from;        /* UNKNOWN: front */
};

/* A driveline of which nothing is known: NAN and UNKNOWN throughout. Start
 * from this one, as a zeroed struct claims a perfect gauge. */
struct ht_driveline ht_driveline_blank(void);

/* Takes one driveline and one set of readings of the sheet; member names and
 * repeats stay the sheet's memory, which must outlive *driveline. An index
 * beyond the sheet's lists means that it says nothing. HT_BAD_FILE, with a
 * sentence, when the lists do not fit together. */
enum ht_status ht_driveline_from_sheet(struct ht_driveline *driveline,
                                       const struct ht_sheet *sheet,
                                       size_t driveline_index,
                                       size_t set_index,
                                       struct ht_error *err);

enum ht_verdict { /* JSON over, under, within, cannot_be_decided */
    HT_VERDICT_NONE, HT_VERDICT_OVER, HT_VERDICT_UNDER, HT_VERDICT_WITHIN,
    HT_VERDICT_OPEN
};

/* A value with its standard uncertainty and 95 % interval. */
struct ht_estimate {
    double value, u, low, high;
};

struct ht_joint_angle {
    char between[96];               /* "gearbox / front shaft" */
    struct ht_estimate angle_rad;
    double plane_rad;               /* direction of the bend about the axis;
                                       NAN side view only */
    enum ht_joint_kind kind;
};

/* What a figure of a limit set is held against. */
enum ht_rule_about {
    HT_RULE_JOINT, HT_RULE_PAIR, HT_RULE_LEFTOVER, HT_RULE_AXLE,
    HT_RULE_PULLED, HT_RULE_HELD, HT_RULE_SECTION
};

struct ht_limit_verdict {
    char what[96];                  /* "joint 2", "joints 1 and 2 differ",
                                       "shake passed to the axle" */
    size_t joint;                   /* 1..; 0: not about one joint */
    enum ht_rule_about about;
    size_t index;                   /* of the joint or pair, from 0 */
    bool is_minimum;
    double value, u, limit;         /* same unit */
    double low, high;               /* 95 % interval of the value */
    const char *unit;               /* "rad" or "rad/s2" */
    char source[200];               /* set name: published figure, year */
    char set[32];                   /* limit set id */
    double probability_over;        /* for a minimum: of lying below it */
    enum ht_verdict verdict;
    char way_out[160];              /* what would decide an open one */
};

struct ht_accelerations {           /* peak, rad/s^2, at shaft speed */
    struct ht_estimate axle, pulled, held;
    double shaft_rad_s;             /* NAN: speed or ratio unknown */
    double speed_m_s;
};

struct ht_chain_part { /* Cardan joints between two closing joints */
    size_t first_joint, joints;
};

struct ht_angles {
    bool side_view_only;            /* true angle is at least this */
    bool verdict_allowed;           /* suspension known and not hanging */
    size_t joints;
    struct ht_joint_angle joint[HT_JOINTS_MAX];
    struct ht_estimate leftover_rad; /* value is the median; of a single
                                       Cardan joint its own angle */
    bool leftover_is_zero;          /* not distinguishable with this gauge */
    double leftover_read_rad;       /* of the readings as they stand */
    double leftover_closed_form_rad; /* check of the exact chain */
    double harmonic_rad[3];         /* 2x, 4x, 6x amplitude of output minus
                                       input angle */
    double speed_ripple;            /* peak of (w_out/w_in - 1), [1] */
    struct ht_accelerations accelerations;
    struct ht_estimate section_rad_s2; /* shake of the worst shaft section,
                                       either end turning evenly; NAN with
                                       less than three joints */
    size_t verdicts;
    struct ht_limit_verdict verdict[HT_VERDICTS_MAX];
    size_t doubts;
    char doubt[16][240];            /* readings to look at again, and why */
    size_t notes;
    char note[20][200];             /* assumptions said aloud */
};

struct ht_limit_set {
    char id[32], title[96], source[200];
    double joint_max_rad, joint_min_rad, difference_max_rad;
    double axle_rad_s2, shaft_rad_s2; /* NAN: the set does not say */
    double leftover_max_rad;
    double double_joint_max_rad;    /* of a double Cardan joint */
    double odd_max_rad;             /* of the odd joint beside the pairs */
    double alone_max_rad;           /* of a single Cardan joint */
    char acceleration_source[96];
};
struct ht_limits {
    struct ht_limit_set set[24];
    size_t sets;
};

/* Reads a limits file; path NULL: the copy built into the library. */
enum ht_status ht_limits_read(struct ht_limits *limits, const char *path,
                              struct ht_error *err);

/* The set of that name; HT_BAD_FILE, with the nearest name and all of them in
 * the sentence, when there is none. */
enum ht_status ht_limits_find(const struct ht_limit_set **found,
                              const struct ht_limits *limits, const char *id,
                              struct ht_error *err);

/* One figure of a limit set, held against one thing about a driveline. */
enum { HT_RULES_MAX = 48 };
struct ht_rule {
    char what[96];                  /* as in a verdict */
    enum ht_rule_about about;
    size_t index;                   /* of the joint or pair, from 0 */
    size_t first, second;           /* joints, from 0; a pair has both */
    bool is_minimum;
    double limit;                   /* as the set gives it: rad or rad/s2 */
    double held_to;                 /* the same in the terms of
                                       ht_rules_values */
    const struct ht_limit_set *set; /* whose figure it is */
};
struct ht_rules {
    struct ht_rule rule[HT_RULES_MAX];
    size_t rules;
};

struct ht_angles_options {
    const struct ht_limits *limits;
    const char *limit_set;          /* NULL: all sets are judged */
    const struct ht_limit_set *own; /* figures given by the vehicle maker;
                                       override the named set; may be NULL */
    double shaft_rad_s, speed_m_s;  /* for the accelerations; NAN unknown */
};

/* Works out everything above. Fails (HT_BAD_FILE) only for input that makes
 * no sense, with a sentence. */
enum ht_status ht_angles_compute(struct ht_angles *result,
                                 const struct ht_driveline *driveline,
                                 const struct ht_angles_options *options,
                                 struct ht_error *err);

#endif
