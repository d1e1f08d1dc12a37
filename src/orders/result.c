#include "result.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "common/limits.h"
#include "growth.h"
#include "say.h"

bool ht_result_summed(const struct ht_recording *r, size_t channel)
{
    bool any = false;
    for (size_t c = 0; c < r->channels; c++)
        any = any || r->channel[c].unit == HT_UNIT_M_S2;
    return !any || r->channel[channel].unit == HT_UNIT_M_S2;
}

/* A sum of channels: powers add, and so do variances. Seen when any channel
 * sees it; sure to have been seen only when no share could hide. */
static void add_view(struct ht_bin_view *sum, const struct ht_bin_view *v)
{
    if (sum->blocks == 0) {
        *sum = *v;
        sum->least = v->least * v->least;
        return;
    }
    sum->seen = sum->seen || v->seen;
    sum->blurred = sum->blurred || v->blurred;
    sum->within += v->within;
    sum->power.power += v->power.power;
    sum->power.noise += v->power.noise;
    /* the line's share in each channel is not known: the larger counts */
    sum->power.cross = fmax(sum->power.cross, v->power.cross);
    sum->power.own += v->power.own;
    sum->power.drift += v->power.drift;
    sum->least += v->least * v->least;
    sum->drive_power += v->drive_power;
    sum->drive_variance += v->drive_variance;
    sum->overrun_power += v->overrun_power;
    sum->overrun_variance += v->overrun_variance;
}

/* Below this a microphone and the recorder behind it hear nothing that could
 * be relied on. Common practice, no source. */
static const double microphone_from_hz = 20;

static bool microphone_deaf(const struct ht_work *w, size_t channel,
                            double order, double speed_m_s)
{
    return w->recording->channel[channel].unit != HT_UNIT_M_S2 &&
           order * speed_m_s / w->blocks->circumference_m <
               microphone_from_hz;
}

static double healthy_here(const struct ht_work *w,
                           const struct ht_bin_view *v)
{
    return isfinite(w->healthy) ? w->healthy : 3 * sqrt(v->power.noise);
}

static void settle_bin(struct ht_order_bin *bin, const struct ht_work *w,
                       const struct ht_bin_view *v, size_t index, bool deaf)
{
    const struct ht_blocks *b = w->blocks;
    size_t row = b->first_row + w->bin_row[index];
    *bin = (struct ht_order_bin){
        .from_m_s = (double)row * HT_ROW_M_S,
        .to_m_s = (double)(row + HT_BIN_ROWS) * HT_ROW_M_S,
        .turns = (double)v->blocks * b->block_turns / 2,
        .state = HT_COULD_NOT_BE_SEEN,
        .level = { NAN, NAN, NAN }, .least_seen = NAN,
    };
    if (v->blocks == 0 || deaf)
        return;
    if (isfinite(v->power.noise)) {
        bin->level = ht_power_level(&v->power);
        bin->least_seen = v->least;
    }
    /* A phase without a level is not "seen 0". */
    if (v->seen)
        bin->state = bin->level.value > 0 ? HT_SEEN : HT_COULD_NOT_BE_SEEN;
    /* Power that no test accepts as this order must not pass for silence. */
    else if (v->least <= healthy_here(w, v) &&
             bin->level.high <= healthy_here(w, v))
        bin->state = HT_NOT_SEEN;
}

static const struct ht_bin_view *view_of(const struct ht_series *one,
                                         size_t bin)
{
    return bin == HT_BINS_MAX ? &one->whole : &one->view[bin];
}

/* The axes' phases together; bin HT_BINS_MAX: the whole drive. */
static bool seen_together(const struct ht_work *w,
                          const struct ht_series *one, size_t bin)
{
    const struct ht_recording *r = w->recording;
    struct ht_phase_test steady[HT_CHANNELS_MAX], runs[HT_CHANNELS_MAX];
    size_t n = 0;
    for (size_t c = 0; c < r->channels && n < HT_CHANNELS_MAX; c++) {
        const struct ht_bin_view *v = view_of(&one[c], bin);
        if (!ht_result_summed(r, c))
            continue;
        steady[n] = v->steady;
        runs[n++] = v->runs;
    }
    return ht_presence_pooled(steady, runs, n,
                              bin == HT_BINS_MAX ? w->false_alarm_whole
                                                 : w->false_alarm);
}

/* As for one channel: noise by the scatter about the phase, if smaller. */
static void see_by_phase(struct ht_bin_view *v)
{
    v->seen = true;
    if (!(v->within < v->power.noise))
        return;
    double ratio = v->within / v->power.noise;
    v->power.noise *= ratio;
    v->power.cross *= ratio;
    v->power.own *= ratio * ratio;
}

/* The noise of loud axes can hide what a calm one shows: then what is known
 * of the sum is that one's level. */
static void keep_what_shows(struct ht_bin_view *all,
                            const struct ht_series *one,
                            const struct ht_recording *r, size_t bin)
{
    struct ht_bin_view shows = { 0 };
    if (!all->seen || all->power.power > all->power.noise)
        return;
    for (size_t c = 0; c < r->channels; c++)
        if (ht_result_summed(r, c) && view_of(&one[c], bin)->seen)
            add_view(&shows, view_of(&one[c], bin));
    *all = shows;
}

static void gather_all(struct ht_series *all, const struct ht_series *one,
                       const struct ht_work *w)
{
    const struct ht_recording *r = w->recording;
    size_t bins = w->bins;
    *all = (struct ht_series){ .bins = bins };
    bool first = true;
    for (size_t c = 0; c < r->channels; c++) {
        if (!ht_result_summed(r, c))
            continue;
        for (size_t i = 0; i < bins; i++) {
            add_view(&all->view[i], &one[c].view[i]);
            all->deaf[i] = first ? one[c].deaf[i]
                                 : all->deaf[i] && one[c].deaf[i];
        }
        add_view(&all->whole, &one[c].whole);
        first = false;
    }
    for (size_t i = 0; i < bins; i++) {
        keep_what_shows(&all->view[i], one, r, i);
        all->view[i].least = sqrt(all->view[i].least);
        if (!all->view[i].seen && seen_together(w, one, i))
            see_by_phase(&all->view[i]);
    }
    keep_what_shows(&all->whole, one, r, HT_BINS_MAX);
    all->whole.seen = all->whole.seen || seen_together(w, one, HT_BINS_MAX);
    all->whole.least = sqrt(all->whole.least);
}

/* Bins 6 dB over the noise of their level; the rest is too uncertain. */
static void fit_growth(struct ht_order_result *r, const struct ht_series *s)
{
    struct ht_growth_point point[HT_BINS_MAX];
    size_t n = 0;
    for (size_t i = 0; i < r->bins; i++) {
        const struct ht_order_bin *b = &r->bin[i];
        double u = (b->level.high - b->level.low) / (2 * 1.96);
        if (b->state != HT_SEEN || !(b->level.value > 2 * u) ||
            s->view[i].blocks == 0)
            continue;
        point[n++] = (struct ht_growth_point){
            0.5 * (b->from_m_s + b->to_m_s), b->level.value,
            u / b->level.value
        };
    }
    struct ht_growth g = ht_growth_fit(point, n);
    r->exponent = g.exponent;
    r->exponent_u = g.u;
}

/* Weighted mean over matched bins of the two classes' level difference. */
static void fit_pull(struct ht_order_result *r, const struct ht_series *s)
{
    const double db = 4.342944819032518; /* 10 / ln 10 */
    double sum = 0, weight = 0;
    for (size_t i = 0; i < s->bins; i++) {
        const struct ht_bin_view *v = &s->view[i];
        if (!(v->drive_power > 0) || !(v->overrun_power > 0))
            continue;
        double d = v->drive_variance / (v->drive_power * v->drive_power);
        double o = v->overrun_variance /
                   (v->overrun_power * v->overrun_power);
        /* Below 6 dB the logarithm means little; beyond noise, drives of
         * one kind scatter by 5 % of the level (10 % of the power). */
        if (d > 1 || o > 1 || s->deaf[i])
            continue;
        double w = 1 / (d + o + 0.02);
        sum += w * db * log(v->drive_power / v->overrun_power);
        weight += w;
    }
    if (weight > 0) {
        r->pull_db = sum / weight;
        r->pull_u_db = db / sqrt(weight);
    }
}

static const struct ht_order_bin *strongest(const struct ht_order_result *r,
                                            enum ht_order_state state)
{
    const struct ht_order_bin *best = NULL;
    for (size_t i = 0; i < r->bins; i++) {
        const struct ht_order_bin *b = &r->bin[i];
        if (b->state != state || !isfinite(b->level.value))
            continue;
        if (!best || b->level.value > best->level.value)
            best = b;
    }
    return best;
}

/* Over the whole drive, though in no single bin: the bin whose lower limit
 * stands highest. */
static const struct ht_order_bin *likeliest(const struct ht_order_result *r)
{
    const struct ht_order_bin *best = NULL;
    for (size_t i = 0; i < r->bins; i++) {
        const struct ht_order_bin *b = &r->bin[i];
        if (!isfinite(b->level.value))
            continue;
        if (!best || b->level.low > best->level.low ||
            (b->level.low == best->level.low &&
             b->level.value > best->level.value))
            best = b;
    }
    return best;
}

/* "Not seen" is claimed for the drive when most of the turns say so. */
static void settle_state(struct ht_order_result *r, const struct ht_series *s,
                         bool whole_deaf)
{
    double turns = 0, quiet = 0, least = 0;
    for (size_t i = 0; i < r->bins; i++) {
        turns += r->bin[i].turns;
        if (r->bin[i].state != HT_NOT_SEEN)
            continue;
        quiet += r->bin[i].turns;
        least = fmax(least, r->bin[i].least_seen);
    }
    const struct ht_order_bin *b = strongest(r, HT_SEEN);
    if (b || (s->whole.seen && !whole_deaf)) {
        r->state = HT_SEEN;
        b = b ? b : likeliest(r);
        /* Seen by the drive as a whole, in no bin: its level is the drive's
         * then; the likeliest bin would be chosen for its noise. */
        if (b && b->state != HT_SEEN && isfinite(s->whole.power.noise)) {
            r->at_m_s = 0.5 * (b->from_m_s + b->to_m_s);
            r->level = ht_power_level(&s->whole.power);
            b = NULL;
        }
        /* Nothing shown at 0 is "seen". */
        if (!b && !(r->level.value > 0))
            r->state = HT_COULD_NOT_BE_SEEN;
    } else if (quiet > 0 && 2 * quiet >= turns) {
        r->state = HT_NOT_SEEN;
        r->least_seen = least;
        b = strongest(r, HT_NOT_SEEN);
    } else {
        b = likeliest(r);
    }
    if (b) {
        r->at_m_s = 0.5 * (b->from_m_s + b->to_m_s);
        r->level = b->level;
    }
}

/* Orders that share a column with another: what is seen may be either. */
static void settle_tie(struct ht_order_result *r, const struct ht_work *w,
                       const struct ht_rotation *rotation, size_t order,
                       const char *unit)
{
    enum ht_tie tie = w->plan->tie[w->plan->column_of[order]];
    if (r->state == HT_NOT_SEEN || (tie != HT_TIE_CLOSE && tie != HT_TIE_GEAR))
        return;
    r->state = HT_COULD_NOT_BE_SEEN;
    for (size_t i = 0; i < r->bins; i++)
        if (r->bin[i].state == HT_SEEN)
            r->bin[i].state = HT_COULD_NOT_BE_SEEN;
    if (isfinite(r->level.high))
        ht_say_tied(r, w->plan, rotation, order, unit);
    r->exponent = r->exponent_u = NAN;
    r->pull_db = r->pull_u_db = NAN;
}

static void fill_one(struct ht_order_result *r, struct ht_work *w,
                     const struct ht_series *s, int channel)
{
    bool sound = channel >= 0
        ? w->recording->channel[channel].unit != HT_UNIT_M_S2 : false;
    if (channel < 0)
        for (size_t c = 0; c < w->recording->channels; c++)
            sound = sound || (ht_result_summed(w->recording, c) &&
                              w->recording->channel[c].unit != HT_UNIT_M_S2);
    bool deaf = true;
    r->bins = s->bins;
    for (size_t i = 0; i < s->bins; i++) {
        settle_bin(&r->bin[i], w, &s->view[i], i, s->deaf[i]);
        deaf = deaf && s->deaf[i];
    }
    settle_state(r, s, deaf);
    /* A microphone's response and its speed cannot be told apart. */
    if (!sound)
        fit_growth(r, s);
    fit_pull(r, s);
    if (r->state == HT_COULD_NOT_BE_SEEN)
        ht_say_why(r, w, &s->whole, deaf);
}

static void empty_result(struct ht_order_result *r, const struct ht_work *w,
                         const struct ht_rotation *rotation, size_t order,
                         int channel)
{
    *r = (struct ht_order_result){
        .order = rotation->order[order],
        .wheel_order = w->plan->wheel_order[order], .channel = channel,
        .state = HT_COULD_NOT_BE_SEEN, .at_m_s = NAN,
        .level = { NAN, NAN, NAN }, .least_seen = NAN, .exponent = NAN,
        .exponent_u = NAN, .pull_db = NAN, .pull_u_db = NAN,
    };
}

void ht_result_fill(struct ht_order_result *result, struct ht_work *w,
                    const struct ht_rotation *rotation, size_t order,
                    const char *unit)
{
    size_t channels = w->recording->channels;
    size_t column = w->plan->column_of[order];
    for (size_t c = 0; c <= channels; c++) {
        empty_result(&result[c], w, rotation, order, (int)c - 1);
        if (column == SIZE_MAX)
            ht_say_unknown_ratio(&result[c], rotation, order);
    }
    if (column == SIZE_MAX)
        return;
    struct ht_series *one = w->series;
    for (size_t c = 0; c < channels; c++) {
        one[c].bins = w->bins;
        for (size_t i = 0; i < w->bins; i++) {
            double middle = ((double)(w->blocks->first_row + w->bin_row[i]) +
                             0.5 * HT_BIN_ROWS) * HT_ROW_M_S;
            one[c].view[i] = ht_bin_look(w, column, c, i);
            one[c].deaf[i] = microphone_deaf(w, c, w->plan->column[column],
                                             middle);
        }
        one[c].whole = ht_bin_look(w, column, c, w->bins);
    }
    gather_all(&one[channels], one, w);
    for (size_t c = 0; c <= channels; c++) {
        fill_one(&result[c], w, &one[c == 0 ? channels : c - 1], (int)c - 1);
        settle_tie(&result[c], w, rotation, order, unit);
    }
}
