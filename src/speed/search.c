#include "search.h"

#include "texts.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "common/statistics.h"

#include <math.h>

struct search {
    struct ht_grid grid;
    const struct ht_comb *comb;
    const struct ht_speed_path *path;
    double *score; /* [lag][ratio] */
    double *speed; /* [TRIED * frames] */
    double *scratch;
};

static void speeds_at(const struct search *s, double lag_s, double *speed)
{
    for (size_t k = 0; k < s->comb->frames->frames; k++)
        speed[k] =
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

/* Scores of a few lags and ratios around the best so far, of all lines side by
 * side. */
enum { BESIDE = 2, TRIED = 2 * BESIDE + 1 };
struct trial {
    const struct search *search;
    double ratio, lag_s, ratio_step, lag_step_s; /* of the middle; steps */
    size_t first_lag;                            /* of those tried */
    double *speed;                               /* [TRIED * frames] */
    struct ht_comb_paths paths;
    double score[HT_LINES_MAX][HT_COMB_PATHS_MAX];
};

static double ratio_tried(const struct trial *t, size_t i)
{
    return t->ratio * exp(((double)i - BESIDE) * t->ratio_step);
}

static double lag_tried(const struct trial *t, size_t l)
{
    return t->lag_s + ((double)l - BESIDE) * t->lag_step_s;
}

static void try_line(void *context, size_t line)
{
    struct trial *t = context;
    ht_comb_line(t->search->comb, line, &t->paths, t->score[line]);
}

/* A steady speed has one lag only. */
static void try_all(struct trial *t)
{
    const struct search *s = t->search;
    bool one = s->grid.lags == 1;
    t->first_lag = one ? BESIDE : 0;
    t->paths = (struct ht_comb_paths){ .path_m_s = t->speed,
                                       .speeds = one ? 1 : TRIED,
                                       .scales = TRIED };
    for (size_t i = 0; i < TRIED; i++)
        t->paths.turns_per_m[i] = ratio_tried(t, i);
    for (size_t l = 0; l < t->paths.speeds; l++)
        speeds_at(s, lag_tried(t, t->first_lag + l),
                  t->speed + l * s->comb->frames->frames);
    ht_parallel(s->comb->lines->count, try_line, t);
}

static void take_best(const struct trial *t, struct ht_fit *fit)
{
    for (size_t p = 0; p < t->paths.speeds * TRIED; p++) {
        double score = 0;
        for (size_t line = 0; line < t->search->comb->lines->count; line++)
            score += t->score[line][p];
        if (score > fit->score) {
            fit->score = score;
            fit->turns_per_m = ratio_tried(t, p % TRIED);
            fit->lag_s = lag_tried(t, t->first_lag + p / TRIED);
        }
    }
}

/* Coordinate steps that halve; the score is piecewise constant below about a
 * tenth of a bin, so four halvings are enough. */
static void polish(struct search *s, struct ht_fit *fit)
{
    struct trial trial = { .search = s, .speed = s->speed,
                           .ratio_step = s->grid.log_turns_per_m.step,
                           .lag_step_s = s->grid.lag_s.step };
    for (int round = 0; round < 4; round++) {
        trial.ratio_step *= 0.5;
        trial.lag_step_s *= 0.5;
        trial.ratio = fit->turns_per_m;
        trial.lag_s = fit->lag_s;
        try_all(&trial);
        take_best(&trial, fit);
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
    s.score = ht_allocate(2 * cells + TRIED * comb->frames->frames,
                          sizeof(double));
    bool fine = s.score && ht_sweep(s.score, &s.grid, comb, path);
    if (fine) {
        s.scratch = s.score + cells;
        s.speed = s.scratch + cells;
        best_of_grid(&s, fit);
        speeds_at(&s, fit->lag_s, s.speed);
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
    static const double beside[] = { 0.95, 0.965, 1.035, 1.05, 1 };
    struct ht_comb_paths paths = { .path_m_s = speed, .speeds = 1,
                                   .scales = 5 };
    double usual = 0, score[5] = { 0 }, of_line[HT_COMB_PATHS_MAX];
    for (size_t i = 0; i < 5; i++)
        paths.turns_per_m[i] = turns_per_m * beside[i];
    for (size_t line = 0; line < comb->lines->count; line++) {
        ht_comb_line(comb, line, &paths, of_line);
        for (size_t i = 0; i < 5; i++)
            score[i] += of_line[i];
    }
    for (size_t i = 0; i < 4; i++)
        usual += score[i] / 4;
    return score[4] - usual;
}

/* Stretches of the drive, one after the other. */
struct pieces {
    const struct ht_fit *fit;
    const struct ht_comb *comb;
    double *speed;        /* [frame] */
    unsigned char *group; /* [frame]: all one, a stretch has few frames */
    size_t *first;        /* [count + 1]: frame with which it begins */
    signed char *higher;  /* [count]: 1, 0, or -1 for too few frames */
    size_t count;
};

static void judge_piece(void *context, size_t index)
{
    struct pieces *p = context;
    size_t first = p->first[index], frames = p->first[index + 1] - first;
    struct ht_frames some = *p->comb->frames;
    struct ht_comb comb = *p->comb;
    some.z += first * some.channels * some.bins;
    some.frames = frames;
    comb.frames = &some;
    comb.group = p->group;
    p->higher[index] = -1;
    if (frames >= 4)
        p->higher[index] = over_neighbours(&comb, p->speed + first,
                                           p->fit->turns_per_m) > 0;
}

static bool cut_pieces(struct pieces *p, const struct ht_speed_path *path)
{
    static const double stretch_s = 15;
    const struct ht_frames *f = p->comb->frames;
    double end_s = 0;
    p->speed = ht_allocate(f->frames + 1, sizeof *p->speed);
    p->first = ht_allocate(f->frames + 1, sizeof *p->first);
    p->group = ht_allocate(2 * (f->frames + 1), 1);
    if (!p->speed || !p->first || !p->group)
        return false;
    p->higher = (signed char *)p->group + f->frames + 1;
    for (size_t k = 0; k < f->frames; k++) {
        p->speed[k] = ht_path_speed(path, f->time_s[k] + p->fit->lag_s);
        if (k > 0 && f->time_s[k] < end_s)
            continue;
        end_s = (floor(f->time_s[k] / stretch_s) + 1) * stretch_s;
        p->first[p->count++] = k;
    }
    p->first[p->count] = f->frames;
    return true;
}

double ht_fit_share(const struct ht_fit *fit, const struct ht_comb *comb,
                    const struct ht_speed_path *path)
{
    struct pieces p = { .fit = fit, .comb = comb };
    bool fine = cut_pieces(&p, path);
    double judged = 0, higher = 0;
    if (fine)
        ht_parallel(p.count, judge_piece, &p);
    for (size_t i = 0; i < p.count; i++) {
        judged += p.higher[i] >= 0;
        higher += p.higher[i] > 0;
    }
    ht_release(p.speed);
    ht_release(p.first);
    ht_release(p.group);
    if (!fine)
        return NAN;
    return judged > 0 ? higher / judged : 0;
}
