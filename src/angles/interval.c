#include "interval.h"

#include "common/statistics.h"

#include <math.h>

/* The plane turned into its principal axes, centre in the first quarter. */
struct axes {
    double x, y, large, small; /* standard deviations */
    double one, two;           /* squared distances that 95 % stay within, in
                                  one dimension and in two */
};

static struct axes axes_of(const struct ht_plane *plane)
{
    double middle = (plane->re_re + plane->im_im) / 2;
    double half = hypot((plane->re_re - plane->im_im) / 2, plane->re_im);
    double way = atan2(2 * plane->re_im, plane->re_re - plane->im_im) / 2;
    double t = isfinite(plane->dof) ? ht_student_quantile(0.975, plane->dof)
                                    : ht_normal_quantile(0.975);
    struct axes axes = {
        .x = fabs(plane->re * cos(way) + plane->im * sin(way)),
        .y = fabs(plane->im * cos(way) - plane->re * sin(way)),
        .large = sqrt(fmax(0, middle + half)),
        .small = sqrt(fmax(0, middle - half)),
        .one = t * t,
    };
    /* twice Fisher's F for 2 degrees above; chi squared when exact below */
    axes.two = isfinite(plane->dof)
                   ? plane->dof * (pow(0.05, -2 / plane->dof) - 1)
                   : -2 * log(0.05);
    if (axes.small < 1e-3 * axes.large)
        axes.two = axes.one; /* all of it lies on a line */
    axes.small = fmax(axes.small, 1e-4 * axes.large);
    axes.x = fmax(axes.x, 1e-9 * axes.large);
    return axes;
}

/* Squared distance, in standard deviations, to the nearest point of that size:
 * t = (x/p, y/(1 + (p-1) q)), p from the size by halving. */
static double distance_to(const struct axes *axes, double size)
{
    double q = pow(axes->small / axes->large, 2);
    double low = -30, high = 30; /* of log p */
    if (!(size > 0))
        return pow(axes->x / axes->large, 2) + pow(axes->y / axes->small, 2);
    for (int i = 0; i < 60; i++) {
        double p = exp((low + high) / 2);
        if (hypot(axes->x / p, axes->y / (1 + (p - 1) * q)) > size)
            low = (low + high) / 2;
        else
            high = (low + high) / 2;
    }
    double p = exp(high), along = axes->x * (1 - 1 / p) / axes->large;
    double across = axes->y * (p - 1) * axes->small /
                    (axes->large * axes->large * (1 + (p - 1) * q));
    return along * along + across * across;
}

/* A size is kept when its distance is at most this: what two dimensions ask at
 * none, one dimension a few standard deviations on, where a circle is as good
 * as a straight line. 2.2: read off draws, docs/angles.md. */
static bool is_kept(const struct axes *axes, double size)
{
    double fade = exp(-2.2 * size / axes->large);
    return distance_to(axes, size) <=
           axes->one + (axes->two - axes->one) * fade;
}

static double edge(const struct axes *axes, double kept, double left_out)
{
    for (int i = 0; i < 50; i++) {
        double size = (kept + left_out) / 2;
        if (is_kept(axes, size))
            kept = size;
        else
            left_out = size;
    }
    return kept;
}

struct ht_range ht_size_range(const struct ht_plane *plane)
{
    double size = hypot(plane->re, plane->im);
    struct axes axes = axes_of(plane);
    if (!(axes.large > 0))
        return (struct ht_range){ size, size };
    double far = size + 1.01 * sqrt(axes.two + axes.one) * axes.large;
    return (struct ht_range){ is_kept(&axes, 0) ? 0 : edge(&axes, size, 0),
                              edge(&axes, size, far) };
}
