#include "joint.h"

#include <math.h>
#include <stdbool.h>

#include "common/constants.h"
#include "common/memory.h"

enum { COSINES, SINES };

static double sinc(double cycles)
{
    double angle = HT_PI * cycles;
    return fabs(angle) < 1e-6 ? 1 - angle * angle / 6 : sin(angle) / angle;
}

double ht_joint_hann(double c)
{
    return sinc(c) + 0.5 * (sinc(c - 1) + sinc(c + 1));
}

double ht_joint_hann_squared(double c)
{
    return sinc(c) + (sinc(c - 1) + sinc(c + 1)) * (2.0 / 3) +
           (sinc(c - 2) + sinc(c + 2)) / 6;
}

/* Mean of cos cos (or sin sin) of two orders under a weight. */
static double entry(double (*weight)(double), double a, double b, int kind)
{
    double near = weight(a - b), far = weight(a + b);
    return 0.5 * (kind == COSINES ? near + far : near - far);
}

static bool factorise(double *l, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j <= i; j++) {
            double rest = l[i * n + j];
            for (size_t k = 0; k < j; k++)
                rest -= l[i * n + k] * l[j * n + k];
            if (i == j && !(rest > 1e-9))
                return false;
            l[i * n + j] = i == j ? sqrt(rest) : rest / l[j * n + j];
        }
    return true;
}

/* Leading `active` equations; stride: that of the whole factor. */
static void substitute(const double *l, size_t stride, double *x,
                       size_t active)
{
    for (size_t i = 0; i < active; i++) {
        for (size_t k = 0; k < i; k++)
            x[i] -= l[i * stride + k] * x[k];
        x[i] /= l[i * stride + i];
    }
    for (size_t i = active; i-- > 0;) {
        for (size_t k = i + 1; k < active; k++)
            x[i] -= l[k * stride + i] * x[k];
        x[i] /= l[i * stride + i];
    }
}

/* What the inflation is worked out from, for one kind. */
struct noise {
    const double *factor; /* of G */
    double *squared;      /* G2 */
    double *row;
    size_t orders;
};

/* e' G^-1 G2 G^-1 e over that of a lone order: white noise near the order
 * meets a weight that is not its own. */
static double inflation_of(const struct noise *noise, size_t k, size_t active)
{
    double *row = noise->row, sum = 0;
    for (size_t i = 0; i < active; i++)
        row[i] = i == k;
    substitute(noise->factor, noise->orders, row, active);
    for (size_t i = 0; i < active; i++)
        for (size_t j = 0; j < active; j++)
            sum += row[i] * row[j] * noise->squared[i * noise->orders + j];
    return sum / 2;
}

static void fill_entries(double *matrix, double (*weight)(double),
                         const double *order, size_t orders, double turns,
                         int kind)
{
    for (size_t i = 0; i < orders * orders; i++)
        matrix[i] = entry(weight, order[i / orders] * turns,
                          order[i % orders] * turns, kind);
}

static void add_inflation(double *inflation, const struct noise *noise)
{
    for (size_t n = 0; n < noise->orders; n++)
        for (size_t k = 0; k <= n; k++)
            inflation[n * noise->orders + k] +=
                0.5 * inflation_of(noise, k, n + 1);
}

enum ht_status ht_joint_create(struct ht_joint *joint, const double *order,
                               size_t orders, double turns)
{
    *joint = (struct ht_joint){ .orders = orders };
    if (orders == 0)
        return HT_OK;
    double *memory = ht_allocate(4 * orders * orders + orders, sizeof *memory);
    if (!memory)
        return HT_NO_MEMORY;
    joint->memory = memory;
    joint->factor[COSINES] = memory;
    joint->factor[SINES] = memory + orders * orders;
    joint->inflation = memory + 2 * orders * orders;
    struct noise noise = { .squared = memory + 3 * orders * orders,
                           .row = memory + 4 * orders * orders,
                           .orders = orders };
    for (int kind = COSINES; kind <= SINES; kind++) {
        double *factor = joint->factor[kind];
        fill_entries(factor, ht_joint_hann, order, orders, turns, kind);
        if (!factorise(factor, orders))
            return HT_BAD_FILE;
        fill_entries(noise.squared, ht_joint_hann_squared, order, orders,
                     turns, kind);
        noise.factor = factor;
        add_inflation(joint->inflation, &noise);
    }
    return HT_OK;
}

void ht_joint_free(struct ht_joint *joint)
{
    ht_release(joint->memory);
    *joint = (struct ht_joint){ 0 };
}

void ht_joint_solve(const struct ht_joint *joint, struct ht_phasor *sum,
                    size_t active)
{
    double part[64]; /* HT_ORDERS_MAX */
    for (int kind = COSINES; kind <= SINES; kind++) {
        for (size_t k = 0; k < active; k++)
            part[k] = kind == COSINES ? sum[k].re : -sum[k].im;
        substitute(joint->factor[kind], joint->orders, part, active);
        for (size_t k = 0; k < active; k++) {
            if (kind == COSINES)
                sum[k].re = part[k];
            else
                sum[k].im = -part[k];
        }
    }
}
