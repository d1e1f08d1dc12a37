#include "finder.h"
#include "gear.h"
#include "say.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

/* Starting value, set on made-up drives and one real one: how far the best
 * reading must stand above the best that disagrees. In log-likelihood. */
static const double least_margin = 12;
/* Of the drive that must follow the fitted path, or the log is in doubt. */
static const double least_share = 0.7;
/* A dash that reads 5 % high, and a slope. Common practice, no source. */
static const double above_top = 1.1;
/* A log with unknown scale errs by this much where nothing corrects it: dash
 * and bus speeds may read some per cent high. */
static const double unrefined_sd = 0.02;
/* Road noise grows with speed on every road; common practice, no source. */
static const double least_level_follows = 0.1;
static const double lag_seen_m_s2 = 0.3, lag_seen_s = 5;

/* Scale and lag once more, now against the refined speed: least squares,
 * Gauss and Newton, on points where the recording corrected the log. */
void ht_finder_compare(struct ht_finder *f)
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
            double slope = (ht_path_speed(&f->path, t + 0.2) -
                            ht_path_speed(&f->path, t - 0.2)) /
                           0.4;
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

enum ht_status ht_finder_settle_gear(struct ht_finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    const struct ht_rotation *rotation = f->request->rotation;
    if (t->gear || !f->follows || rotation->gears < 2)
        return HT_OK;
    struct ht_gear_find found;
    enum ht_status status =
        ht_gear_search(&found, &f->frames, &f->path, rotation, &f->fit, err);
    if (status != HT_OK)
        return status;
    t->gear = found.gear;
    t->gear_found = found.gear != 0;
    if (found.gear)
        ht_turns_note(t, SPEED_GEAR_FOUND, found.gear, 100 * found.share);
    else
        ht_turns_note(t, SPEED_GEAR_UNKNOWN);
    return HT_OK;
}

void ht_finder_take_scale(struct ht_finder *f)
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
    t->scale = ht_finder_tyre_known(f) ? found / nominal : NAN;
    if (f->fit.lag_seen) {
        t->lag_s = f->fit.lag_s;
        t->lag_u_s = f->fit.lag_u_s;
    }
}

void ht_finder_describe(struct ht_finder *f)
{
    struct ht_turns *t = f->turns;
    if (f->steady)
        return;
    if (t->circumference_found)
        ht_turns_note(t, SPEED_WHEEL_TURN, t->circumference_m,
                      200 * t->circumference_u_m / t->circumference_m);
    if (isfinite(t->lag_s))
        ht_turns_note(t, t->lag_s < 0 ? SPEED_LOG_EARLY : SPEED_LOG_LATE,
                      fabs(t->lag_s), 2 * t->lag_u_s);
    else if (f->follows)
        ht_turns_note(t, SPEED_LAG_UNSEEN);
    if (isfinite(t->scale) && fabs(t->scale - 1) > 0.025)
        ht_turns_note(t, t->scale > 1 ? SPEED_LOG_HIGH : SPEED_LOG_LOW,
                      100 * fabs(t->scale - 1));
}

/* Whatever follows it: no vehicle drives that fast. */
void ht_finder_doubt_top_speed(struct ht_finder *f)
{
    struct ht_turns *t = f->turns;
    double top_m_s = f->request->top_m_s;
    if (f->steady || !(top_m_s > 0) || f->fastest_m_s <= above_top * top_m_s ||
        t->state != HT_SPEED_ACCEPTED)
        return;
    t->state = HT_SPEED_AMBIGUOUS;
    ht_say(t->reason, sizeof t->reason, SPEED_LOG_ABOVE_TOP,
           f->fastest_m_s * HT_KM_H_PER_M_S, top_m_s * HT_KM_H_PER_M_S);
}

void ht_finder_doubt(struct ht_finder *f)
{
    struct ht_turns *t = f->turns;
    double margin = f->fit.score - f->fit.rival_score;
    double share = ht_fit_share(&f->fit, &f->comb, &f->path);
    /* Without a tyre a wrong reading may be any ratio off: no name holds. */
    enum ht_speed_state in_doubt =
        ht_finder_tyre_known(f) ? HT_SPEED_AMBIGUOUS : HT_SPEED_REFUSED;
    double other = f->steady ? f->request->steady_m_s * HT_KM_H_PER_M_S *
                                   f->fit.rival_turns_per_m /
                                   f->fit.turns_per_m
                             : 1 / f->fit.rival_turns_per_m;
    if (margin < 3 * least_margin) {
        ht_say(t->rival[0].reading, sizeof t->rival[0].reading,
               f->steady ? SPEED_READING_STEADY : SPEED_READING_LOG, other);
        t->rival[0].margin = margin;
        t->rivals = 1;
    }
    if (f->unit_doubted ||
        (f->other_unit && (margin < least_margin || share < least_share))) {
        t->state = in_doubt;
        ht_say(t->reason, sizeof t->reason, "%s", f->other_unit);
    } else if (margin < least_margin) {
        t->state = in_doubt;
        ht_say(t->reason, sizeof t->reason,
               f->steady ? SPEED_RIVAL_STEADY : SPEED_RIVAL_LOG, other);
    } else if (share < least_share) {
        t->state = in_doubt;
        ht_say(t->reason, sizeof t->reason, SPEED_SHARE_SMALL, 100 * share);
    }
}

/* Correlation of the shake's overall level with the speed, both in ln, over
 * the frames; 1 when the speed hardly changes: then it says nothing. */
static double level_follows(const struct ht_finder *f)
{
    const struct ht_frames *fr = &f->frames;
    double x1 = 0, y1 = 0, x2 = 0, y2 = 0, xy = 0, n = 0;
    double low = INFINITY, high = 0;
    for (size_t k = 0; k < fr->frames; k++) {
        double v = ht_path_speed(&f->path, fr->time_s[k]), power = 0;
        for (size_t i = 0; i < fr->channels * fr->bins; i++)
            power += (double)ht_frames_floor(fr, k, i / fr->bins,
                                             i % fr->bins);
        if (!(v > 3) || !(power > 0))
            continue;
        double x = log(v), y = log(power);
        low = fmin(low, v);
        high = fmax(high, v);
        x1 += x;
        y1 += y;
        x2 += x * x;
        y2 += y * y;
        xy += x * y;
        n += 1;
    }
    double spread = (n * x2 - x1 * x1) * (n * y2 - y1 * y1);
    if (n < 15 || high < 1.5 * low || !(spread > 0))
        return 1;
    return (n * xy - x1 * y1) / sqrt(spread);
}

/* Nothing follows: the log, as it is, or nothing. */
enum ht_status ht_finder_keep_log(struct ht_finder *f, struct ht_error *err)
{
    struct ht_turns *t = f->turns;
    if (!ht_finder_tyre_known(f))
        return ht_turns_refuse(t, SPEED_NOTHING_FOLLOWS_NO_TYRE);
    if (f->clock_assumed)
        return ht_turns_refuse(t, SPEED_NOTHING_FOLLOWS_NO_CLOCK);
    if (!f->steady && level_follows(f) < least_level_follows)
        return ht_turns_refuse(t, SPEED_NOTHING_FOLLOWS_NO_GROWTH);
    double ratio = 1 / f->request->rotation->circumference_m;
    f->fit.lag_s = 0;
    t->circumference_m = 1 / ratio;
    ht_turns_note(t, f->steady ? SPEED_STEADY_ALONE : SPEED_LOG_ALONE);
    if (f->steady) {
        t->state = HT_SPEED_AMBIGUOUS;
        ht_say(t->reason, sizeof t->reason, SPEED_STEADY_UNSEEN);
    }
    struct ht_log_doubt trust = { f->path.left_sd_m_s, unrefined_sd, 1 };
    return ht_wheel_create(&f->wheel, &f->work, &f->path, ratio, 0, &trust,
                           err);
}
