#include "spread.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/random.h"
#include "common/statistics.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { KNOTS = 33 };
static const double knot_step = 0.125;
static const uint64_t seed = UINT64_C(20261124);

/* Student's t of the same probability as z, through a table in z. */
struct student_map {
    bool plain;
    double knot[KNOTS];
};

static void student_map_fill(struct student_map *map, double dof)
{
    map->plain = !isfinite(dof);
    for (size_t k = 0; !map->plain && k < KNOTS; k++)
        map->knot[k] = k == 0 ? 0
                              : ht_student_quantile(
                                    ht_normal_cdf((double)k * knot_step), dof);
}

static double student_map_use(const struct student_map *map, double z)
{
    if (map->plain)
        return z;
    double place = fmin(fabs(z) / knot_step, KNOTS - 1.000001);
    size_t k = (size_t)place;
    double t =
        map->knot[k] + (place - (double)k) * (map->knot[k + 1] - map->knot[k]);
    return copysign(t, z);
}

/* One error source: every stratum of the normal law once, in shuffled
 * order. */
static void draw_source(double *out, const double *strata, size_t draws,
                        double u, double dof, uint64_t *state)
{
    struct student_map map;
    student_map_fill(&map, dof);
    memcpy(out, strata, draws * sizeof *out);
    for (size_t i = draws - 1; i > 0; i--) {
        size_t other = (size_t)(ht_random_bits(state) % (i + 1));
        double kept = out[i];
        out[i] = out[other];
        out[other] = kept;
    }
    for (size_t i = 0; i < draws; i++)
        out[i] = u * student_map_use(&map, out[i]);
}

/* The normal law's middle of each of `draws` equal shares: from one to the
 * next by Newton's steps on the distribution function, mirrored. */
static void fill_strata(double *strata, size_t draws)
{
    double z = ht_normal_quantile(0.5 / (double)draws);
    for (size_t i = 0; i < (draws + 1) / 2; i++) {
        double share = ((double)i + 0.5) / (double)draws, step = 1;
        for (int n = 0; n < 50 && fabs(step) > 1e-13; n++) {
            double density = exp(-z * z / 2) / sqrt(2 * HT_PI);
            step = (share - ht_normal_cdf(z)) / density;
            z += step;
        }
        strata[i] = z;
        strata[draws - 1 - i] = -z;
    }
}

/* Rows of `work`: strata, zero error, one per reading, one per heading, one
 * per offset if there are any. */
static void draw_sources(const struct ht_model *model, double *work,
                         size_t draws)
{
    uint64_t state = seed;
    double *row = work + draws;
    fill_strata(work, draws);
    draw_source(row, work, draws, model->zero_u_rad, INFINITY, &state);
    for (size_t i = 0; i < model->readings; i++)
        draw_source(row += draws, work, draws,
                    ht_reading_u_rad(&model->reading[i]),
                    ht_reading_dof(&model->reading[i]), &state);
    for (size_t i = 0; i <= model->joints; i++)
        draw_source(row += draws, work, draws, model->heading_u_rad, INFINITY,
                    &state);
    for (size_t j = 0; j < model->joints && model->by_offsets; j++)
        draw_source(row += draws, work, draws, model->offset_u_m, INFINITY,
                    &state);
}

static void drawn_chain(const struct ht_model *model, const double *work,
                        size_t draws, size_t i, struct ht_chain *chain)
{
    struct ht_sources sources = model->read;
    double zero = work[draws + i];
    const double *row = work + 2 * draws + i;
    for (size_t r = 0; r < model->readings; r++, row += draws)
        sources.value_rad[r] += *row + model->reading[r].zero * zero;
    for (size_t m = 0; m <= model->joints; m++, row += draws)
        sources.heading_rad[m] += *row;
    for (size_t j = 0; j < model->joints && model->by_offsets; j++)
        sources.offset_m[j] += row[j * draws];
    ht_model_place(model, &sources, chain);
}

static void draw_results(struct ht_spread *spread, const struct ht_model *model,
                         const double *work)
{
    struct ht_chain chain = model->chain;
    for (size_t i = 0; i < spread->draws; i++) {
        drawn_chain(model, work, spread->draws, i, &chain);
        for (size_t j = 0; j < model->joints; j++)
            spread->joint_rad[j][i] = ht_working_angle_rad(
                chain.slope_rad[j], chain.heading_rad[j],
                chain.slope_rad[j + 1], chain.heading_rad[j + 1]);
        for (size_t p = 0; p < model->pairs; p++)
            spread->pair_rad[p][i] =
                fabs(spread->joint_rad[model->pair[p].front][i] -
                     spread->joint_rad[model->pair[p].rear][i]);
        spread->h2_rad[i] = ht_phasor_size(ht_chain_second(&chain));
        if (model->joints > 2)
            spread->section_rad[i] = ht_chain_worst_section(&chain);
    }
}

static size_t sources_of(const struct ht_model *model)
{
    return 2 + model->readings + model->joints + 1 +
           (model->by_offsets ? model->joints : 0);
}

enum ht_status ht_spread_lines(struct ht_chain *line, size_t draws,
                               const struct ht_model *model,
                               struct ht_error *err)
{
    double *work = ht_allocate(draws * sources_of(model), sizeof *work);
    if (!work)
        return ht_fail(err, ANGLES_NO_MEMORY);
    draw_sources(model, work, draws);
    for (size_t i = 0; i < draws; i++) {
        line[i] = model->chain;
        drawn_chain(model, work, draws, i, &line[i]);
    }
    ht_release(work);
    return HT_OK;
}

enum ht_status ht_spread_create(struct ht_spread *spread,
                                const struct ht_model *model, size_t draws,
                                struct ht_error *err)
{
    size_t results = model->joints + model->pairs + 2;
    *spread = (struct ht_spread){ .draws = draws };
    spread->memory = ht_allocate(draws * results, sizeof(double));
    double *work = ht_allocate(draws * sources_of(model), sizeof(double));
    if (!spread->memory || !work) {
        ht_release(work);
        ht_spread_free(spread);
        return ht_fail(err, ANGLES_NO_MEMORY);
    }
    double *next = spread->memory;
    for (size_t j = 0; j < model->joints; j++, next += draws)
        spread->joint_rad[j] = next;
    for (size_t p = 0; p < model->pairs; p++, next += draws)
        spread->pair_rad[p] = next;
    spread->h2_rad = next;
    spread->section_rad = next + draws;
    draw_sources(model, work, draws);
    draw_results(spread, model, work);
    ht_release(work);
    return HT_OK;
}

void ht_spread_free(struct ht_spread *spread)
{
    ht_release(spread->memory);
    *spread = (struct ht_spread){ 0 };
}

double ht_share_above(const double *value, size_t draws, double limit)
{
    size_t above = 0;
    for (size_t i = 0; i < draws; i++)
        above += value[i] > limit;
    return (double)above / (double)draws;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double quantile(const double *sorted, size_t draws, double share)
{
    double place = share * (double)(draws - 1);
    size_t k = (size_t)place;
    double rest = place - (double)k;
    return sorted[k] + (k + 1 < draws ? rest * (sorted[k + 1] - sorted[k]) : 0);
}

bool ht_five_of(struct ht_five *five, const double *value, size_t draws)
{
    double *sorted = ht_allocate(draws, sizeof *sorted);
    if (!sorted)
        return false;
    memcpy(sorted, value, draws * sizeof *sorted);
    qsort(sorted, draws, sizeof *sorted, by_size);
    *five = (struct ht_five){ quantile(sorted, draws, 0.025),
                              quantile(sorted, draws, 0.158655),
                              quantile(sorted, draws, 0.5),
                              quantile(sorted, draws, 0.841345),
                              quantile(sorted, draws, 0.975) };
    ht_release(sorted);
    return true;
}

struct ht_estimate ht_estimate_of(const struct ht_five *five)
{
    return (struct ht_estimate){ five->median, (five->above - five->below) / 2,
                                 five->low, five->high };
}
