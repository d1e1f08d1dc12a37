/* One turn of every member: rotation, speed, acceleration. */
#include "pass.h"

#include "halfturn/effects.h"

#include "common/constants.h"

#include <string.h>

/* The driving pins turn with their shaft, so their lean l towards the driven
 * shaft grows by ratio (from x pin) . to; and ln of the joint's own ratio by
 * 2 l l'/(1 - l^2). */
static double growth_across(const double pin[3], const double from[3],
                            const double to[3], double ratio)
{
    double way[3], lean = ht_dot(pin, to);
    ht_cross(from, pin, way);
    return 2 * lean * ratio * ht_dot(way, to) / (1 - lean * lean);
}

void ht_pass_at(struct ht_pass *pass, const struct ht_line *line, double c,
                double s)
{
    double pin[3];
    for (int i = 0; i < 3; i++)
        pin[i] = c * line->left[0][i] + s * line->down[0][i];
    pass->ratio[0] = 1;
    pass->growth[0] = 0;
    memcpy(pass->front_pin[0], pin, sizeof pin);
    for (size_t j = 0; j + 1 < line->members; j++) {
        const double *from = line->direction[j], *to = line->direction[j + 1];
        memcpy(pass->driving_pin[j], pin, sizeof pin);
        pass->ratio[j + 1] = pass->ratio[j];
        pass->growth[j + 1] = pass->growth[j];
        if (line->cardan[j]) {
            pass->growth[j + 1] += growth_across(pin, from, to, pass->ratio[j]);
            pass->ratio[j + 1] *= ht_cross_cardan(pin, from, to);
        } else {
            ht_cross_even(pin, from, to);
        }
        memcpy(pass->front_pin[j + 1], pin, sizeof pin);
        ht_turn_about(pin, to, line->turn_cos[j + 1], line->turn_sin[j + 1]);
    }
}

static void take_mean(double *error_rad)
{
    double mean = 0;
    for (size_t k = 0; k < HT_TURN_STEPS; k++)
        mean += error_rad[k] / HT_TURN_STEPS;
    for (size_t k = 0; k < HT_TURN_STEPS; k++)
        error_rad[k] -= mean;
}

/* Cosine and sine of every step. */
struct circle {
    double c[HT_TURN_STEPS], s[HT_TURN_STEPS];
};

static double harmonic(const struct circle *circle, const double *error_rad,
                       size_t cycles)
{
    struct ht_phasor sum = { 0, 0 };
    for (size_t k = 0, at = 0; k < HT_TURN_STEPS; k++) {
        sum.re += error_rad[k] * circle->c[at];
        sum.im += error_rad[k] * circle->s[at];
        at = (at + cycles) % HT_TURN_STEPS;
    }
    return ht_phasor_size(sum) * 2 / HT_TURN_STEPS;
}

/* Highest of sign times the curve: the largest step and a parabola through
 * its neighbours. */
static double highest(const double *curve, double sign)
{
    size_t best = 0;
    for (size_t k = 1; k < HT_TURN_STEPS; k++)
        if (sign * curve[k] > sign * curve[best])
            best = k;
    double before = curve[(best + HT_TURN_STEPS - 1) % HT_TURN_STEPS];
    double after = curve[(best + 1) % HT_TURN_STEPS];
    double hollow = sign * (2 * curve[best] - before - after);
    double tilt = after - before;
    return sign * curve[best] + (hollow > 0 ? tilt * tilt / (8 * hollow) : 0);
}

static double largest(const double *curve)
{
    return fmax(highest(curve, 1), highest(curve, -1));
}

static void sum_up(struct ht_turn_curve *curve, const struct circle *circle)
{
    take_mean(curve->error_rad);
    for (size_t n = 0; n < 3; n++)
        curve->harmonic_rad[n] =
            harmonic(circle, curve->error_rad, 2 * (n + 1));
    curve->error_peak_rad = largest(curve->error_rad);
    curve->ratio_high = highest(curve->ratio, 1);
    curve->ratio_low = -highest(curve->ratio, -1);
    curve->acceleration_peak = largest(curve->acceleration);
}

struct frame {
    double left[3], down[3];
};

static void take_step(struct ht_turn *turn, const struct ht_line *line,
                      const struct frame *frame, const struct circle *circle,
                      size_t k)
{
    struct ht_pass pass;
    size_t n = line->members;
    double input = 2 * HT_PI * (double)k / HT_TURN_STEPS;
    ht_pass_at(&pass, line, circle->c[k], circle->s[k]);
    for (size_t i = 0; i < n; i++) {
        struct ht_turn_curve *curve =
            &turn->member[turn->from_rear ? n - 1 - i : i];
        double angle = atan2(ht_dot(pass.front_pin[i], frame[i].down),
                             ht_dot(pass.front_pin[i], frame[i].left));
        double first = k == 0 ? 0 : curve->error_rad[0];
        curve->error_rad[k] =
            first + remainder(angle - input - first, 2 * HT_PI);
        curve->ratio[k] = pass.ratio[i];
        curve->acceleration[k] = pass.ratio[i] * pass.growth[i];
    }
}

void ht_chain_turn(struct ht_turn *turn, const struct ht_chain *chain)
{
    struct ht_line line = { 0 };
    struct frame frame[HT_MEMBERS_MAX];
    struct circle circle;
    for (size_t k = 0; k < HT_TURN_STEPS; k++) {
        circle.c[k] = cos(2 * HT_PI * (double)k / HT_TURN_STEPS);
        circle.s[k] = sin(2 * HT_PI * (double)k / HT_TURN_STEPS);
    }
    ht_line_from(chain, &line);
    for (size_t i = 0; i < line.members; i++)
        ht_frame_across(line.direction[i], frame[i].left, frame[i].down);
    memset(turn, 0, sizeof *turn);
    turn->members = chain->members;
    turn->from_rear = chain->from_rear;
    for (size_t k = 0; k < HT_TURN_STEPS; k++)
        take_step(turn, &line, frame, &circle, k);
    for (size_t m = 0; m < turn->members; m++)
        sum_up(&turn->member[m], &circle);
}
