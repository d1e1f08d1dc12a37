#include "comb.h"

#include "common/memory.h"

#include <math.h>
#include <string.h>

static void add_line(struct ht_lines *lines, double order,
                     enum ht_family family)
{
    if (!(order > 0) || lines->count == HT_LINES_MAX)
        return;
    for (size_t i = 0; i < lines->count; i++)
        if (fabs(lines->line[i].order - order) < 1e-9)
            return;
    lines->line[lines->count++] = (struct ht_line){ order, family };
}

struct ht_lines ht_lines_expected(const struct ht_rotation *rotation,
                                  unsigned gear)
{
    struct ht_lines lines = { .count = 0 };
    for (int n = 1; n <= 3; n++)
        add_line(&lines, n, HT_FAMILY_WHEEL);
    for (int n = 1; n <= 2; n++)
        add_line(&lines, n * rotation->shaft_turns, HT_FAMILY_SHAFT);
    if (gear == 0 || gear > rotation->gears)
        return lines;
    double engine = rotation->gear_turns[gear - 1];
    double firing = rotation->cylinders * (rotation->strokes < 3 ? 1 : 0.5);
    double multiples[] = { 1, 2, 0.5, firing, 1.5, 2 * firing };
    for (size_t i = 0; i < sizeof multiples / sizeof multiples[0]; i++)
        add_line(&lines, multiples[i] * engine, HT_FAMILY_ENGINE);
    return lines;
}

double ht_lines_highest(const struct ht_lines *lines)
{
    double highest = 0;
    for (size_t i = 0; i < lines->count; i++)
        highest = fmax(highest, lines->line[i].order);
    return highest;
}

/* Equal numbers of frames in each group of speed. */
bool ht_comb_create(struct ht_comb *comb, const struct ht_frames *frames,
                    const struct ht_lines *lines,
                    const struct ht_speed_path *path, double lag_s)
{
    *comb = (struct ht_comb){ frames, lines, 0, 0.6, 0.015, NULL };
    if (frames->frames < 3 * 8)
        comb->group = ht_allocate(frames->frames + 1, 1);
    else
        comb->group = ht_allocate(frames->frames, 1);
    double *v = ht_allocate(2 * frames->frames + 1, sizeof *v);
    if (!v || !comb->group) {
        ht_release(v);
        ht_comb_free(comb);
        return false;
    }
    for (size_t k = 0; k < frames->frames; k++)
        v[k] = ht_path_speed(path, frames->time_s[k] + lag_s);
    for (size_t k = 0; k < frames->frames && frames->frames >= 24; k++) {
        size_t below = 0;
        for (size_t i = 0; i < frames->frames; i++)
            below += v[i] < v[k] || (i < k && !(v[i] > v[k]));
        comb->group[k] =
            (unsigned char)(below * HT_COMB_GROUPS / frames->frames);
    }
    ht_release(v);
    return true;
}

void ht_comb_free(struct ht_comb *comb)
{
    ht_release(comb->group);
    comb->group = NULL;
}

struct sums {
    double z[HT_COMB_GROUPS][HT_LINES_MAX][HT_COMB_CHANNELS_MAX];
    double n[HT_COMB_GROUPS][HT_LINES_MAX];
};

size_t ht_comb_channels(const struct ht_comb *comb)
{
    size_t channels = comb->frames->channels;
    return channels < HT_COMB_CHANNELS_MAX ? channels : HT_COMB_CHANNELS_MAX;
}

void ht_comb_clashes(const struct ht_comb *comb, double below_hz[HT_LINES_MAX])
{
    const struct ht_line *line = comb->lines->line;
    for (size_t i = 0; i < comb->lines->count; i++) {
        below_hz[i] = 0;
        for (size_t j = 0; j < i; j++) {
            double apart = fabs(line[i].order - line[j].order);
            if (apart < comb->closeness * line[i].order)
                below_hz[i] = INFINITY;
            below_hz[i] = fmax(below_hz[i], comb->frames->cell_hz / apart);
        }
    }
}

/* One frame's line for one scale. */
static void collect_line(const struct ht_comb *comb, const float *z, size_t i,
                         double wheel_hz, size_t group, struct sums *sums)
{
    const struct ht_frames *f = comb->frames;
    size_t channels = ht_comb_channels(comb);
    double hz = wheel_hz * comb->lines->line[i].order;
    double bin = hz / f->bin_hz + 0.5;
    if (hz < HT_COMB_LOWEST_HZ || bin >= (double)f->bins)
        return;
    size_t b = (size_t)bin;
    sums->n[group][i] += 1;
    for (size_t c = 0; c < channels; c++) {
        float v = z[c * f->bins + b];
        sums->z[group][i][c] += (double)(v < HT_COMB_Z_CAP ? v
                                                           : HT_COMB_Z_CAP);
    }
}

/* Scales one after the other where a line is: they lie close together, in
 * memory too. */
static void collect(const struct ht_comb *comb, const double *path_m_s,
                    const struct ht_comb_try *try, struct sums *sums)
{
    const struct ht_frames *f = comb->frames;
    double clash_hz[HT_LINES_MAX];
    ht_comb_clashes(comb, clash_hz);
    size_t from = try->from > comb->first_scored ? try->from
                                                 : comb->first_scored;
    for (size_t k = 0; k < f->frames; k++) {
        const float *z = ht_frames_z(f, k, 0);
        for (size_t i = from; i < try->to; i++)
            for (size_t s = 0; s < try->scales; s++) {
                double wheel_hz = path_m_s[k] * try->turns_per_m[s];
                if (wheel_hz > 0 && !(wheel_hz < clash_hz[i]))
                    collect_line(comb, z, i, wheel_hz, comb->group[k],
                                 &sums[s]);
            }
    }
}

static void fill_detail(const struct ht_comb *comb, const struct sums *sums,
                        struct ht_comb_detail *detail)
{
    *detail = (struct ht_comb_detail){ .score = { 0 } };
    for (size_t i = 0; i < comb->lines->count; i++)
        for (size_t g = 0; g < HT_COMB_GROUPS; g++) {
            detail->frames[i] += sums->n[g][i];
            for (size_t c = 0; c < ht_comb_channels(comb); c++)
                detail->mean[i][c] += sums->z[g][i][c];
        }
    for (size_t i = 0; i < comb->lines->count; i++)
        for (size_t c = 0; c < ht_comb_channels(comb); c++)
            detail->mean[i][c] /= fmax(detail->frames[i], 1);
}

double ht_comb_evidence(const struct ht_comb *comb, double n, double sum)
{
    if (!(sum > n))
        return 0;
    double m = sum / n;
    return comb->share * n * (m - 1 - log(m));
}

static double score_of_line(const struct ht_comb *comb,
                            const struct sums *sums, size_t line)
{
    double score = 0;
    for (size_t g = 0; g < HT_COMB_GROUPS; g++)
        for (size_t c = 0; c < ht_comb_channels(comb); c++)
            score += ht_comb_evidence(comb, sums->n[g][line],
                                      sums->z[g][line][c]);
    return score;
}

void ht_comb_try(const struct ht_comb *comb, const double *path_m_s,
                 struct ht_comb_try *try)
{
    struct sums sums[HT_COMB_SCALES];
    memset(sums, 0, try->scales * sizeof sums[0]);
    collect(comb, path_m_s, try, sums);
    for (size_t s = 0; s < try->scales; s++)
        for (size_t i = try->from; i < try->to; i++)
            try->score[s][i] = score_of_line(comb, &sums[s], i);
}

double ht_comb_score(const struct ht_comb *comb, const double *path_m_s,
                     double turns_per_m, struct ht_comb_detail *detail)
{
    const struct ht_comb_try one = { .turns_per_m = { turns_per_m },
                                     .scales = 1,
                                     .to = comb->lines->count };
    struct sums sums = { 0 };
    collect(comb, path_m_s, &one, &sums);
    if (detail)
        fill_detail(comb, &sums, detail);
    double score = 0;
    for (size_t i = 0; i < comb->lines->count; i++) {
        double of_line = score_of_line(comb, &sums, i);
        if (detail)
            detail->score[i] = of_line;
        score += of_line;
    }
    return score;
}
