/* chain.h - a chain in drive order, made ready for following its pins. */
#ifndef HALFTURN_ANGLES_CHAIN_H
#define HALFTURN_ANGLES_CHAIN_H

#include "halfturn/joint.h"

/* Unit vector of a member, pointing rearward; x forward, y left, z up. */
void ht_member_direction(double slope_rad, double heading_rad, double d[3]);
/* Angle between two unit vectors. */
double ht_angle_between(const double a[3], const double b[3]);

/* The chain's second harmonic from `steps` (8 or more) points of half a turn,
 * which is enough: every harmonic is even. Aliasing is of the order of
 * tan^2(bend/2) to the power steps - 1. */
struct ht_phasor ht_chain_second(const struct ht_chain *chain, size_t steps);

bool ht_joint_is_cardan(enum ht_joint_kind kind);

#endif
