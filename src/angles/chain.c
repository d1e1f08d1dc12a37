/* The exact vector pin chain and the closed form that checks it. */
#include "chain.h"

#include "common/constants.h"

#include <assert.h>
#include <math.h>

enum { STEPS = 720 };

/* Members in drive order. Directions stay rearward whichever end drives, so
 * that one handedness serves for all rotations. */
struct line {
    size_t members;
    double direction[HT_MEMBERS_MAX][3];
    double turn_cos[HT_MEMBERS_MAX], turn_sin[HT_MEMBERS_MAX];
    bool cardan[HT_JOINTS_MAX];
    double left[2][3], down[2][3]; /* frame across the first, last member */
};

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

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void cross(const double a[3], const double b[3], double out[3])
{
    double x = a[1] * b[2] - a[2] * b[1], y = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
    out[0] = x;
    out[1] = y;
}

static void normalise(double v[3])
{
    double size = sqrt(dot(v, v));
    for (int i = 0; i < 3; i++)
        v[i] /= size;
}

double ht_angle_between(const double a[3], const double b[3])
{
    double c[3];
    cross(a, b, c);
    return atan2(sqrt(dot(c, c)), dot(a, b));
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
static void frame_across(const double d[3], double left[3], double down[3])
{
    const double y[3] = { 0, 1, 0 };
    for (int i = 0; i < 3; i++)
        left[i] = y[i] - d[1] * d[i];
    normalise(left);
    cross(d, left, down);
}

static void line_from(const struct ht_chain *chain, struct line *line)
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
    frame_across(line->direction[0], line->left[0], line->down[0]);
    frame_across(line->direction[n - 1], line->left[1], line->down[1]);
}

/* Across a Cardan joint: the driven pins are square to the driving pins and
 * to their own shaft. The speed ratio follows from how far the driving pins
 * lean out of the plane across the driven shaft. */
static double cross_cardan(double pin[3], const double from[3],
                           const double to[3])
{
    double lean = dot(pin, to), driven[3];
    cross(pin, to, driven);
    normalise(driven);
    for (int i = 0; i < 3; i++)
        pin[i] = driven[i];
    return dot(from, to) / (1 - lean * lean);
}

/* Across a joint that keeps the speed: the smallest turn that lays one shaft
 * on the other carries the pins along. */
static void cross_even(double pin[3], const double from[3], const double to[3])
{
    double scale = dot(pin, to) / (1 + dot(from, to));
    for (int i = 0; i < 3; i++)
        pin[i] -= scale * (from[i] + to[i]);
    normalise(pin);
}

/* From a section's driven yoke to its driving yoke. */
static void turn_about(double pin[3], const double axis[3], double c, double s)
{
    double side[3];
    cross(axis, pin, side);
    for (int i = 0; i < 3; i++)
        pin[i] = c * pin[i] + s * side[i];
}

/* Output rotation for an input rotation of cosine c and sine s; *ratio gets
 * output over input speed. */
static double follow(const struct line *line, double c, double s, double *ratio)
{
    double pin[3];
    size_t n = line->members;
    for (int i = 0; i < 3; i++)
        pin[i] = c * line->left[0][i] + s * line->down[0][i];
    *ratio = 1;
    for (size_t j = 0; j + 1 < n; j++) {
        const double *from = line->direction[j], *to = line->direction[j + 1];
        if (line->cardan[j])
            *ratio *= cross_cardan(pin, from, to);
        else
            cross_even(pin, from, to);
        turn_about(pin, to, line->turn_cos[j + 1], line->turn_sin[j + 1]);
    }
    return atan2(dot(pin, line->down[1]), dot(pin, line->left[1]));
}

static void errors_of(const struct line *line, size_t steps, double *error_rad,
                      double *ratio)
{
    double first = 0, unused;
    for (size_t k = 0; k < steps; k++) {
        double input = 2 * HT_PI * (double)k / (double)steps;
        double output =
            follow(line, cos(input), sin(input), ratio ? &ratio[k] : &unused);
        first = k == 0 ? output : first;
        error_rad[k] = remainder(output - first - input, 2 * HT_PI);
    }
}

void ht_chain_errors(const struct ht_chain *chain, size_t steps,
                     double *error_rad)
{
    struct line line = { 0 };
    line_from(chain, &line);
    errors_of(&line, steps, error_rad, NULL);
}

static struct ht_phasor harmonic(const double *error_rad, size_t cycles)
{
    struct ht_phasor sum = { 0, 0 };
    for (size_t k = 0; k < STEPS; k++) {
        double at = 2 * HT_PI * (double)((k * cycles) % STEPS) / STEPS;
        sum.re += error_rad[k] * cos(at);
        sum.im += error_rad[k] * sin(at);
    }
    sum.re *= 2.0 / STEPS;
    sum.im *= 2.0 / STEPS;
    return sum;
}

/* Half a turn in eight steps: cos and sin of k pi / 8. */
static const double eighths[HT_CHAIN_POINTS][2] = {
    { 1, 0 },
    { 0.92387953251128674, 0.38268343236508977 },
    { 0.70710678118654752, 0.70710678118654752 },
    { 0.38268343236508977, 0.92387953251128674 },
    { 0, 1 },
    { -0.38268343236508977, 0.92387953251128674 },
    { -0.70710678118654752, 0.70710678118654752 },
    { -0.92387953251128674, 0.38268343236508977 },
};

struct ht_phasor ht_chain_second(const struct ht_chain *chain)
{
    struct line line = { 0 };
    struct ht_phasor sum = { 0, 0 };
    double first = 0, unused;
    line_from(chain, &line);
    for (int k = 0; k < HT_CHAIN_POINTS; k++) {
        double c = eighths[k][0], s = eighths[k][1];
        double output = follow(&line, c, s, &unused);
        first = k == 0 ? output : first;
        double error =
            remainder(output - first - HT_PI * k / HT_CHAIN_POINTS, 2 * HT_PI);
        sum.re += error * (c * c - s * s);
        sum.im += error * (2 * c * s);
    }
    sum.re *= 2.0 / HT_CHAIN_POINTS;
    sum.im *= 2.0 / HT_CHAIN_POINTS;
    return sum;
}

double ht_phasor_size(struct ht_phasor phasor)
{
    return hypot(phasor.re, phasor.im);
}

/* Highest ratio: the largest step and a parabola through its neighbours. */
static double highest(const double *ratio, size_t steps)
{
    size_t best = 0;
    for (size_t k = 1; k < steps; k++)
        if (ratio[k] > ratio[best])
            best = k;
    double before = ratio[(best + steps - 1) % steps];
    double after = ratio[(best + 1) % steps];
    double curve = 2 * ratio[best] - before - after;
    double tilt = after - before;
    return ratio[best] + (curve > 0 ? tilt * tilt / (8 * curve) : 0);
}

struct ht_chain_motion ht_chain_exact(const struct ht_chain *chain)
{
    struct ht_chain_motion motion;
    struct line line = { 0 };
    double error[STEPS], ratio[STEPS];
    line_from(chain, &line);
    errors_of(&line, STEPS, error, ratio);
    motion.second = harmonic(error, 2);
    for (size_t n = 0; n < 3; n++)
        motion.harmonic_rad[n] = ht_phasor_size(harmonic(error, 2 * (n + 1)));
    motion.leftover_rad = ht_joint_bend_of_harmonic(motion.harmonic_rad[0]);
    motion.ripple = highest(ratio, STEPS) - 1;
    return motion;
}

/* Each joint adds tan^2(bend/2) at twice (direction of its bend - clocking of
 * its driving pins), both right-handed about the rearward axis from `left`,
 * which is carried from member to member by the smallest turn. A Cardan joint
 * sets the pins back a quarter turn. */
static void joint_terms(struct line *line, struct ht_phasor *term)
{
    double pins = 0, *left = line->left[0];
    for (size_t j = 0; j + 1 < line->members; j++) {
        const double *from = line->direction[j], *to = line->direction[j + 1];
        term[j] = (struct ht_phasor){ 0, 0 };
        if (line->cardan[j]) {
            double size = tan(ht_angle_between(from, to) / 2), down[3];
            cross(from, left, down);
            double at = 2 * (atan2(dot(to, down), dot(to, left)) - pins);
            term[j].re = size * size * cos(at);
            term[j].im = size * size * sin(at);
            pins -= HT_PI / 2;
        }
        cross_even(left, from, to);
        pins += atan2(line->turn_sin[j + 1], line->turn_cos[j + 1]);
    }
}

static struct ht_phasor sum_of(const struct ht_phasor *term, size_t from,
                               size_t to)
{
    struct ht_phasor sum = { 0, 0 };
    for (size_t j = from; j < to; j++) {
        sum.re += term[j].re;
        sum.im += term[j].im;
    }
    return sum;
}

struct ht_phasor ht_chain_closed_form(const struct ht_chain *chain)
{
    struct line line = { 0 };
    struct ht_phasor term[HT_JOINTS_MAX] = { { 0 } };
    line_from(chain, &line);
    joint_terms(&line, term);
    return sum_of(term, 0, line.members - 1);
}

double ht_chain_worst_section(const struct ht_chain *chain)
{
    struct line line = { 0 };
    struct ht_phasor term[HT_JOINTS_MAX] = { { 0 } };
    double worst = 0;
    line_from(chain, &line);
    joint_terms(&line, term);
    size_t joints = line.members - 1;
    for (size_t m = 1; m < joints; m++) {
        worst = fmax(worst, ht_phasor_size(sum_of(term, 0, m)));
        worst = fmax(worst, ht_phasor_size(sum_of(term, m, joints)));
    }
    return worst;
}
