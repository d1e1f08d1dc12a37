#include "finder.h"
#include "wander.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>

/* Starting value, set on made-up drives and one real one: how far the best
 * reading must stand above the usual score. In log-likelihood. */
static const double least_excess = 40;
/* And over how many times the usual: loud lines raise what any wrong reading
 * finds. Right readings of the made-up and real drives of the tests stand at
 * 3 times and more, the log of another drive at 1.8. */
static const double least_times = 2;
static const double circumference_from_m = 1.5, circumference_to_m = 3.6;
/* Starting values, set on made-up drives: by how much the log must fit better
 * in another unit, in log-likelihood as rivals, to be named where the speed is
 * in doubt anyhow; and by how many times to be in doubt for it, and to be
 * refused. One loud line is some order in any unit: of 99 right logs one fits
 * 1.09 times better so. With several lines wrong logs gain 1.6 times. */
static const double least_better = 12, better = 1.2, clearly = 1.4;
#define KM_PER_MILE 1.609344 /* NIST SP 811, appendix B */
static const double steady_search = 0.03, log_search = 0.08;

double ht_finder_largest_m(const struct ht_finder *f)
{
    return ht_finder_tyre_known(f) ? f->request->rotation->circumference_m
                                   : circumference_to_m;
}

static struct ht_range ratio_range(const struct ht_finder *f)
{
    double c = f->request->rotation->circumference_m;
    double reach = f->steady ? steady_search : log_search;
    double middle = -log(c * f->times);
    if (ht_finder_tyre_known(f))
        return (struct ht_range){ middle - reach, middle + reach, 0.002 };
    return (struct ht_range){ -log(circumference_to_m),
                              -log(circumference_from_m), 0.003 };
}

static bool stands_out(const struct ht_fit *fit)
{
    return fit->score - fit->usual > least_excess &&
           fit->score > least_times * fit->usual;
}

static enum ht_status make_frames(struct ht_finder *f, double length_s,
                                  double lag_s, struct ht_error *err)
{
    enum ht_status status = ht_finder_goes_on(f, err);
    ht_comb_free(&f->comb);
    ht_frames_free(&f->frames);
    double hop_s = 0.5 * length_s;
    if (length_s < 3) /* for the lag, 150 frames of a long drive will do */
        hop_s = fmax(hop_s, ht_finder_length_s(f) / 150);
    struct ht_frames_plan plan = { length_s, hop_s, lag_s, 220, f->sweeps };
    if (status == HT_OK)
        status = ht_frames_create(&f->frames, &f->work, &f->path, &plan, err);
    if (status == HT_OK)
        status = ht_finder_goes_on(f, err);
    if (status == HT_OK &&
        !ht_comb_create(&f->comb, &f->frames, &f->lines, &f->path, lag_s))
        status = ht_fail(err, SPEED_NO_MEMORY);
    return status;
}

/* Short frames around a few lags: they bear a wrong slope. */
static enum ht_status search_lag(struct ht_finder *f, double *lag_s,
                                 struct ht_error *err)
{
    double from = f->clock_assumed ? -4 : 0;
    double to = f->clock_assumed ? 6.1 : 2.1, best = -INFINITY;
    struct ht_range ratio = ratio_range(f);
    ratio.step = 0.004;
    enum ht_status status = HT_OK;
    *lag_s = 0;
    for (double base = from; base < to && status == HT_OK; base += 2) {
        status = make_frames(f, 2, base, err);
        struct ht_fit fit = { 0 };
        if (status == HT_OK)
            status = ht_fit_search(
                &fit, &f->comb, &f->path, ratio,
                (struct ht_range){ base - 1, base + 1, 0.1 }, err);
        if (status == HT_OK && fit.score - fit.usual > best) {
            best = fit.score - fit.usual;
            *lag_s = fit.lag_s;
        }
    }
    return status;
}

/* With the gear not said: the reading that fits best with the engine in any
 * gear or in none. An engine that nobody models is read as a shaft. */
static enum ht_status try_gears(struct ht_finder *f, struct ht_range lag,
                                struct ht_error *err)
{
    const struct ht_rotation *rotation = f->request->rotation;
    enum ht_status status = HT_OK;
    for (unsigned g = 1; g <= rotation->gears && status == HT_OK; g++) {
        struct ht_lines lines = ht_lines_expected(rotation, g);
        struct ht_comb comb = f->comb;
        struct ht_fit fit;
        comb.lines = &lines;
        status = ht_fit_search(&fit, &comb, &f->path, ratio_range(f), lag, err);
        if (status == HT_OK)
            status = ht_finder_goes_on(f, err);
        if (status == HT_OK &&
            fit.score - fit.usual > f->fit.score - f->fit.usual)
            f->fit = fit;
    }
    return status;
}

/* The best reading about a lag, along frames made for it. */
static enum ht_status fit_about(struct ht_finder *f, struct ht_range lag,
                                struct ht_error *err)
{
    enum ht_status status = ht_fit_search(&f->fit, &f->comb, &f->path,
                                          ratio_range(f), lag, err);
    if (status == HT_OK && !f->turns->gear)
        status = try_gears(f, lag, err);
    return status;
}

enum ht_status ht_finder_search(struct ht_finder *f, struct ht_error *err)
{
    double lag_s = 0;
    enum ht_status status = HT_OK;
    struct ht_range lag = { 0, 0, 0 };
    if (!f->steady) {
        status = search_lag(f, &lag_s, err);
        lag = (struct ht_range){ lag_s - 0.8, lag_s + 0.8, 0.1 };
    }
    if (status == HT_OK)
        status = make_frames(f, 4, lag_s, err);
    if (status == HT_OK)
        status = fit_about(f, lag, err);
    f->follows = status == HT_OK && f->frames.frames >= 4 &&
                 stands_out(&f->fit);
    return status;
}

static double excess(const struct ht_fit *fit)
{
    return fit->score - fit->usual;
}

/* The log's numbers in another unit: at the lag that was found, which a wrong
 * unit leaves as it is. */
static enum ht_status try_times(struct ht_finder *f, double times,
                                struct ht_fit *fit, struct ht_error *err)
{
    struct ht_fit kept = f->fit;
    f->times = times;
    enum ht_status status = fit_about(
        f, (struct ht_range){ kept.lag_s, kept.lag_s, 0.1 }, err);
    *fit = f->fit;
    f->times = 1;
    f->fit = kept;
    return status;
}

enum ht_status ht_finder_question_unit(struct ht_finder *f,
                                       struct ht_error *err)
{
    static const struct {
        double times;
        const char *reason;
    } mistakes[] = { { KM_PER_MILE, SPEED_LOG_IN_KM_H },
                     { 1 / KM_PER_MILE, SPEED_LOG_IN_MPH } };
    if (f->steady || !ht_finder_tyre_known(f) || f->frames.frames < 4)
        return HT_OK;
    double least = excess(&f->fit) + least_better, best = 0;
    for (size_t i = 0; i < sizeof mistakes / sizeof *mistakes; i++) {
        struct ht_fit fit;
        enum ht_status status = try_times(f, mistakes[i].times, &fit, err);
        if (status != HT_OK)
            return status;
        if (!stands_out(&fit) || !(excess(&fit) > least))
            continue;
        least = excess(&fit);
        best = fit.score;
        f->other_unit = mistakes[i].reason;
    }
    f->unit_doubted = f->other_unit && best > better * f->fit.score;
    if (f->other_unit && (!f->follows || best > clearly * f->fit.score))
        return ht_turns_refuse(f->turns, "%s", f->other_unit);
    return HT_OK;
}

/* An engine order this near in wheel orders passes the first low pass of the
 * refinement beside a wheel or shaft order (1.5 Hz at 12 wheel turns a
 * second): the stronger one would be followed. */
static const double engine_beside = 0.13;

static double strength(const struct ht_comb_detail *detail, size_t i)
{
    double sum = 0;
    for (size_t c = 0; c < HT_COMB_CHANNELS_MAX; c++)
        sum += detail->mean[i][c];
    return sum;
}

static bool drowned_by_engine(const struct ht_lines *lines,
                              const struct ht_comb_detail *detail, size_t i)
{
    for (size_t j = 0; j < lines->count; j++)
        if (lines->line[j].family == HT_FAMILY_ENGINE &&
            fabs(lines->line[i].order - lines->line[j].order) <
                engine_beside &&
            strength(detail, j) > strength(detail, i))
            return true;
    return false;
}

enum ht_status ht_finder_choose_lines(struct ht_finder *f, struct ht_error *err)
{
    struct ht_comb_detail detail;
    double *speed = ht_allocate(f->frames.frames, sizeof *speed);
    if (!speed)
        return ht_fail(err, SPEED_NO_MEMORY);
    for (size_t k = 0; k < f->frames.frames; k++)
        speed[k] = ht_path_speed(&f->path, f->frames.time_s[k] + f->fit.lag_s);
    ht_comb_score(&f->comb, speed, f->fit.turns_per_m, &detail);
    ht_release(speed);
    for (size_t i = 0; i < f->lines.count; i++)
        f->use[i] =
            f->lines.line[i].family != HT_FAMILY_ENGINE &&
                    detail.score[i] > 6 &&
                    !drowned_by_engine(&f->lines, &detail, i);
    return HT_OK;
}

/* A driver holds a speed within a few per cent: the path is bent to the
 * orders, then the frames are made anew along it. */
enum ht_status ht_finder_follow_wander(struct ht_finder *f,
                                       struct ht_error *err)
{
    double *deviation = ht_allocate(f->frames.frames, sizeof *deviation);
    if (!deviation || !ht_wander_find(deviation, &f->comb, &f->path, &f->fit,
                                      steady_search)) {
        ht_release(deviation);
        return ht_fail(err, SPEED_NO_MEMORY);
    }
    ht_wander_apply(&f->path, deviation, &f->frames, f->fit.lag_s);
    ht_release(deviation);
    enum ht_status status = make_frames(f, 4, f->fit.lag_s, err);
    if (status == HT_OK)
        status = ht_fit_search(&f->fit, &f->comb, &f->path, ratio_range(f),
                               (struct ht_range){ 0, 0, 0 }, err);
    f->follows = stands_out(&f->fit);
    return status;
}
