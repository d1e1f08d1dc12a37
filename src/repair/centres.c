/* Where the joint centres go when something is put under them: rigid bodies
 * and fixed supports, in three dimensions. */
#include "centres.h"

#include "angles/chain.h"

#include <math.h>

/* Road vehicles with a propeller shaft: common practice, no source. */
struct length_range ht_length_range(size_t length)
{
    static const struct length_range shaft = { 0.9, 1.6 };
    static const struct length_range others[] = {
        { 0.20, 0.35 }, { 0.7, 1.1 }, { 0.15, 0.40 }, { 0, 0.15 }
    };
    return length < HT_MEMBERS_MAX ? shaft : others[length - HT_MEMBERS_MAX];
}

struct supported ht_centres_supported(const struct ht_joint_centres *centres)
{
    size_t n = centres->line.members;
    if (n < 4)
        return (struct supported){ 1, 1 };
    return centres->axle_in_front ? (struct supported){ 2, n - 1 }
                                  : (struct supported){ 1, n - 2 };
}

static double length_m(const struct ht_joint_centres *centres, size_t length)
{
    struct length_range range = ht_length_range(length);
    double value = centres->length_m[length];
    return isnan(value) ? (range.low_m + range.high_m) / 2 : value;
}

/* What is done to a line, gathered by member. */
struct done {
    double gearbox_turn_rad, axle_turn_rad; /* onto their slopes */
    double lift_m[HT_MEMBERS_MAX];          /* of a shaft's support */
};

static struct done gather(struct ht_chain *moved,
                          const struct ht_joint_centres *centres,
                          const struct ht_shim_work *work, size_t works)
{
    struct done done = { 0 };
    for (size_t i = 0; i < works; i++)
        switch (work[i].place) {
        case HT_SHIM_AXLE:
            done.axle_turn_rad += work[i].turn_rad;
            break;
        case HT_SHIM_GEARBOX: /* it turns about the engine's mounts */
            done.gearbox_turn_rad -=
                atan2(work[i].lift_m,
                      length_m(centres, HT_LENGTH_MOUNT_SPACING));
            break;
        case HT_SHIM_SUPPORT:
            done.lift_m[work[i].member] += work[i].lift_m;
            break;
        case HT_SHIM_SPLINE:
            moved->yoke_rad[work[i].member] += work[i].turn_rad;
            break;
        case HT_SHIM_NOWHERE:
            break;
        }
    return done;
}

/* Turns an end member; `joint` gets how far its joint goes, which lies
 * `arm_m` behind the axis it turns about (ahead of it when below 0). */
static void turn_end(struct ht_chain *moved, const struct ht_centres_start *at,
                     size_t member, double turn_rad, double arm_m,
                     double joint[3])
{
    double after[3];
    moved->slope_rad[member] += turn_rad;
    if (turn_rad == 0) {
        joint[0] = joint[1] = joint[2] = 0;
        return;
    }
    ht_member_direction(moved->slope_rad[member], moved->heading_rad[member],
                        after);
    for (int i = 0; i < 3; i++)
        joint[i] = arm_m * (after[i] - at->direction[member][i]);
}

/* A shaft from a joint that went by `near` to a point `reach_m` on that went
 * by `far`; `near` then is how far its other joint goes, `length` on. `way` is
 * 1 where that is rearward, else -1. */
static void turn_shaft(struct ht_chain *moved,
                       const struct ht_centres_start *at, size_t member,
                       double way, double length, double reach_m,
                       double near[3], const double far[3])
{
    const double *before = at->direction[member];
    double after[3], size = 0;
    for (int i = 0; i < 3; i++) {
        after[i] = before[i] + way * (far[i] - near[i]) / reach_m;
        size += after[i] * after[i];
    }
    for (int i = 0; i < 3; i++) {
        after[i] /= sqrt(size);
        near[i] += way * length * (after[i] - before[i]);
    }
    moved->slope_rad[member] = asin(-after[2]);
    moved->heading_rad[member] = atan2(after[1], -after[0]);
}

void ht_centres_begin(struct ht_centres_start *start,
                      const struct ht_joint_centres *centres)
{
    start->centres = centres;
    for (size_t m = 0; m < centres->line.members; m++)
        ht_member_direction(centres->line.slope_rad[m],
                            centres->line.heading_rad[m],
                            start->direction[m]);
}

void ht_centres_move_from(struct ht_chain *moved,
                          const struct ht_centres_start *start,
                          const struct ht_shim_work *work, size_t works)
{
    const struct ht_joint_centres *centres = start->centres;
    size_t n = centres->line.members;
    bool front = centres->axle_in_front;
    size_t axle = front ? 0 : n - 1, member = front ? n - 1 : 0;
    double way = front ? -1 : 1, near[3], at_axle[3];
    *moved = centres->line;
    struct done done = gather(moved, centres, work, works);
    turn_end(moved, start, member, done.gearbox_turn_rad,
             length_m(centres, HT_LENGTH_MOUNT_SPACING) +
                 length_m(centres, HT_LENGTH_MOUNT_TO_JOINT),
             near);
    turn_end(moved, start, axle, done.axle_turn_rad,
             -way * length_m(centres, HT_LENGTH_JOINT_TO_AXLE), at_axle);
    for (size_t left = n > 2 ? n - 2 : 0; left > 0; left--) {
        member = front ? member - 1 : member + 1;
        double length = length_m(centres, member), reach = length;
        const double up[3] = { 0, 0, done.lift_m[member] };
        if (left > 1)
            reach -= length_m(centres, HT_LENGTH_SUPPORT_TO_JOINT);
        turn_shaft(moved, start, member, way, length, reach, near,
                   left > 1 ? up : at_axle);
    }
}

void ht_centres_move(struct ht_chain *moved,
                     const struct ht_joint_centres *centres,
                     const struct ht_shim_work *work, size_t works)
{
    struct ht_centres_start start = { 0 };
    ht_centres_begin(&start, centres);
    ht_centres_move_from(moved, &start, work, works);
}
