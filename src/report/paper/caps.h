/* caps.h - what of a driveline stands on a measuring sheet, and which cap is
 * read when.
 *
 * Pure. A cap is read when it faces down: its pin stands upright then, and the
 * face lies along the shaft. The pins of a Cardan joint stand a quarter turn
 * apart, so where the yokes of a section are in line every other member's cap
 * faces down; a quarter turn brings the rest.
 */
#ifndef HALFTURN_REPORT_CAPS_H
#define HALFTURN_REPORT_CAPS_H

#include "halfturn/angles.h"
#include "halfturn/rotation.h"

enum cap_turn {
    CAP_FIRST,   /* with the shaft as it stands */
    CAP_QUARTER, /* a quarter shaft turn on */
    CAP_OWN,     /* in a place of its own: clocked yokes, or beyond a joint
                    that has no pins to count from */
    CAP_NONE,    /* no cap beside this member: a machined face, any place */
    CAP_TURNS
};

/* A driveline as far as the sheet knows it. */
struct blank_line {
    const char *name;                       /* NULL: not named */
    bool made_up;                           /* none in the sheet */
    bool from_rear;                         /* driven at the rear: the axle is
                                               in front */
    size_t members;                         /* 2 to HT_MEMBERS_MAX */
    const char *member[HT_MEMBERS_MAX];     /* NULL: not named */
    enum ht_joint_kind kind[HT_JOINTS_MAX]; /* UNKNOWN: to be asked */
    double yoke_rad[HT_MEMBERS_MAX];        /* NAN: to be asked */
    double length_m[HT_MEMBERS_MAX];        /* of sections; NAN unknown */
    double quarter_m;                       /* the way the vehicle rolls while
                                               the shaft makes a quarter turn;
                                               NAN unknown */
};

/* The driveline of that index, or a general one of three joints where the
 * sheet (which may be NULL) has none. */
void blank_line_from(struct blank_line *line, const struct ht_sheet *sheet,
                     size_t index, const struct ht_rotation *rotation);

struct cap {
    size_t member;
    enum cap_turn turn;
    bool rear;       /* at the member's rear end, else at its front end */
    double at_rad;   /* how the cap stands when the first ones face down, in
                        [0, pi); NAN with CAP_NONE or beyond a joint without
                        pins */
};

/* One cap a member, in the order in which they are read. */
struct cap_plan {
    size_t caps;
    struct cap cap[HT_MEMBERS_MAX];
};
void cap_plan_from(struct cap_plan *plan, const struct blank_line *line);

/* Whether a section has yokes at both ends whose clocking nobody said. */
bool clocking_is_asked(const struct blank_line *line, size_t section);
bool has_two_yokes(const struct blank_line *line, size_t section);
/* Of any of them. */
bool any_clocking_is_asked(const struct blank_line *line);

/* How the yoke at that end of a member stands, as `at_rad`. */
double yoke_at_rad(const struct blank_line *line, size_t member, bool rear);

#endif
