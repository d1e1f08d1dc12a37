/* made_van.h - the made-up van most tests of this room drive, and the judge of
 * a found angle against the true one. */
#ifndef HALFTURN_TESTS_MADE_VAN_H
#define HALFTURN_TESTS_MADE_VAN_H

#include "close.h"

#include "made_drive.h"

static const double pi = 3.14159265358979323846;

/* The strongest order stands 15 dB over the noise in 1 Hz at 25 m/s. */
static inline struct made_plan van(void)
{
    return (struct made_plan){ .length_s = 120,
                               .rate_hz = 500,
                               .circumference_m = 2.05,
                               .low_m_s = 14,
                               .high_m_s = 30,
                               .period_s = 60,
                               .order = { { 1, .03 },
                                          { 2, .02 },
                                          { 3, .01 },
                                          { 3.73, .04 },
                                          { 7.46, .03 } },
                               .noise_m_s2 = .005,
                               .fixed_hz = 41.3,
                               .fixed_m_s2 = .03,
                               .lag_s = .6,
                               .log_rate_hz = 1,
                               .log_scale = 1.02,
                               .log_noise_m_s = .05,
                               .log_step_m_s = .1 / 3.6,
                               .seed = 11 };
}

static inline struct ht_rotation rear_drive(double circumference_m)
{
    struct ht_rotation r = { .shaft_turns = 3.73,
                             .cylinders = 4,
                             .strokes = 4,
                             .gears = 5,
                             .circumference_m = circumference_m,
                             .circumference_low_m = NAN,
                             .circumference_high_m = NAN };
    static const double gear[] = { 3.9, 2.1, 1.4, 1.0, 0.78 };
    for (size_t g = 0; g < 5; g++)
        r.gear_turns[g] = gear[g] * r.shaft_turns;
    return r;
}

static inline void find(struct ht_turns *turns, const struct made_drive *drive,
                        const struct ht_rotation *rotation, bool with_log,
                        double steady_m_s)
{
    struct ht_error err = { 0 };
    struct ht_speed_request request = { &drive->recording, rotation,
                                        with_log ? &drive->log : NULL,
                                        steady_m_s, NAN, { 0 } };
    assert_int_equal(ht_turns_find(turns, &request, &err), HT_OK);
}

struct quality {
    double speed_rms, turns_sd, claimed_sd, order_11_kept;
};

/* Against the drive's own angle, in blocks of 32 turns about their mean. */
static inline struct quality judge(const struct ht_turns *t,
                                   const struct made_drive *d,
                                   double circumference_m)
{
    struct quality q = { 0 };
    double n = 0, blocks = 0, per = d->recording.rate_hz / t->rate_hz;
    for (size_t i = 0; i < t->points; i++) {
        size_t j = (size_t)((double)i * per + 0.5);
        double e = t->speed_m_s[i] / t->circumference_m /
                       (d->speed[j] / circumference_m) -
                   1;
        q.speed_rms += e * e;
        q.claimed_sd += t->sd_turns[i] * t->sd_turns[i];
        n += 1;
    }
    for (size_t a = 0, b = 0; b < t->points; a = b) {
        double mean = 0, re = 0, im = 0;
        for (b = a; b < t->points && t->turns[b] - t->turns[a] < 32; b++)
            mean += t->turns[b] - d->turns[(size_t)((double)b * per + 0.5)];
        if (b == t->points)
            break;
        mean /= (double)(b - a);
        for (size_t i = a; i < b; i++) {
            double e =
                t->turns[i] - d->turns[(size_t)((double)i * per + 0.5)] - mean;
            q.turns_sd += e * e;
            re += cos(2 * pi * 11 * e);
            im += sin(2 * pi * 11 * e);
        }
        q.order_11_kept += hypot(re, im);
        blocks += (double)(b - a);
    }
    q.speed_rms = sqrt(q.speed_rms / n);
    q.claimed_sd = sqrt(q.claimed_sd / n);
    q.turns_sd = sqrt(q.turns_sd / blocks);
    q.order_11_kept /= blocks;
    return q;
}

#endif
