#include "search.h"

#include "texts.h"

#include "common/memory.h"
#include "common/statistics.h"

#include <math.h>

struct search {
    struct ht_grid grid;
    const struct ht_comb *comb;
    const struct ht_speed_path *path;
    double *score; /* [lag][ratio] */
    double *speed; /* [frame] */
    double *scratch;
};

static void speeds_at(struct search *s, double lag_s)
{
    for (size_t k = 0; k < s->comb->frames->frames; k++)
        s->speed[k] =
            ht_path_speed(s->path, s->comb->frames->time_s[k] + lag_s);
}

static double ratio_of(const struct search *s, size_t i)
{
    const struct ht_range *range = &s->grid.log_turns_per_m;
    return exp(range->from + range->step * (double)i);
}

static double lag_of(const struct search *s, size_t l)
{
    return s->grid.lag_s.from + s->grid.lag_s.step * (double)l;
}

static void best_of_grid(struct search *s, struct ht_fit *fit)
{
    size_t n = s->grid.lags * s->grid.ratios, best = 0;
    for (size_t i = 0; i < n; i++) {
        s->scratch[i] = s->score[i];
        if (s->score[i] > s->score[best])
            best = i;
    }
    fit->score = s->score[best];
    fit->usual = ht_median(s->scratch, n);
    fit->turns_per_m = ratio_of(s, best % s->grid.ratios);
    fit->lag_s = lag_of(s, best / s->grid.ratios);
}

static void find_rival(struct search *s, struct ht_fit *fit)
{
    fit->rival_score = -INFINITY;
    for (size_t i = 0; i < s->grid.lags * s->grid.ratios; i++) {
        double ratio = ratio_of(s, i % s->grid.ratios);
        if (fabs(log(ratio / fit->turns_per_m)) > 0.015 &&
            s->score[i] > fit->rival_score) {
            fit->rival_score = s->score[i];
            fit->rival_turns_per_m = ratio;
        }
    }
}

/* Coordinate steps that halve; the score is piecewise constant below about a
 * tenth of a bin, so four halvings are enough. */
static void polish(struct search *s, struct ht_fit *fit)
{
    double ratio_step = s->grid.log_turns_per_m.step;
    double lag_step = s->grid.lag_s.step;
    for (int round = 0; round < 4; round++) {
        ratio_step *= 0.5;
        lag_step *= 0.5;
        double ratio0 = fit->turns_per_m, lag0 = fit->lag_s;
        for (int l = -2; l <= 2; l++) {
            if (s->grid.lags == 1 && l)
                continue;
            speeds_at(s, lag0 + l * lag_step);
            for (int i = -2; i <= 2; i++) {
                double ratio = ratio0 * exp(i * ratio_step);
                double score = ht_comb_score(s->comb, s->speed, ratio, NULL);
                if (score > fit->score) {
                    fit->score = score;
                    fit->turns_per_m = ratio;
                    fit->lag_s = lag0 + l * lag_step;
                }
            }
        }
    }
}

/* A log-likelihood falls by 2 at two standard deviations. */
static void find_widths(struct search *s, struct ht_fit *fit)
{
    double low = INFINITY, high = -INFINITY, ratio_u = 0;
    for (size_t l = 0; l < s->grid.lags; l++)
        for (size_t i = 0; i < s->grid.ratios; i++) {
            if (s->score[l * s->grid.ratios + i] < fit->score - 2)
                continue;
            double lag = lag_of(s, l);
            low = fmin(low, lag);
            high = fmax(high, lag);
            ratio_u =
                fmax(ratio_u, fabs(log(ratio_of(s, i) / fit->turns_per_m)));
        }
    fit->turns_per_m_u =
        fmax(0.5 * ratio_u, 0.25 * s->grid.log_turns_per_m.step);
    fit->lag_u_s = fmax(0.25 * (high - low), 0.5 * s->grid.lag_s.step);
    fit->lag_seen = s->grid.lags > 1 && high > low - 1 &&
                    low > s->grid.lag_s.from + 0.5 * s->grid.lag_s.step &&
                    high < s->grid.lag_s.to - 0.5 * s->grid.lag_s.step;
    if (!(high >= low)) {
        fit->lag_u_s = 0.5 * s->grid.lag_s.step;
        fit->lag_seen = s->grid.lags > 1;
    }
}

static size_t steps(struct ht_range range)
{
    return range.step > 0 && range.to > range.from
               ? (size_t)((range.to - range.from) / range.step + 1.5)
               : 1;
}

enum ht_status ht_fit_search(struct ht_fit *fit, const struct ht_comb *comb,
                             const struct ht_speed_path *path,
                             struct ht_range log_turns_per_m,
                             struct ht_range lag_s, struct ht_error *err)
{
    *fit = (struct ht_fit){ .lag_seen = false };
    struct search s = { .comb = comb, .path = path };
    s.grid = (struct ht_grid){ log_turns_per_m, lag_s, steps(log_turns_per_m),
                               steps(lag_s) };
    size_t cells = s.grid.lags * s.grid.ratios;
    s.score = ht_allocate(2 * cells + comb->frames->frames, sizeof(double));
    bool fine = s.score && ht_sweep(s.score, &s.grid, comb, path);
    if (fine) {
        s.scratch = s.score + cells;
        s.speed = s.scratch + cells;
        best_of_grid(&s, fit);
        speeds_at(&s, fit->lag_s);
        fit->score = ht_comb_score(comb, s.speed, fit->turns_per_m, NULL);
        polish(&s, fit);
        find_rival(&s, fit);
        find_widths(&s, fit);
    }
    ht_release(s.score);
    return fine ? HT_OK
                : ht_fail(err, SPEED_NO_MEMORY);
}

static double over_neighbours(const struct ht_comb *comb, const double *speed,
                              double turns_per_m)
{
    static const double beside[] = { 0.95, 0.965, 1.035, 1.05 };
    double usual = 0;
    for (size_t i = 0; i < 4; i++)
        usual += ht_comb_score(comb, speed, turns_per_m * beside[i], NULL) / 4;
    return ht_comb_score(comb, speed, turns_per_m, NULL) - usual;
}

double ht_fit_share(const struct ht_fit *fit, const struct ht_comb *comb,
                    const struct ht_speed_path *path)
{
    static const double stretch_s = 15;
    const struct ht_frames *f = comb->frames;
    double *speed = ht_allocate(f->frames + 1, sizeof *speed);
    if (!speed)
        return NAN;
    /* One group: a stretch has few frames. */
    struct ht_comb single = *comb;
    single.group = ht_allocate(f->frames + 1, 1);
    double stretches = 0, higher = 0;
    double end = f->frames ? f->time_s[f->frames - 1] : 0;
    for (double from = 0; from < end && single.group; from += stretch_s) {
        size_t inside = 0;
        for (size_t k = 0; k < f->frames; k++) {
            double t = f->time_s[k];
            bool in = t >= from && t < from + stretch_s;
            speed[k] = in ? ht_path_speed(path, t + fit->lag_s) : NAN;
            inside += in;
        }
        if (inside < 4)
            continue;
        stretches += 1;
        higher += over_neighbours(&single, speed, fit->turns_per_m) > 0;
    }
    ht_release(single.group);
    ht_release(speed);
    return stretches > 0 ? higher / stretches : 0;
}
