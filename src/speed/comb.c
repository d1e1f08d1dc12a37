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

/* Of one line, for one path. */
struct sums {
    double z[HT_COMB_GROUPS][HT_COMB_CHANNELS_MAX];
    double n[HT_COMB_GROUPS];
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

static void add_frame(const struct ht_comb *comb, size_t frame, double hz,
                      struct sums *sums)
{
    const struct ht_frames *f = comb->frames;
    size_t channels = ht_comb_channels(comb), group = comb->group[frame];
    double bin = hz / f->bin_hz + 0.5;
    if (hz < HT_COMB_LOWEST_HZ || bin >= (double)f->bins)
        return;
    const float *z = ht_frames_z(f, frame, 0) + (size_t)bin;
    sums->n[group] += 1;
    for (size_t c = 0; c < channels; c++) {
        float v = z[c * f->bins];
        sums->z[group][c] += (double)(v < HT_COMB_Z_CAP ? v : HT_COMB_Z_CAP);
    }
}

/* All paths through one frame after the other: they lie close together there,
 * in memory too. */
static void collect(const struct ht_comb *comb, size_t line,
                    const struct ht_comb_paths *paths, struct sums *sums)
{
    size_t frames = comb->frames->frames;
    double clash_hz[HT_LINES_MAX], order = comb->lines->line[line].order;
    ht_comb_clashes(comb, clash_hz);
    for (size_t k = 0; k < frames && line >= comb->first_scored; k++)
        for (size_t v = 0; v < paths->speeds; v++) {
            double speed = paths->path_m_s[v * frames + k];
            struct sums *of_speed = sums + v * paths->scales;
            for (size_t s = 0; s < paths->scales; s++) {
                double wheel_hz = speed * paths->turns_per_m[s];
                if (wheel_hz > 0 && !(wheel_hz < clash_hz[line]))
                    add_frame(comb, k, wheel_hz * order, &of_speed[s]);
            }
        }
}

static void fill_detail(const struct ht_comb *comb, size_t line,
                        const struct sums *sums,
                        struct ht_comb_detail *detail)
{
    detail->frames[line] = 0;
    for (size_t g = 0; g < HT_COMB_GROUPS; g++)
        detail->frames[line] += sums->n[g];
    for (size_t c = 0; c < ht_comb_channels(comb); c++) {
        double sum = 0;
        for (size_t g = 0; g < HT_COMB_GROUPS; g++)
            sum += sums->z[g][c];
        detail->mean[line][c] = sum / fmax(detail->frames[line], 1);
    }
}

double ht_comb_evidence(const struct ht_comb *comb, double n, double sum)
{
    if (!(sum > n))
        return 0;
    double m = sum / n;
    return comb->share * n * (m - 1 - log(m));
}

static double score_of(const struct ht_comb *comb, const struct sums *sums)
{
    double score = 0;
    for (size_t g = 0; g < HT_COMB_GROUPS; g++)
        for (size_t c = 0; c < ht_comb_channels(comb); c++)
            score += ht_comb_evidence(comb, sums->n[g], sums->z[g][c]);
    return score;
}

void ht_comb_line(const struct ht_comb *comb, size_t line,
                  const struct ht_comb_paths *paths,
                  double score[HT_COMB_PATHS_MAX])
{
    struct sums sums[HT_COMB_PATHS_MAX];
    size_t count = paths->speeds * paths->scales;
    memset(sums, 0, count * sizeof sums[0]);
    collect(comb, line, paths, sums);
    for (size_t p = 0; p < count; p++)
        score[p] = score_of(comb, &sums[p]);
}

double ht_comb_score(const struct ht_comb *comb, const double *path_m_s,
                     double turns_per_m, struct ht_comb_detail *detail)
{
    const struct ht_comb_paths one = { path_m_s, 1, { turns_per_m }, 1 };
    double score = 0;
    if (detail)
        *detail = (struct ht_comb_detail){ .score = { 0 } };
    for (size_t i = 0; i < comb->lines->count; i++) {
        struct sums sums = { 0 };
        collect(comb, i, &one, &sums);
        double of_line = score_of(comb, &sums);
        if (detail) {
            fill_detail(comb, i, &sums, detail);
            detail->score[i] = of_line;
        }
        score += of_line;
    }
    return score;
}
