/* made_measurements.h - vehicles whose angles are known, measured again and
 * again with errors as the budget of docs/angles.md says, and how often the
 * 95 % intervals hold the truth. */
#ifndef HALFTURN_TESTS_MADE_MEASUREMENTS_H
#define HALFTURN_TESTS_MADE_MEASUREMENTS_H

#include "driveline_case.h"
#include "random.h"

#include "angles/interval.h"

#include <stdio.h>

enum { REPEATS = 3 };

/* Degrees; the gauge's accuracy is drawn as a normal law of the same standard
 * deviation, as first-order propagation takes it. */
struct vehicle {
    const char *name;
    size_t members;
    double slope[4], heading[4];
    double accuracy, set_up, heading_u, scatter; /* scatter 0: no repeats */
    bool from_side, offsets;
};

static const struct vehicle vehicles[] = {
    { "one shaft, 3 / 1.5 deg, headings", 3, { 1, 4, 5.5 }, { 0, 0.8, -0.4 },
      0.2, 0.1, 0.1, 0, false, false },
    { "two shafts, headings", 4, { 2.1, 2.5, 5.0, 2.4 }, { 0, 0.3, -0.5, 0 },
      0.1, 0.15, 0.1, 0, false, false },
    { "two shafts, from the side", 4, { 2.1, 2.5, 5.0, 2.4 }, { 0 }, 0.1, 0.15,
      0, 0, true, false },
    { "two shafts by eye on caps", 4, { 2.1, 3.5, 7.0, 2.4 }, { 0, 1, -1, 0 },
      0.2, 0.4, 0.1, 0, false, false },
    { "two shafts, offsets", 4, { 2.1, 2.5, 5.0, 2.4 }, { 0, 0.8, -0.6, 0 },
      0.1, 0.15, 0.1, 0, false, true },
    { "one shaft, three repeats each", 3, { 1, 4, 5.5 }, { 0, 0.8, -0.4 }, 0.1,
      0.05, 0.1, 0.3, false, false },
    { "cancels exactly, headings", 3, { 0, 3, 0 }, { 0, 0, 0 }, 0.1, 0.15, 0.1,
      0, false, false },
    { "cancels exactly, from the side", 3, { 0, 3, 0 }, { 0, 0, 0 }, 0.1, 0.15,
      0, 0, true, false },
    { "cancels nearly, headings", 3, { 0, 3, 0.1 }, { 0, 0, 0 }, 0.1, 0.15, 0.1,
      0, false, false },
    { "cancels nearly, from the side", 3, { 0, 3, 0.2 }, { 0, 0, 0 }, 0.1, 0.15,
      0, 0, true, false },
    { "one joint of 0.3 deg, headings", 2, { 2, 2.3 }, { 0, 0 }, 0.1, 0.15, 0.1,
      0, false, false },
    { "one joint of 0 deg, headings", 2, { 2, 2 }, { 0, 0 }, 0.1, 0.15, 0.1, 0,
      false, false },
};
enum { VEHICLES = sizeof vehicles / sizeof vehicles[0] };

static double taken[HT_MEMBERS_MAX][REPEATS];

/* Joint centres of the shafts, 1.2 m apart, on whose headings they lie. */
static inline void lay_offsets(const struct vehicle *vehicle,
                               struct ht_driveline *line, double u_mm,
                               struct random_source *source)
{
    double at = 0;
    for (size_t j = 0; j + 1 < vehicle->members; j++) {
        line->offset_m[j] = at + u_mm / 1000 * random_normal(source);
        line->joint_to_joint_m[j + 1] = 1.2;
        at += 1.2 * cos(vehicle->slope[j + 1] * DEG) *
              sin(vehicle->heading[j + 1] * DEG);
        if (j > 0)
            line->heading_rad[j] = NAN;
    }
}

/* One measurement; with `errors` 0 the truth. */
static inline struct ht_driveline measure(const struct vehicle *vehicle,
                                          double errors,
                                          struct random_source *source)
{
    struct ht_driveline line = exact_of(vehicle->members, vehicle->slope);
    double half = errors * vehicle->accuracy / sqrt(6);
    double zero = half * random_normal(source);
    size_t repeats = vehicle->scatter > 0 ? REPEATS : 1;
    line.gauge = (struct ht_gauge){ vehicle->accuracy * DEG, 0,
                                    vehicle->set_up * DEG, 0.5 };
    line.heading_u_rad = vehicle->heading_u * DEG;
    for (size_t m = 0; m < vehicle->members; m++) {
        double own = zero + hypot(half, errors * vehicle->set_up) *
                                random_normal(source);
        for (size_t k = 0; k < repeats; k++)
            taken[m][k] = (vehicle->slope[m] + own +
                           errors * vehicle->scatter * random_normal(source)) *
                          DEG;
        line.slope[m].readings_rad = (struct ht_numbers){ taken[m], repeats };
        line.heading_rad[m] =
            vehicle->from_side
                ? NAN
                : (vehicle->heading[m] +
                   errors * vehicle->heading_u * random_normal(source)) *
                      DEG;
    }
    if (vehicle->offsets)
        lay_offsets(vehicle, &line, errors * HT_OFFSET_U_MM, source);
    return line;
}

struct coverage { /* how many of the runs held the truth */
    int runs, joint[3], pair, leftover, sum; /* pair: the first */
    double off; /* of the leftover, in its standard uncertainties */
};

/* Within the 95 % region of the complex sum: chi squared or, with repeats,
 * Fisher's F, for one dimension when everything lies in one plane. */
static inline bool sum_holds(const struct ht_plane *sum,
                             struct ht_phasor truth, bool in_plane)
{
    double x = truth.re - sum->re, y = truth.im - sum->im;
    double det = sum->re_re * sum->im_im - sum->re_im * sum->re_im;
    double trace = sum->re_re + sum->im_im;
    if (in_plane)
        return (x * x + y * y) / trace <= 3.841459;
    double square = (sum->im_im * x * x - 2 * sum->re_im * x * y +
                     sum->re_re * y * y) / det;
    return square <= (isfinite(sum->dof)
                          ? sum->dof * (pow(0.05, -2 / sum->dof) - 1)
                          : 5.991465);
}

static inline struct coverage cover(const struct vehicle *vehicle, int runs,
                                    uint64_t seed)
{
    struct random_source source = { seed };
    struct coverage coverage = { .runs = runs };
    struct ht_model truth, model;
    struct ht_driveline line = measure(vehicle, 0, &source);
    ht_model_build(&truth, &line);
    struct ht_phasor sum = ht_chain_second(&truth.chain);
    for (int run = 0; run < runs; run++) {
        line = measure(vehicle, 1, &source);
        ht_model_build(&model, &line);
        for (size_t j = 0; j < model.joints; j++) {
            struct ht_plane joint = ht_joint_plane(&model, j);
            coverage.joint[j] += ht_size_holds(&joint, truth.joint_rad[j]);
        }
        for (size_t p = 0; p < model.pairs && p < 1; p++) {
            struct ht_plane pair = ht_pair_plane(&model, p);
            coverage.pair += ht_size_holds(&pair, ht_pair_plane(&truth, p).re);
        }
        struct ht_plane plane = ht_sum_plane(&model);
        /* a single joint's interval stands for what it leaves over */
        if (model.joints > 1)
            coverage.leftover += ht_size_holds(&plane, ht_phasor_size(sum));
        coverage.sum += sum_holds(&plane, sum, vehicle->from_side);
        coverage.off += ht_phasor_size(sum) /
                        sqrt(fmax(plane.re_re, plane.im_im)) / runs;
    }
    if (truth.joints == 1)
        coverage.leftover = coverage.joint[0];
    return coverage;
}

/* An estimate in a plane whose truth is known: standard deviations 1 and
 * `small`, the truth `size` from nothing, `way` rad off the large axis; the
 * standard deviations themselves from `dof` repeats, 0: known. */
struct plane_case {
    double size, small, way;
    int dof;
};

static inline int cover_plane(const struct plane_case *of, int runs,
                              uint64_t seed)
{
    struct random_source source = { seed };
    int held = 0;
    for (int run = 0; run < runs; run++) {
        double square = 0;
        for (int k = 0; k < of->dof; k++)
            square += pow(random_normal(&source), 2) / of->dof;
        if (of->dof == 0)
            square = 1;
        struct ht_plane plane = {
            .re = of->size * cos(of->way) + random_normal(&source),
            .im = of->size * sin(of->way) + of->small * random_normal(&source),
            .re_re = square,
            .im_im = square * of->small * of->small,
            .dof = of->dof > 0 ? (double)of->dof : INFINITY
        };
        held += ht_size_holds(&plane, of->size);
    }
    return held;
}

#endif
