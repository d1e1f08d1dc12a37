/* Members in drive order and the pins that pass through their joints. */
#include "line.h"

#include <assert.h>
#include <math.h>

bool ht_joint_is_cardan(enum ht_joint_kind kind)
{
    return kind == HT_JOINT_UNKNOWN || kind == HT_JOINT_CARDAN;
}

void ht_member_direction(double slope_rad, double heading_rad, double d[3])
{
    d[0] = -cos(slope_rad) * cos(heading_rad);
    d[1] = cos(slope_rad) * sin(heading_rad);
    d[2] = -sin(slope_rad);
}

double ht_angle_between(const double a[3], const double b[3])
{
    double c[3];
    ht_cross(a, b, c);
    return atan2(sqrt(ht_dot(c, c)), ht_dot(a, b));
}

double ht_working_angle_rad(double slope_a_rad, double heading_a_rad,
                            double slope_b_rad, double heading_b_rad)
{
    double a[3], b[3];
    ht_member_direction(slope_a_rad, heading_a_rad, a);
    ht_member_direction(slope_b_rad, heading_b_rad, b);
    return ht_angle_between(a, b);
}

/* Two directions across d: left (turned into the plane across d) and, a right
 * angle on about the rearward axis, down. */
void ht_frame_across(const double d[3], double left[3], double down[3])
{
    const double y[3] = { 0, 1, 0 };
    for (int i = 0; i < 3; i++)
        left[i] = y[i] - d[1] * d[i];
    ht_normalise(left);
    ht_cross(d, left, down);
}

void ht_line_from(const struct ht_chain *chain, struct ht_line *line)
{
    size_t n = line->members = chain->members;
    assert(n >= 2 && n <= HT_MEMBERS_MAX);
    for (size_t i = 0; i < n; i++) {
        size_t m = chain->from_rear ? n - 1 - i : i;
        double turn =
            chain->from_rear ? -chain->yoke_rad[m] : chain->yoke_rad[m];
        bool end = i == 0 || i == n - 1; /* one yoke only */
        line->turn_cos[i] = end ? 1 : cos(turn);
        line->turn_sin[i] = end ? 0 : sin(turn);
        ht_member_direction(chain->slope_rad[m], chain->heading_rad[m],
                            line->direction[i]);
        if (i + 1 < n)
            line->cardan[i] = ht_joint_is_cardan(
                chain->kind[chain->from_rear ? n - 2 - i : i]);
    }
    ht_frame_across(line->direction[0], line->left[0], line->down[0]);
    ht_frame_across(line->direction[n - 1], line->left[1], line->down[1]);
}
