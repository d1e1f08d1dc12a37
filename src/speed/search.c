#include "search.h"

#include "whiten.h"

#include "common/memory.h"
#include "common/statistics.h"

#include <math.h>

struct grid {
    const struct ht_comb *comb;
    const struct ht_speed_path *path;
    struct ht_range ratio, lag;
    size_t ratios, lags;
    double *score; /* [lag][ratio] */
    double *speed; /* [frame] */
    double *scratch;
};

static void speeds_at(struct grid *g, double lag_s)
{
    for (size_t k = 0; k < g->comb->frames->frames; k++)
        g->speed[k] =
            ht_path_speed(g->path, g->comb->frames->time_s[k] + lag_s);
}

static double ratio_of(const struct grid *g, size_t i)
{
    return exp(g->ratio.from + g->ratio.step * (double)i);
}

static void fill(struct grid *g)
{
    for (size_t l = 0; l < g->lags; l++) {
        speeds_at(g, g->lag.from + g->lag.step * (double)l);
        for (size_t i = 0; i < g->ratios; i++)
            g->score[l * g->ratios + i] =
                ht_comb_score(g->comb, g->speed, ratio_of(g, i), NULL);
    }
}

static void best_of_grid(struct grid *g, struct ht_fit *fit)
{
    size_t n = g->lags * g->ratios, best = 0;
    for (size_t i = 0; i < n; i++) {
        g->scratch[i] = g->score[i];
        if (g->score[i] > g->score[best])
            best = i;
    }
    fit->score = g->score[best];
    fit->usual = ht_median(g->scratch, n);
    fit->turns_per_m = ratio_of(g, best % g->ratios);
    fit->lag_s = g->lag.from + g->lag.step * (double)(best / g->ratios);
}

static void find_rival(struct grid *g, struct ht_fit *fit)
{
    fit->rival_score = -INFINITY;
    for (size_t i = 0; i < g->lags * g->ratios; i++) {
        double ratio = ratio_of(g, i % g->ratios);
        if (fabs(log(ratio / fit->turns_per_m)) > 0.015 &&
            g->score[i] > fit->rival_score) {
            fit->rival_score = g->score[i];
            fit->rival_turns_per_m = ratio;
        }
    }
}

/* Coordinate steps that halve; the score is piecewise constant below about a
 * tenth of a bin, so four halvings are enough. */
static void polish(struct grid *g, struct ht_fit *fit)
{
    double ratio_step = g->ratio.step, lag_step = g->lag.step;
    for (int round = 0; round < 4; round++) {
        ratio_step *= 0.5;
        lag_step *= 0.5;
        double ratio0 = fit->turns_per_m, lag0 = fit->lag_s;
        for (int l = -2; l <= 2; l++) {
            if (g->lags == 1 && l)
                continue;
            speeds_at(g, lag0 + l * lag_step);
            for (int i = -2; i <= 2; i++) {
                double ratio = ratio0 * exp(i * ratio_step);
                double score = ht_comb_score(g->comb, g->speed, ratio, NULL);
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
static void find_widths(struct grid *g, struct ht_fit *fit)
{
    double low = INFINITY, high = -INFINITY, ratio_u = 0;
    for (size_t l = 0; l < g->lags; l++)
        for (size_t i = 0; i < g->ratios; i++) {
            if (g->score[l * g->ratios + i] < fit->score - 2)
                continue;
            double lag = g->lag.from + g->lag.step * (double)l;
            low = fmin(low, lag);
            high = fmax(high, lag);
            ratio_u =
                fmax(ratio_u, fabs(log(ratio_of(g, i) / fit->turns_per_m)));
        }
    fit->turns_per_m_u = fmax(0.5 * ratio_u, 0.25 * g->ratio.step);
    fit->lag_u_s = fmax(0.25 * (high - low), 0.5 * g->lag.step);
    fit->lag_seen = g->lags > 1 && high > low - 1 &&
                    low > g->lag.from + 0.5 * g->lag.step &&
                    high < g->lag.to - 0.5 * g->lag.step;
    if (!(high >= low)) {
        fit->lag_u_s = 0.5 * g->lag.step;
        fit->lag_seen = g->lags > 1;
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
    struct grid g = {
        .comb = comb, .path = path, .ratio = log_turns_per_m, .lag = lag_s
    };
    g.ratios = steps(log_turns_per_m);
    g.lags = steps(lag_s);
    size_t cells = g.lags * g.ratios;
    g.score = ht_allocate(2 * cells + comb->frames->frames, sizeof(double));
    if (!g.score)
        return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    g.scratch = g.score + cells;
    g.speed = g.scratch + cells;
    fill(&g);
    best_of_grid(&g, fit);
    polish(&g, fit);
    find_rival(&g, fit);
    find_widths(&g, fit);
    ht_release(g.score);
    return HT_OK;
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
