/* The exact vector pin chain and the closed form that checks it. */
#include "line.h"

#include "common/constants.h"

#include <math.h>

enum { STEPS = 720 };

/* Output rotation for an input rotation of cosine c and sine s; *ratio gets
 * output over input speed. */
static double follow(const struct ht_line *line, double c, double s,
                     double *ratio)
{
    double pin[3];
    size_t n = line->members;
    for (int i = 0; i < 3; i++)
        pin[i] = c * line->left[0][i] + s * line->down[0][i];
    *ratio = 1;
    for (size_t j = 0; j + 1 < n; j++) {
        const double *from = line->direction[j], *to = line->direction[j + 1];
        if (line->cardan[j])
            *ratio *= ht_cross_cardan(pin, from, to);
        else
            ht_cross_even(pin, from, to);
        ht_turn_about(pin, to, line->turn_cos[j + 1], line->turn_sin[j + 1]);
    }
    return atan2(ht_dot(pin, line->down[1]), ht_dot(pin, line->left[1]));
}

static void errors_of(const struct ht_line *line, size_t steps,
                      double *error_rad, double *ratio)
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
    struct ht_line line = { 0 };
    ht_line_from(chain, &line);
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
    struct ht_line line = { 0 };
    struct ht_phasor sum = { 0, 0 };
    double first = 0, unused;
    ht_line_from(chain, &line);
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
    struct ht_line line = { 0 };
    double error[STEPS], ratio[STEPS];
    ht_line_from(chain, &line);
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
static void joint_terms(struct ht_line *line, struct ht_phasor *term)
{
    double pins = 0, *left = line->left[0];
    for (size_t j = 0; j + 1 < line->members; j++) {
        const double *from = line->direction[j], *to = line->direction[j + 1];
        term[j] = (struct ht_phasor){ 0, 0 };
        if (line->cardan[j]) {
            double size = tan(ht_angle_between(from, to) / 2), down[3];
            ht_cross(from, left, down);
            double at = 2 * (atan2(ht_dot(to, down), ht_dot(to, left)) - pins);
            term[j].re = size * size * cos(at);
            term[j].im = size * size * sin(at);
            pins -= HT_PI / 2;
        }
        ht_cross_even(left, from, to);
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
    struct ht_line line = { 0 };
    struct ht_phasor term[HT_JOINTS_MAX] = { { 0 } };
    ht_line_from(chain, &line);
    joint_terms(&line, term);
    return sum_of(term, 0, line.members - 1);
}

/* Largest partial sum of the terms, from either end. */
static double worst_section(const struct ht_phasor *term, size_t joints)
{
    double worst = 0;
    for (size_t m = 1; m < joints; m++) {
        worst = fmax(worst, ht_phasor_size(sum_of(term, 0, m)));
        worst = fmax(worst, ht_phasor_size(sum_of(term, m, joints)));
    }
    return worst;
}

double ht_chain_worst_section(const struct ht_chain *chain)
{
    struct ht_line line = { 0 };
    struct ht_phasor term[HT_JOINTS_MAX] = { { 0 } };
    ht_line_from(chain, &line);
    joint_terms(&line, term);
    return worst_section(term, line.members - 1);
}

void ht_chain_figures(const struct ht_chain *chain,
                      struct ht_chain_figures *figures)
{
    struct ht_line line = { 0 };
    struct ht_phasor term[HT_JOINTS_MAX] = { { 0 } };
    ht_line_from(chain, &line);
    size_t joints = line.members - 1;
    for (size_t j = 0; j < joints; j++)
        figures->bend_rad[chain->from_rear ? joints - 1 - j : j] =
            ht_angle_between(line.direction[j], line.direction[j + 1]);
    joint_terms(&line, term);
    figures->h2_rad = ht_phasor_size(sum_of(term, 0, joints));
    figures->section_rad = worst_section(term, joints);
}
