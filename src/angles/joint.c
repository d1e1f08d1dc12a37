/* One Cardan joint: closed forms. */
#include "halfturn/joint.h"

#include "common/constants.h"

#include <math.h>

double ht_joint_driven_rad(double bend_rad, double driving_rad)
{
    double turns = round(driving_rad / (2 * HT_PI));
    double rest = driving_rad - turns * 2 * HT_PI;
    return turns * 2 * HT_PI + atan2(sin(rest), cos(rest) * cos(bend_rad));
}

/* 1 - sin^2(bend) cos^2(rotation): how far the pins clear the driven axis. */
static double clearance(double bend_rad, double driving_rad)
{
    double lean = sin(bend_rad) * cos(driving_rad);
    return 1 - lean * lean;
}

double ht_joint_ratio(double bend_rad, double driving_rad)
{
    return cos(bend_rad) / clearance(bend_rad, driving_rad);
}

double ht_joint_acceleration(double bend_rad, double driving_rad)
{
    double s = sin(bend_rad) * sin(bend_rad);
    double clear = clearance(bend_rad, driving_rad);
    return -cos(bend_rad) * s * sin(2 * driving_rad) / (clear * clear);
}

/* d/dphi of the acceleration is zero where cos(2 phi) solves
 * c^2 + G c - 2 = 0, G = (2 - s)/s. Written so that a small bend does not
 * cancel: c = 4 / (G + sqrt(G^2 + 8)). */
struct ht_joint_peak ht_joint_peak_acceleration(double bend_rad)
{
    double s = sin(bend_rad) * sin(bend_rad);
    if (!(s > 0))
        return (struct ht_joint_peak){ 0, HT_PI / 4 };
    double g = (2 - s) / s;
    double at = acos(4 / (g + sqrt(g * g + 8))) / 2;
    return (struct ht_joint_peak){ -ht_joint_acceleration(bend_rad, at), at };
}

double ht_joint_equal_speed_rad(double bend_rad)
{
    return atan(sqrt(cos(bend_rad)));
}

static double half_tangent_squared(double bend_rad)
{
    double t = tan(bend_rad / 2);
    return t * t;
}

double ht_joint_peak_error_rad(double bend_rad)
{
    return asin(half_tangent_squared(bend_rad));
}

double ht_joint_harmonic_rad(double bend_rad, unsigned n)
{
    return pow(half_tangent_squared(bend_rad), n) / n;
}

double ht_joint_unevenness(double bend_rad)
{
    return tan(bend_rad) * sin(bend_rad);
}

/* 1/c - c = U. sin^2 keeps the digits that acos loses near 1. */
double ht_joint_bend_of_unevenness(double unevenness)
{
    double c = (sqrt(unevenness * unevenness + 4) - unevenness) / 2;
    return atan2(sqrt(unevenness * c), c);
}

double ht_joint_bend_of_harmonic(double h2_rad)
{
    return 2 * atan(sqrt(h2_rad));
}

struct ht_joint_couples ht_joint_couples(double bend_rad, double torque_n_m)
{
    double driving = torque_n_m * tan(bend_rad);
    return (struct ht_joint_couples){ driving, torque_n_m * sin(bend_rad),
                                      driving / 2, driving / 2 };
}

double ht_critical_speed_rad_s(double length_m, double outer_m, double wall_m,
                               double young_pa, double density_kg_m3)
{
    double inner = outer_m - 2 * wall_m;
    if (!(length_m > 0 && wall_m > 0 && inner >= 0))
        return NAN;
    double gyration = sqrt(outer_m * outer_m + inner * inner) / 4;
    double bend = HT_PI / length_m;
    return bend * bend * gyration * sqrt(young_pa / density_kg_m3);
}
