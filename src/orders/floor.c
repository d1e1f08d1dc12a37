#include "floor.h"

#include <math.h>

#include "level.h"

/* Hann's main lobe is two lines either way. */
static const double nearest = 2.25, farthest = 12;

static size_t pick_lines(struct ht_floor_plan *plan, double position,
                         const bool *clear, size_t last, int side)
{
    size_t found = 0;
    for (double step = nearest; step <= farthest && found < 10; step += 1) {
        double at = side < 0 ? floor(position - step) : ceil(position + step);
        if (at < 2 || at > (double)last)
            break;
        if (!clear[(size_t)at])
            continue;
        plan->line[plan->count++] = (size_t)at;
        found++;
    }
    return found;
}

/* Lines one apart share 4/9 of their power's scatter, two apart 1/36 (Hann:
 * squares of 2/3 and 1/6, Harris 1978). */
static double shared(size_t a, size_t b)
{
    size_t apart = a > b ? a - b : b - a;
    static const double share[] = { 1, 4.0 / 9, 1.0 / 36 };
    return apart < 3 ? share[apart] : 0;
}

/* Weights of the value at 0 of the polynomial fitted to points at x: row 0 of
 * the pseudo-inverse, by the normal equations. */
static void weights_at_zero(double *weight, const double *x, size_t n,
                            size_t terms)
{
    double m[3][4] = { { 0 } };
    for (size_t i = 0; i < n; i++) {
        double power[3] = { 1, x[i], x[i] * x[i] };
        for (size_t a = 0; a < terms; a++)
            for (size_t b = 0; b < terms; b++)
                m[a][b] += power[a] * power[b];
    }
    m[0][3] = 1;
    for (size_t a = 0; a < terms; a++)       /* Gauss; positive definite */
        for (size_t b = 0; b < terms; b++) {
            if (b == a)
                continue;
            double f = m[b][a] / m[a][a];
            for (size_t c = 0; c < 4; c++)
                m[b][c] -= f * m[a][c];
        }
    for (size_t i = 0; i < n; i++) {
        double power[3] = { 1, x[i], x[i] * x[i] };
        weight[i] = 0;
        for (size_t a = 0; a < terms; a++)
            weight[i] += m[a][3] / m[a][a] * power[a];
    }
}

void ht_floor_plan(struct ht_floor_plan *plan, double position,
                   const bool *clear, size_t last)
{
    *plan = (struct ht_floor_plan){ 0 };
    size_t below = pick_lines(plan, position, clear, last, -1);
    size_t above = pick_lines(plan, position, clear, last, 1);
    size_t terms = below >= 4 && above >= 4 ? 3
                   : below >= 2 && above >= 2 ? 2 : 1;
    if (plan->count < 4) {
        plan->count = 0;
        return;
    }
    double x[HT_NEIGHBOURS_MAX] = { 0 };
    for (size_t i = 0; i < plan->count; i++)
        x[i] = ((double)plan->line[i] - position) / farthest;
    weights_at_zero(plan->share, x, plan->count, terms);
    for (size_t i = 0; i < plan->count; i++)
        for (size_t j = 0; j < plan->count; j++)
            plan->variance += plan->share[i] * plan->share[j] *
                              shared(plan->line[i], plan->line[j]);
}

struct ht_floor ht_floor_read(const struct ht_floor_plan *plan,
                              const double *power, double looks)
{
    struct ht_floor none = { NAN, 0 };
    if (plan->count == 0 || !(looks > 0))
        return none;
    double sum = 0;
    for (size_t i = 0; i < plan->count; i++) {
        if (!(power[plan->line[i]] > 0))
            return none;
        sum += plan->share[i] * log(power[plan->line[i]]);
    }
    /* Mean of ln of a gamma variate of mean 1 and `looks` looks; a fitted
     * value whose ln scatters by v is worth x looks, trigamma(x) = v, and
     * trigamma(x) is 1 / (x - 1/2) within 3 % from x = 1.5 on. */
    double scatter = plan->variance * ht_trigamma(looks);
    return (struct ht_floor){
        exp(sum - (ht_digamma(looks) - log(looks))), 2 * (0.5 + 1 / scatter)
    };
}
