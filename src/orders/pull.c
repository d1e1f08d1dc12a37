#include "pull.h"

#include <math.h>

#include "stretch.h"

/* Force over mass at the wheels, m/s2: starting values, common practice, no
 * source. */
static const double drive_over = 0.3, overrun_below = -0.15;
static const double lasting_s = 2, standing_m_s = 0.3;

/* 0.012 g of rolling and, with it, zero driveline force at -0.32 m/s2 and
 * 100 km/h: a car's class default, no source. */
double ht_road_load(double speed_m_s)
{
    double v = speed_m_s * 3.6 / 100;
    return 0.118 + 0.202 * v * v;
}

static double speed_at(const struct ht_turns *t, double time_s)
{
    double at = (time_s - t->start_s) * t->rate_hz;
    if (!(at >= 0) || at > (double)(t->points - 1))
        return NAN;
    size_t i = (size_t)at < t->points - 1 ? (size_t)at : t->points - 2;
    double u = at - (double)i;
    return t->speed_m_s[i] * (1 - u) + t->speed_m_s[i + 1] * u;
}

/* Over a second: the log's steps and the refinement's ripple stay small. */
static double acceleration_at(const struct ht_turns *t, double time_s)
{
    return speed_at(t, time_s + 0.5) - speed_at(t, time_s - 0.5);
}

struct ht_forward {
    const struct ht_channel *channel;
    const struct ht_recording *recording;
    double sign, level;        /* level: what the mount's tilt adds */
};

static double forward_at(const struct ht_forward *f, double time_s)
{
    const struct ht_recording *r = f->recording;
    double at = (time_s - ht_frame_time(r, 0)) * r->slow_rate_hz;
    if (!(at >= 0) || at > (double)r->slow_frames - 1)
        return NAN;
    size_t i = (size_t)(at + 0.5);
    i = i < r->slow_frames ? i : r->slow_frames - 1;
    return f->sign * (double)f->channel->slow[i] - f->level;
}

static bool find_forward(struct ht_forward *f, const struct ht_recording *r)
{
    *f = (struct ht_forward){ .recording = r };
    for (size_t c = 0; c < r->channels && !f->channel; c++) {
        const struct ht_channel *channel = &r->channel[c];
        bool along = channel->axis == HT_AXIS_FORWARD ||
                     channel->axis == HT_AXIS_REARWARD;
        if (!along || !channel->slow || r->slow_frames < 2 ||
            channel->unit != HT_UNIT_M_S2)
            continue;
        f->channel = channel;
        f->sign = channel->axis == HT_AXIS_FORWARD ? 1 : -1;
    }
    return f->channel != NULL;
}

/* The tilt is what the axis reads at standstill; without a standstill, what
 * it reads beyond the speed's change on the whole (level road on average). */
static void level_forward(struct ht_forward *f, const struct ht_turns *t)
{
    double standing = 0, moving = 0;
    size_t stands = 0, moves = 0;
    double from_s = ht_frame_time(f->recording, 0);
    for (size_t i = 0; i < f->recording->slow_frames; i++) {
        double time_s = from_s + (double)i / f->recording->slow_rate_hz;
        double v = speed_at(t, time_s), a = acceleration_at(t, time_s);
        double reads = forward_at(f, time_s);
        if (!isfinite(v) || !isfinite(a) || !isfinite(reads))
            continue;
        if (v < standing_m_s && fabs(a) < 0.1) {
            standing += reads;
            stands++;
        } else {
            moving += reads - a;
            moves++;
        }
    }
    if ((double)stands >= lasting_s * f->recording->slow_rate_hz)
        f->level = standing / (double)stands;
    else if (moves > 0)
        f->level = moving / (double)moves;
}

static double force_at(const struct ht_forward *f, const struct ht_turns *t,
                       double time_s)
{
    double v = speed_at(t, time_s);
    double a = f->channel ? forward_at(f, time_s)
                          : acceleration_at(t, time_s);
    return a + ht_road_load(v);
}

static enum ht_pull_class class_of(const struct ht_forward *f,
                                   const struct ht_turns *t, double from_s,
                                   double to_s)
{
    bool drive = true, overrun = true;
    double steps = floor((to_s - from_s) / 0.1); /* ten a second are enough */
    for (size_t i = 0; (double)i <= steps; i++) {
        double force = force_at(f, t, from_s + 0.1 * (double)i);
        drive = drive && force > drive_over;
        overrun = overrun && force < overrun_below;
    }
    return drive ? HT_PULL_DRIVE : overrun ? HT_PULL_OVERRUN
                                           : HT_PULL_NEITHER;
}

enum ht_pull_source ht_pull_classify(enum ht_pull_class *class,
                                     const struct ht_blocks *b,
                                     const struct ht_recording *r,
                                     const struct ht_turns *t)
{
    struct ht_forward forward;
    bool axis = find_forward(&forward, r);
    if (axis)
        level_forward(&forward, t);
    else if (t->source == HT_SPEED_STEADY || t->source == HT_SPEED_NONE)
        return HT_PULL_UNKNOWN;
    for (size_t i = 0; i < b->count; i++) {
        double turns_per_s = b->block[i].speed_m_s / b->circumference_m;
        double half_s = fmax(lasting_s, b->block_turns / turns_per_s) / 2;
        class[i] = class_of(&forward, t, b->block[i].middle_s - half_s,
                            b->block[i].middle_s + half_s);
    }
    return axis ? HT_PULL_AXIS : HT_PULL_SPEED;
}
