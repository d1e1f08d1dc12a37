/* chain.h - a chain in drive order, made ready for following its pins. */
#ifndef HALFTURN_ANGLES_CHAIN_H
#define HALFTURN_ANGLES_CHAIN_H

#include "halfturn/joint.h"

/* Unit vector of a member, pointing rearward; x forward, y left, z up. */
void ht_member_direction(double slope_rad, double heading_rad, double d[3]);
/* Angle between two unit vectors. */
double ht_angle_between(const double a[3], const double b[3]);

enum { HT_CHAIN_POINTS = 8 };

/* The chain's second harmonic from eight points of half a turn, which is
 * enough: every harmonic is even. Aliasing: the 14x and 18x harmonics, of the
 * order of tan^14(bend/2). */
struct ht_phasor ht_chain_second(const struct ht_chain *chain);

/* Working angles, and by the closed form the second harmonic of the whole line
 * and of its worst section, in one go. */
struct ht_chain_figures {
    double bend_rad[HT_JOINTS_MAX], h2_rad, section_rad;
};
void ht_chain_figures(const struct ht_chain *chain,
                      struct ht_chain_figures *figures);

bool ht_joint_is_cardan(enum ht_joint_kind kind);

#endif
