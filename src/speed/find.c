#include "align.h"
#include "gear.h"
#include "say.h"
#include "search.h"
#include "turns.h"
#include "wander.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>

/* Starting values, set on made-up drives and one real one: how far the best
 * reading must stand above the usual score, and above the best reading that
 * disagrees. In log-likelihood. */
static const double least_excess = 40, least_margin = 12;
/* Of the drive that must follow the fitted path, or the log is in doubt. */
static const double least_share = 0.7;
static const double shortest_s = 10;
static const double circumference_from_m = 1.5, circumference_to_m = 3.6;
static const double steady_search = 0.03, log_search = 0.08;
/* A log with unknown scale errs by this much where nothing corrects it: dash
 * and bus speeds may read some per cent high. */
static const double unrefined_sd = 0.02;
static const double lag_seen_m_s2 = 0.3, lag_seen_s = 5;

struct finder {
    const struct ht_speed_request *request;
    struct ht_turns *turns;
    struct ht_speed_path path;
    struct ht_work work;
    struct ht_frames frames;
    struct ht_lines lines;
    struct ht_comb comb;
    struct ht_fit fit;
    struct ht_wheel wheel;
    bool steady, sweeps, follows, clock_assumed;
    bool use[HT_LINES_MAX];
};

static double recording_s(const struct finder *f)
{
    const struct ht_recording *r = f->request->recording;
    return (double)r->frames / r->rate_hz;
}

static bool tyre_known(const struct finder *f)
{
    return f->request->rotation->circumference_m > 0;
}

static struct ht_range ratio_range(const struct finder *f)
{
    double c = f->request->rotation->circumference_m;
    double reach = f->steady ? steady_search : log_search;
    if (tyre_known(f))
        return (struct ht_range){ -log(c) - reach, -log(c) + reach, 0.002 };
    return (struct ht_range){ -log(circumference_to_m),
                              -log(circumference_from_m), 0.003 };
}

/* Speeds that the log holds during the recording. */
static void speed_range(const struct finder *f, double *low, double *high)
{
    *low = INFINITY;
    *high = 0;
    for (double t = 0; t < recording_s(f); t += 0.5) {
        double v = ht_path_speed(&f->path, t);
        if (!isfinite(v))
            continue;
        *high = fmax(*high, v);
        if (v > 3)
            *low = fmin(*low, v);
    }
}

static enum ht_status align_log(struct finder *f, struct ht_error *err)
{
    const struct ht_speed_log *log = f->request->log;
    double offset, first = log->time_s[0], last = log->time_s[log->rows - 1];
    enum ht_clock clock =
        ht_clock_align(f->request->recording, first, last, &offset);
    if (clock == HT_CLOCK_APART)
        return ht_turns_refuse(
            f->turns, "The speed log and the recording carry dates that do "
                      "not overlap: this is the log of another drive. Give "
                      "the log of this drive, or the steady speed driven.");
    f->clock_assumed = clock == HT_CLOCK_ASSUMED;
    if (f->clock_assumed)
        ht_turns_note(f->turns, "The speed log's clock starts at %.0f s and "
                      "does not fit the recording's: both starts are laid on "
                      "each other, then the lag is searched.", first);
    enum ht_status status = ht_path_create(&f->path, log, err);
    f->path.start_s -= offset;
    if (status == HT_OK && f->path.quantum_m_s > 0.2)
        ht_turns_note(f->turns, "The speed log is in steps of %.1f km/h; it "
                      "was smoothed within its steps.",
                      f->path.quantum_m_s * HT_KM_H_PER_M_S);
    return status;
}

static enum ht_status make_path(struct finder *f, struct ht_error *err)
{
    if (!f->steady)
        return align_log(f, err);
    return ht_path_steady(&f->path, f->request->steady_m_s, -1,
                          recording_s(f) + 1, err);
}

static bool enough_log(struct finder *f)
{
    double low, high;
    speed_range(f, &low, &high);
    double covered = fmin(recording_s(f), f->path.start_s
                                              + f->path.step_s
                                                    * (double)f->path.points)
                     - fmax(0, f->path.start_s);
    if (covered < fmax(shortest_s, 0.3 * recording_s(f))) {
        ht_turns_refuse(f->turns, "The speed log covers only %.0f s of the "
                        "recording's %.0f s. Give the log of this drive, "
                        "or the steady speed driven.", fmax(covered, 0),
                        recording_s(f));
        return false;
    }
    if (!(high > 3)) {
        ht_turns_refuse(f->turns, "The speed log stands still (highest speed "
                        "%.1f km/h). Check its unit, or drive and record "
                        "again.", high * HT_KM_H_PER_M_S);
        return false;
    }
    f->sweeps = high / low > 1.15;
    return true;
}

static enum ht_status make_frames(struct finder *f, double length_s,
                                  double lag_s, struct ht_error *err)
{
    ht_comb_free(&f->comb);
    ht_frames_free(&f->frames);
    double hop_s = 0.5 * length_s;
    if (length_s < 3) /* for the lag, 150 frames of a long drive will do */
        hop_s = fmax(hop_s, recording_s(f) / 150);
    struct ht_frames_plan plan = { length_s, hop_s, lag_s, 220, f->sweeps };
    enum ht_status status =
        ht_frames_create(&f->frames, &f->work, &f->path, &plan, err);
    if (status == HT_OK
        && !ht_comb_create(&f->comb, &f->frames, &f->lines, &f->path, lag_s))
        status = ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    return status;
}

/* Short frames around a few lags: they bear a wrong slope. */
static enum ht_status search_lag(struct finder *f, double *lag_s,
                                 struct ht_error *err)
{
    double from = f->clock_assumed ? -4.5 : -0.5;
    double to = f->clock_assumed ? 6.6 : 2.6, best = -INFINITY;
    struct ht_range ratio = ratio_range(f);
    ratio.step = 0.004;
    enum ht_status status = HT_OK;
    *lag_s = 0;
    for (double base = from; base < to && status == HT_OK; base += 1) {
        status = make_frames(f, 2, base, err);
        struct ht_fit fit;
        if (status == HT_OK)
            status = ht_fit_search(
                &fit, &f->comb, &f->path, ratio,
                (struct ht_range){ base - 0.5, base + 0.5, 0.1 }, err);
        if (status == HT_OK && fit.score - fit.usual > best) {
            best = fit.score - fit.usual;
            *lag_s = fit.lag_s;
        }
    }
    return status;
}

/* With the gear not said: the reading that fits best with the engine in any
 * gear or in none. An engine that nobody models is read as a shaft. */
static enum ht_status try_gears(struct finder *f, struct ht_range lag,
                                struct ht_error *err)
{
    const struct ht_rotation *rotation = f->request->rotation;
    enum ht_status status = HT_OK;
    for (unsigned g = 1; g <= rotation->gears && status == HT_OK; g++) {
        struct ht_lines lines = ht_lines_expected(rotation, g);
        struct ht_comb comb = f->comb;
        struct ht_fit fit;
        comb.lines = &lines;
        status = ht_fit_search(&fit, &comb, &f->path, ratio_range(f), lag,
                               err);
        if (status == HT_OK
            && fit.score - fit.usual > f->fit.score - f->fit.usual)
            f->fit = fit;
    }
    return status;
}

static enum ht_status search(struct finder *f, struct ht_error *err)
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
        status = ht_fit_search(&f->fit, &f->comb, &f->path, ratio_range(f),
                               lag, err);
    if (status == HT_OK && !f->turns->gear)
        status = try_gears(f, lag, err);
    f->follows = status == HT_OK && f->frames.frames >= 4
                 && f->fit.score - f->fit.usual > least_excess;
    return status;
}

static enum ht_status choose_lines(struct finder *f, struct ht_error *err)
{
    struct ht_comb_detail detail;
    double *speed = ht_allocate(f->frames.frames, sizeof *speed);
    if (!speed)
        return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    for (size_t k = 0; k < f->frames.frames; k++)
        speed[k] = ht_path_speed(&f->path, f->frames.time_s[k] + f->fit.lag_s);
    ht_comb_score(&f->comb, speed, f->fit.turns_per_m, &detail);
    ht_release(speed);
    for (size_t i = 0; i < f->lines.count; i++)
        f->use[i] = f->lines.line[i].family != HT_FAMILY_ENGINE
                    && detail.score[i] > 6;
    return HT_OK;
}

/* A driver holds a speed within a few per cent: the path is bent to the
 * orders, then the frames are made anew along it. */
static enum ht_status follow_wander(struct finder *f, struct ht_error *err)
{
    double *deviation = ht_allocate(f->frames.frames, sizeof *deviation);
    if (!deviation
        || !ht_wander_find(deviation, &f->comb, &f->path, &f->fit,
                           steady_search)) {
        ht_release(deviation);
        return ht_fail(err, HT_NO_MEMORY, "speed search: out of memory");
    }
    ht_wander_apply(&f->path, deviation, &f->frames, f->fit.lag_s);
    ht_release(deviation);
    enum ht_status status = make_frames(f, 4, f->fit.lag_s, err);
    if (status == HT_OK)
        status = ht_fit_search(&f->fit, &f->comb, &f->path, ratio_range(f),
                               (struct ht_range){ 0, 0, 0 }, err);
    f->follows = f->fit.score - f->fit.usual > least_excess;
    return status;
}

static enum ht_status settle_gear(struct finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    const struct ht_rotation *rotation = f->request->rotation;
    if (t->gear || !f->follows || rotation->gears < 2)
        return HT_OK;
    struct ht_gear_find found;
    enum ht_status status = ht_gear_search(&found, &f->frames, &f->path,
                                           rotation, &f->fit, err);
    if (status != HT_OK)
        return status;
    t->gear = found.gear;
    t->gear_found = found.gear != 0;
    if (found.gear)
        ht_turns_note(t, "Gear %u: its engine orders stand in the recording "
                      "for %.0f %% of the drive.", found.gear,
                      100 * found.share);
    else
        ht_turns_note(t, "The recording does not tell which gear was driven, "
                      "or it changed: nothing is said about the engine. Note "
                      "the gear, and hold it for the drive.");
    return HT_OK;
}

static void scale_from_fit(struct finder *f)
{
    struct ht_turns *t = f->turns;
    double nominal = f->request->rotation->circumference_m;
    double found = 1 / f->fit.turns_per_m;
    if (f->steady) {
        t->circumference_m = nominal;
        return;
    }
    t->circumference_m = found;
    t->circumference_u_m = found * f->fit.turns_per_m_u;
    t->circumference_found = true;
    t->scale = tyre_known(f) ? found / nominal : NAN;
    if (f->fit.lag_seen) {
        t->lag_s = f->fit.lag_s;
        t->lag_u_s = f->fit.lag_u_s;
    }
}

/* Scale and lag once more, now against the refined speed: least squares,
 * Gauss and Newton, on points where the recording corrected the log. */
static void compare_with_log(struct finder *f)
{
    double ratio = f->fit.turns_per_m, lag = f->fit.lag_s;
    double a11 = 0, a12 = 0, a22 = 0, rest = 0, n = 0, hard_s = 0;
    size_t stride = (size_t)(0.2 * f->wheel.rate_hz) + 1;
    double dt = (double)stride / f->wheel.rate_hz;
    for (int round = 0; round < 6; round++) {
        double b1 = 0, b2 = 0;
        a11 = a12 = a22 = rest = n = hard_s = 0;
        for (size_t i = 0; i < f->wheel.points; i += stride) {
            double t = (double)i / f->wheel.rate_hz + lag;
            double v = ht_path_speed(&f->path, t);
            double slope = (ht_path_speed(&f->path, t + 0.2)
                            - ht_path_speed(&f->path, t - 0.2))
                           / 0.4;
            if (!(v > 3) || !isfinite(slope) || f->wheel.quiet[i] > 0.5)
                continue;
            double e = f->wheel.hz[i] - ratio * v, g = ratio * slope;
            a11 += v * v;
            a12 += v * g;
            a22 += g * g;
            b1 += v * e;
            b2 += g * e;
            rest += e * e;
            n += 1;
            hard_s += fabs(slope) > lag_seen_m_s2 ? dt : 0;
        }
        double det = a11 * a22 - a12 * a12;
        if (n < 50)
            return;
        bool both = hard_s >= lag_seen_s && det > 1e-9 * a11 * a22;
        double d_ratio = both ? (b1 * a22 - b2 * a12) / det : b1 / a11;
        double d_lag = both ? (b2 * a11 - b1 * a12) / det : 0;
        ratio += d_ratio;
        lag += fmax(fmin(d_lag, 0.2), -0.2);
    }
    /* Errors of a smoothed log last about two seconds. */
    double variance = rest / n * (2 / dt);
    f->fit.turns_per_m = ratio;
    f->fit.lag_s = lag;
    f->fit.turns_per_m_u = fmax(sqrt(variance / a11) / ratio, 2e-4);
    f->fit.lag_u_s = fmax(sqrt(variance / fmax(a22, 1e-9)), 0.01);
    f->fit.lag_seen = hard_s >= lag_seen_s && f->fit.lag_u_s < 0.2;
}

static void describe(struct finder *f)
{
    struct ht_turns *t = f->turns;
    if (f->steady)
        return;
    if (t->circumference_found)
        ht_turns_note(t, "One wheel turn is %.3f m by the log (within %.2f "
                      "%%). A dash speed can read 2 to 5 %% high and the "
                      "circumference with it; orders do not depend on it.",
                      t->circumference_m,
                      200 * t->circumference_u_m / t->circumference_m);
    if (isfinite(t->lag_s))
        ht_turns_note(t, "The log is late by %.2f s (within %.2f s).",
                      t->lag_s, 2 * t->lag_u_s);
    else if (f->follows)
        ht_turns_note(t, "The log's lag is not observable: the speed changes "
                      "too little.");
    if (isfinite(t->scale) && fabs(t->scale - 1) > 0.025)
        ht_turns_note(t, "The log's speed is %.1f %% %s than the tyre says: "
                      "dash speed, another tyre size or another axle ratio?",
                      100 * fabs(t->scale - 1),
                      t->scale > 1 ? "higher" : "lower");
}

static void doubt(struct finder *f)
{
    struct ht_turns *t = f->turns;
    double margin = f->fit.score - f->fit.rival_score;
    double share = ht_fit_share(&f->fit, &f->comb, &f->path);
    if (margin < 3 * least_margin) {
        double other = f->steady ? f->request->steady_m_s * HT_KM_H_PER_M_S
                                       * f->fit.rival_turns_per_m
                                       / f->fit.turns_per_m
                                 : 1 / f->fit.rival_turns_per_m;
        ht_say(t->rival[0].reading, sizeof t->rival[0].reading,
               f->steady ? "about %.0f km/h"
                         : "one wheel turn is %.3f m of the log",
               other);
        t->rival[0].margin = margin;
        t->rivals = 1;
    }
    if (margin < least_margin) {
        t->state = HT_SPEED_AMBIGUOUS;
        ht_say(t->reason, sizeof t->reason,
               "Another reading fits the recording almost as well: %s. %s",
                 t->rival[0].reading,
                 f->steady ? "Record a speed log beside the drive."
                           : "Give the tyre size, or drive again through a "
                             "wider range of speed.");
    } else if (share < least_share) {
        t->state = HT_SPEED_AMBIGUOUS;
        ht_say(t->reason, sizeof t->reason,
               "Only %.0f %% of the recording follows this speed. Is it "
                 "the log of this drive? Give the right log, or drive again "
                 "with a log beside the recording.", 100 * share);
    }
}

static enum ht_status refine(struct finder *f, struct ht_error *err)
{
    enum ht_status status = choose_lines(f, err);
    if (status != HT_OK)
        return status;
    struct ht_log_doubt trust = { f->path.left_sd_m_s,
                                  fmax(f->fit.turns_per_m_u, 5e-4),
                                  f->steady ? 0 : fmin(f->fit.lag_u_s, 0.3) };
    status = ht_wheel_create(&f->wheel, &f->work, &f->path, f->fit.turns_per_m,
                             f->fit.lag_s, &trust, err);
    if (status == HT_OK)
        status = ht_wheel_refine(&f->wheel, &f->work, &f->frames, &f->lines,
                                 f->use, err);
    if (status == HT_OK && !f->steady)
        compare_with_log(f);
    return status;
}

/* Nothing follows: the log, as it is, or nothing. */
static enum ht_status keep_log(struct finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    if (!tyre_known(f))
        return ht_turns_refuse(t, "Nothing in the recording follows this "
                               "speed and the tyre is not known. Give the "
                               "tyre size, and check that the log is of this "
                               "drive.");
    if (f->clock_assumed)
        return ht_turns_refuse(t, "Nothing in the recording follows this "
                               "speed log, and its clock does not fit: is it "
                               "the log of another day? Give the log of this "
                               "drive, or the steady speed driven.");
    double ratio = 1 / f->request->rotation->circumference_m;
    f->fit.lag_s = 0;
    t->circumference_m = 1 / ratio;
    ht_turns_note(t, "The recording shows no line that follows this %s: is "
                  "it the %s of this drive? The angle is the %s's alone.",
                  f->steady ? "steady speed" : "log",
                  f->steady ? "speed" : "log", f->steady ? "speed" : "log");
    if (f->steady) {
        t->state = HT_SPEED_AMBIGUOUS;
        ht_say(t->reason, sizeof t->reason,
               "No line stands within 3 %% of the steady speed: high "
                 "orders cannot be seen. Record a speed log beside the "
                 "drive.");
    }
    struct ht_log_doubt trust = { f->path.left_sd_m_s, unrefined_sd, 1 };
    return ht_wheel_create(&f->wheel, &f->work, &f->path, ratio, 0, &trust,
                           err);
}

static enum ht_status finish(struct finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    double last = f->path.start_s
                  + f->path.step_s * (double)(f->path.points - 3);
    return ht_turns_fill(t, &f->wheel, &f->work,
                         f->path.start_s - f->fit.lag_s, last - f->fit.lag_s,
                         err);
}

static enum ht_status carry_out(struct finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    enum ht_status status = make_path(f, err);
    if (status != HT_OK || t->reason[0] || !enough_log(f))
        return status;
    t->gear = ht_gear_said(f->request->rotation);
    f->lines = ht_lines_expected(f->request->rotation, t->gear);
    status = ht_work_create(&f->work, f->request->recording, 500, err);
    if (status == HT_OK)
        status = search(f, err);
    if (status != HT_OK)
        return status;
    if (f->steady)
        status = follow_wander(f, err);
    if (status != HT_OK)
        return status;
    t->state = HT_SPEED_ACCEPTED;
    status = f->follows ? refine(f, err) : keep_log(f, err);
    if (status != HT_OK || t->state == HT_SPEED_REFUSED)
        return status;
    if (f->follows) {
        scale_from_fit(f);
        doubt(f);
        status = settle_gear(f, err);
    }
    describe(f);
    return status == HT_OK ? finish(f, err) : status;
}

static bool can_start(struct finder *f)
{
    const struct ht_recording *r = f->request->recording;
    if (!f->request->log && !(f->request->steady_m_s > 0)) {
        ht_turns_refuse(f->turns,
                        "The speed is not known. Give a speed log (speed: "
                        "FILE.csv), or the steady speed driven (speed: "
                        "{steady_km_h: 95}).");
        return false;
    }
    f->turns->source = f->steady ? HT_SPEED_STEADY : HT_SPEED_LOG;
    if (!r->channels || recording_s(f) < shortest_s) {
        ht_turns_refuse(f->turns, "The recording is %.1f s long; at least %.0f "
                        "s are needed. Drive and record for a minute or more.",
                        r->channels ? recording_s(f) : 0.0, shortest_s);
        return false;
    }
    if (f->request->log && f->request->log->rows < 4) {
        ht_turns_refuse(f->turns, "The speed log has %zu rows; at least 4 are "
                        "needed.", f->request->log->rows);
        return false;
    }
    if (f->steady && !tyre_known(f)) {
        ht_turns_refuse(f->turns, "A steady speed needs the tyre size. Give "
                        "the tyre, or a speed log.");
        return false;
    }
    return true;
}

enum ht_status ht_turns_find(struct ht_turns *turns,
                             const struct ht_speed_request *request,
                             struct ht_error *err)
{
    *turns = (struct ht_turns){ .circumference_u_m = NAN, .lag_s = NAN,
                                .lag_u_s = NAN, .scale = NAN };
    turns->circumference_m = request->rotation->circumference_m;
    struct finder f = { .request = request, .turns = turns };
    f.steady = !request->log;
    if (!can_start(&f))
        return HT_OK;
    enum ht_status status = carry_out(&f, err);
    ht_comb_free(&f.comb);
    ht_frames_free(&f.frames);
    ht_work_free(&f.work);
    ht_path_free(&f.path);
    ht_wheel_free(&f.wheel);
    if (status != HT_OK)
        ht_turns_free(turns);
    return status;
}
