#include "interval.h"

#include "common/constants.h"
#include "common/statistics.h"

#include <math.h>

/* Points of the error's law, in standard deviations, from the farthest in: a
 * Fibonacci lattice, of which the outer 40 % are laid. The share beyond a
 * straight line is met to 0.0015. */
enum { POINTS = 2584, LAID = 1034 };
static const double miss = 0.05;

/* The plane turned into its principal axes, centre in the first quarter, in
 * units of the largest standard deviation; `small` is the other one. */
struct axes {
    double unit, x, y, small, dof;
    double two; /* squared distance that 95 % stay within, in two dimensions */
    double east[LAID], north[LAID], away[LAID]; /* away: squared */
};

/* Twice Fisher's F for 2 degrees above; chi squared when exact below. */
static double squared_radius(double share, double dof)
{
    double square = -2 * log(share);
    return isfinite(dof) ? dof * expm1(square / dof) : square;
}

static void lay_points(struct axes *axes)
{
    static const double turn = 0.6180339887498949 * 2 * HT_PI;
    double c = cos(turn), s = sin(turn), east = 1, north = 0;
    for (size_t i = 0; i < LAID; i++) {
        double square = squared_radius(((double)i + 0.5) / POINTS, axes->dof);
        axes->away[i] = square;
        axes->east[i] = sqrt(square) * east;
        axes->north[i] = sqrt(square) * north;
        double next = east * c - north * s;
        north = north * c + east * s;
        east = next;
    }
}

static void turn_to_axes(struct axes *axes, const struct ht_plane *plane)
{
    double middle = (plane->re_re + plane->im_im) / 2;
    double half = hypot((plane->re_re - plane->im_im) / 2, plane->re_im);
    double way = atan2(2 * plane->re_im, plane->re_re - plane->im_im) / 2;
    double unit = sqrt(fmax(0, middle + half));
    axes->unit = unit;
    axes->dof = plane->dof;
    if (!(unit > 0))
        return;
    axes->x = fabs(plane->re * cos(way) + plane->im * sin(way)) / unit;
    axes->y = fabs(plane->im * cos(way) - plane->re * sin(way)) / unit;
    axes->small = sqrt(fmax(0, middle - half)) / unit;
    axes->two = squared_radius(miss, axes->dof);
}

struct point {
    double x, y;
};

/* The nearest point of that size, in standard deviations: (x/p, y/(1+(p-1)q)),
 * Newton's steps in p from the side where the size is too large. */
static struct point nearest(struct point from, double small, double size)
{
    double q = small * small;
    double x = fmax(fabs(from.x), 1e-9), y = fabs(from.y);
    double p = fmax(x / size, (y / size - 1 + q) / q), step = p;
    for (int i = 0; i < 60 && step > 1e-9 * p; i++) {
        double a = x / p, below = 1 + (p - 1) * q, b = y / below;
        step = (a * a + b * b - size * size) /
               (2 * (a * a / p + b * b * q / below));
        p += fmax(step, 0);
    }
    return (struct point){ x / p, y / (1 + (p - 1) * q) };
}

static double squared_distance(struct point from, double small, double size)
{
    struct point to = nearest(from, small, size);
    double along = fabs(from.x) - to.x, across = (fabs(from.y) - to.y) / small;
    return along * along + across * across;
}

/* Where on that circle the truth is taken to lie. What the error adds to the
 * square of each part on the average is taken off: the variance along the
 * circle. */
static struct point likely(struct point at, double small, double size)
{
    double c = at.x / size, s = at.y / size;
    double along = 1 / (s * s + c * c / (small * small));
    double x = sqrt(fmax(0, at.x * at.x - s * s * along));
    double y = sqrt(fmax(0, at.y * at.y - c * c * along));
    double now = hypot(x, y);
    return now > 0 ? (struct point){ x * size / now, y * size / now } : at;
}

/* Would the truth of that size be missed by as much as this more often than
 * once in twenty? Within the inner 60 % of the law: certainly, as one dimension
 * alone leaves more than that outside, and folded half of it. */
static bool is_kept_in_plane(const struct axes *axes, double size)
{
    struct point read = { axes->x, axes->y };
    if (!(size > 0))
        return axes->x * axes->x + pow(axes->y / axes->small, 2) <= axes->two;
    struct point at = nearest(read, axes->small, size);
    double far = squared_distance(read, axes->small, size);
    if (far < axes->away[LAID - 1])
        return true;
    struct point truth = likely(at, axes->small, size);
    size_t beyond = 0;
    for (size_t i = 0; i < LAID && axes->away[i] > far; i++) {
        struct point drawn = { truth.x + axes->east[i],
                               truth.y + axes->small * axes->north[i] };
        beyond += squared_distance(drawn, axes->small, size) > far;
        if ((double)beyond > miss * POINTS)
            return true;
    }
    return false;
}

static double tail(double t, double dof)
{
    return isfinite(dof) ? ht_student_cdf(-t, dof) : ht_normal_cdf(-t);
}

/* All of it on a line: the same, folded at the line's nearest point. */
static bool is_kept_on_line(const struct axes *axes, double size)
{
    double off = axes->y < 0.01 ? 0 : axes->y;
    if (size < off)
        return false;
    double along = sqrt(size * size - off * off);
    double far = fabs(axes->x - along);
    double beyond = tail(far, axes->dof) + tail(2 * along + far, axes->dof);
    if (far < along)
        beyond += tail(far, axes->dof) - tail(2 * along - far, axes->dof);
    return beyond >= miss;
}

static bool is_kept(const struct axes *axes, double size)
{
    return axes->small < 1e-3 ? is_kept_on_line(axes, size)
                              : is_kept_in_plane(axes, size);
}

static double edge(const struct axes *axes, double kept, double left_out)
{
    /* the second ends it where doubles stand wider apart than that */
    for (int i = 0; fabs(left_out - kept) > 1e-4 && i < 60; i++) {
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
    struct axes axes;
    double size = hypot(plane->re, plane->im);
    turn_to_axes(&axes, plane);
    if (!(axes.unit > 0))
        return (struct ht_range){ size, size };
    lay_points(&axes);
    double read = hypot(axes.x, axes.y), far = 1.01 * sqrt(axes.two);
    double low = is_kept(&axes, 0) ? 0 : edge(&axes, read, fmax(0, read - far));
    return (struct ht_range){ low * axes.unit,
                              edge(&axes, read, read + far) * axes.unit };
}

bool ht_size_holds(const struct ht_plane *plane, double size)
{
    struct axes axes = { 0 };
    turn_to_axes(&axes, plane);
    if (!(axes.unit > 0))
        return size == hypot(plane->re, plane->im);
    double read = hypot(axes.x, axes.y);
    lay_points(&axes);
    return is_kept(&axes, size / axes.unit) ||
           (size < read * axes.unit && is_kept(&axes, 0));
}
