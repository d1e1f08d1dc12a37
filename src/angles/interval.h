/* interval.h - how large a quantity in a plane is, with its 95 % interval. */
#ifndef HALFTURN_ANGLES_INTERVAL_H
#define HALFTURN_ANGLES_INTERVAL_H

#include "model.h"

/* An estimate in a plane with its covariance: the bend of a joint (down,
 * left), or the complex sum of a line. */
struct ht_plane {
    double re, im, re_re, re_im, im_im;
    double dof; /* INFINITY: no repeats in it */
};

struct ht_range {
    double low, high;
};

/* Of the size, by the ordering of likelihood ratios (Feldman and Cousins,
 * Physical Review D 57, 1998). The low end is 0 when no size at all lies inside
 * the 95 % region. About 1 ms. Method and coverage: docs/angles.md. */
struct ht_range ht_size_range(const struct ht_plane *plane);

/* Does that range hold this size? A tenth of the work. */
bool ht_size_holds(const struct ht_plane *plane, double size);

/* The bend of a joint, rad. */
struct ht_plane ht_joint_plane(const struct ht_model *model, size_t joint);

/* By how much the working angles of a pair differ, rad: a size on a line, like
 * a bend that is seen from the side. */
struct ht_plane ht_pair_plane(const struct ht_model *model, size_t pair);

/* The complex sum (second harmonic) of the line, rad, to second order:
 * JCGM 100, 5.1.2 with its note; less the bias that the second order shows. */
struct ht_plane ht_sum_plane(const struct ht_model *model);

/* Degrees of freedom of an estimate in a plane, from its parts. */
struct ht_freedom {
    double whole[2], weak[2];
};
void ht_freedom_add(struct ht_freedom *freedom, const double part[2],
                    const double estimate[2], double dof);
/* The fewest that either way of counting leaves. */
double ht_freedom_of(const struct ht_freedom *freedom);

#endif
