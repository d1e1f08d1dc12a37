/* How neighbouring joints lie to each other, and a double Cardan joint. */
#include "line.h"

#include "halfturn/effects.h"

#include "common/constants.h"

/* Below this bend a joint has no plane to speak of; beyond this angle between
 * two planes the layout is called skew. Common practice, no source. */
static const double straight_rad = 0.25 * HT_RAD_PER_DEG;
static const double skew_rad = 10 * HT_RAD_PER_DEG;

static void direction_of(const struct ht_chain *chain, size_t member,
                         double d[3])
{
    ht_member_direction(chain->slope_rad[member], chain->heading_rad[member],
                        d);
}

/* The part of `other` that lies across `axis`. */
static void across(const double other[3], const double axis[3], double out[3])
{
    double along = ht_dot(other, axis);
    for (int i = 0; i < 3; i++)
        out[i] = other[i] - along * axis[i];
}

/* Both ways from the section: where the shaft before comes from and where the
 * shaft behind goes to. On one side of the section they intersect, on
 * opposite sides they run parallel when the bends are equal. */
struct ht_pair_layout ht_layout_of(const struct ht_chain *chain, size_t section)
{
    double before[3], axis[3], behind[3], front[3], rear[3];
    direction_of(chain, section - 1, before);
    direction_of(chain, section, axis);
    direction_of(chain, section + 1, behind);
    struct ht_pair_layout pair = { .section = section,
                                   .layout = HT_LAYOUT_STRAIGHT,
                                   .planes_rad = NAN,
                                   .front_rad = ht_angle_between(before, axis),
                                   .rear_rad = ht_angle_between(axis, behind) };
    if (pair.front_rad < straight_rad || pair.rear_rad < straight_rad)
        return pair;
    across(before, axis, front);
    across(behind, axis, rear);
    double between = ht_angle_between(front, rear);
    bool parallel = between < HT_PI / 2;
    between = parallel ? between : HT_PI - between;
    pair.planes_rad = between;
    pair.layout = between > skew_rad ? HT_LAYOUT_SKEW
                  : parallel         ? HT_LAYOUT_PARALLEL
                                     : HT_LAYOUT_INTERSECTING;
    return pair;
}

const char *ht_layout_name(enum ht_layout layout)
{
    static const char *const names[] = { "straight", "parallel", "intersecting",
                                         "skew" };
    return names[layout];
}

/* Shaft 1 runs along x through its cross at 0; the ball stands a = c/2 behind
 * it. The second cross lies a beyond the ball along shaft 2 and `error`
 * beside it; the coupling points from cross to cross. */
static double front_half(double bend_rad, double error_m, double half_m)
{
    double x = half_m + half_m * cos(bend_rad) - error_m * sin(bend_rad);
    double y = half_m * sin(bend_rad) + error_m * cos(bend_rad);
    return atan2(y, x);
}

struct ht_double_joint ht_double_joint(double bend_rad, double error_m,
                                       double cross_to_cross_m)
{
    double half = cross_to_cross_m / 2;
    struct ht_double_joint joint = { .bend_rad = bend_rad };
    joint.front_rad = front_half(bend_rad, error_m, half);
    joint.rear_rad = bend_rad - joint.front_rad;
    struct ht_chain chain = { .members = 3,
                              .slope_rad = { 0, joint.front_rad, bend_rad } };
    struct ht_chain_motion motion = ht_chain_exact(&chain);
    joint.second_rad = motion.harmonic_rad[0];
    joint.leftover_rad = motion.leftover_rad;
    return joint;
}
