#include "whiten.h"

#include "common/memory.h"
#include "common/statistics.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { GROUPS = 10 };

/* Median of an exponential variable over its mean. */
static const double median_over_mean = 0.69314718055994531;

struct whitener {
    struct ht_frames *f;
    double *scratch;      /* as many as frames or bins, plus 1 */
    double *level;        /* [frame] of one channel */
    double *record;       /* [bin] of one channel */
    double *local, *next; /* [frame][knot] of one channel */
    int *group;           /* [frame] */
    size_t step, knots;   /* bins between knots */
};

static float *row(const struct whitener *w, size_t frame, size_t channel)
{
    return w->f->z + (frame * w->f->channels + channel) * w->f->bins;
}

static void find_levels(struct whitener *w, size_t c)
{
    size_t from = (size_t)(5 / w->f->bin_hz);
    if (from + 8 > w->f->bins)
        from = 0;
    for (size_t k = 0; k < w->f->frames; k++) {
        size_t n = 0;
        for (size_t b = from; b < w->f->bins; b++)
            w->scratch[n++] = (double)row(w, k, c)[b];
        w->level[k] = ht_median(w->scratch, n);
    }
}

/* Groups of equal width in ln speed: a long cruise counts as one group, so
 * that it does not pass for noise. */
static void find_groups(struct whitener *w, const struct ht_speed_path *path,
                        double lag_s)
{
    double low = INFINITY, high = 0;
    for (size_t k = 0; k < w->f->frames; k++) {
        double v = ht_path_speed(path, w->f->time_s[k] + lag_s);
        low = fmin(low, v);
        high = fmax(high, v);
    }
    double width = log(high / low) / GROUPS + 1e-12;
    for (size_t k = 0; k < w->f->frames; k++) {
        double v = ht_path_speed(path, w->f->time_s[k] + lag_s);
        int g = (int)(log(v / low) / width);
        w->group[k] = g < GROUPS ? g : GROUPS - 1;
    }
}

static double at_frequency(struct whitener *w, size_t c, size_t b)
{
    double of_group[GROUPS];
    size_t groups = 0;
    for (int g = 0; g < GROUPS; g++) {
        size_t n = 0;
        for (size_t k = 0; k < w->f->frames; k++)
            if (w->group[k] == g)
                w->scratch[n++] = (double)row(w, k, c)[b] / w->level[k];
        if (n >= 3)
            of_group[groups++] = ht_median(w->scratch, n) / median_over_mean;
    }
    if (groups >= 3)
        return ht_median(of_group, groups);
    size_t n = 0;
    for (size_t k = 0; k < w->f->frames; k++)
        w->scratch[n++] = (double)row(w, k, c)[b] / w->level[k];
    return ht_median(w->scratch, n) / median_over_mean;
}

static double mean_at(const struct whitener *w, size_t c, size_t b)
{
    double sum = 0;
    for (size_t k = 0; k < w->f->frames; k++)
        sum += (double)row(w, k, c)[b] / w->level[k];
    return sum / (double)w->f->frames;
}

/* Median of values within `reach` of the middle. */
static double around(double *scratch, const double *v, size_t n, size_t middle,
                     size_t reach)
{
    size_t from = middle > reach ? middle - reach : 0;
    size_t to = middle + reach + 1 < n ? middle + reach + 1 : n;
    memcpy(scratch, v + from, (to - from) * sizeof *v);
    return ht_median(scratch, to - from);
}

static void find_record(struct whitener *w, size_t c, bool sweeps)
{
    size_t bins = w->f->bins;
    double *raw = w->next;
    for (size_t b = 0; b < bins; b++)
        raw[b] = sweeps ? at_frequency(w, c, b) : mean_at(w, c, b);
    size_t reach = (size_t)(6 / w->f->bin_hz);
    for (size_t b = 0; b < bins; b++) {
        size_t a = b ? b - 1 : 0, d = b + 1 < bins ? b + 1 : b;
        w->record[b] = sweeps ? (raw[a] + raw[b] + raw[d]) / 3
                              : around(w->scratch, raw, bins, b, reach);
    }
}

static void find_local(struct whitener *w, size_t c)
{
    size_t bins = w->f->bins, reach = (size_t)(5 / w->f->bin_hz);
    double *ratio = w->scratch + bins + w->f->frames;
    for (size_t k = 0; k < w->f->frames; k++) {
        const float *p = row(w, k, c);
        for (size_t b = 0; b < bins; b++)
            ratio[b] = (double)p[b] / (w->level[k] * w->record[b]);
        for (size_t j = 0; j < w->knots; j++) {
            size_t middle = j * w->step < bins ? j * w->step : bins - 1;
            w->local[k * w->knots + j] =
                around(w->scratch, ratio, bins, middle, reach) /
                median_over_mean;
        }
    }
}

static double over_frames(const struct whitener *w, size_t k, size_t j)
{
    size_t from = k > 2 ? k - 2 : 0;
    size_t to = k + 3 < w->f->frames ? k + 3 : w->f->frames;
    double sum = 0;
    for (size_t i = from; i < to; i++)
        sum += w->local[i * w->knots + j];
    return sum / (double)(to - from);
}

static void divide(struct whitener *w, size_t c)
{
    size_t bins = w->f->bins;
    for (size_t k = 0; k < w->f->frames; k++) {
        float *p = row(w, k, c);
        float *floor_row = w->f->floor + (p - w->f->z);
        for (size_t j = 0; j < w->knots; j++)
            w->next[j] = over_frames(w, k, j);
        for (size_t b = 0; b < bins; b++) {
            size_t j = b / w->step;
            double f = (double)(b % w->step) / (double)w->step;
            double local = w->next[j] + f * (w->next[j + 1] - w->next[j]);
            double level = w->level[k] * w->record[b] * local;
            floor_row[b] = (float)level;
            p[b] = (float)((double)p[b] / level);
        }
    }
}

bool ht_whiten(struct ht_frames *f, const struct ht_speed_path *path,
               const struct ht_frames_plan *plan)
{
    struct whitener w = { .f = f, .step = (size_t)(2 / f->bin_hz) + 1 };
    w.knots = f->bins / w.step + 2;
    if (!f->frames)
        return true;
    size_t longest = f->bins + f->frames;
    size_t doubles =
        2 * longest + f->frames + 2 * f->bins + f->frames * w.knots + w.knots;
    w.scratch = ht_allocate(doubles, sizeof(double));
    w.group = ht_allocate(f->frames, sizeof *w.group);
    if (w.scratch && w.group) {
        w.level = w.scratch + 2 * longest;
        w.record = w.level + f->frames;
        w.next = w.record + f->bins;
        w.local = w.next + f->bins + w.knots;
        find_groups(&w, path, plan->lag_s);
        for (size_t c = 0; c < f->channels; c++) {
            find_levels(&w, c);
            find_record(&w, c, plan->sweeps);
            find_local(&w, c);
            divide(&w, c);
        }
    }
    bool fine = w.scratch && w.group;
    ht_release(w.scratch);
    ht_release(w.group);
    return fine;
}
