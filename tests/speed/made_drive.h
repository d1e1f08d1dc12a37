/* made_drive.h - a small made-up drive with known wheel angle, for the tests
 * of the speed room only: orders with levels that grow with speed, coloured
 * noise, a line that stands still, and a log that is late, scaled, noisy and
 * rounded. Seeded; independent of the code under test. */
#ifndef HALFTURN_TESTS_MADE_DRIVE_H
#define HALFTURN_TESTS_MADE_DRIVE_H

#include "halfturn/speed.h"
#include "random.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

struct made_order {
    double order, level_m_s2; /* peak at 25 m/s */
};
struct made_plan {
    double length_s, rate_hz, circumference_m;
    double low_m_s, high_m_s, period_s; /* speed goes to and fro; low = high:
                                           steady with a slow wander */
    double wander;                      /* relative, steady drives */
    struct made_order order[12];
    double noise_m_s2; /* per root Hz at 25 m/s */
    double fixed_hz, fixed_m_s2;
    double lag_s, log_rate_hz, log_scale, log_noise_m_s, log_step_m_s;
    uint64_t seed;
};
struct made_drive {
    struct ht_recording recording;
    struct ht_channel channel[3];
    struct ht_speed_log log;
    double *turns; /* true wheel turns per frame */
    double *speed; /* true speed per frame */
};

static inline double made_speed(const struct made_plan *p, double t)
{
    double w = 2 * 3.14159265358979323846 / p->period_s;
    if (p->high_m_s > p->low_m_s)
        return 0.5 * (p->low_m_s + p->high_m_s) -
               0.5 * (p->high_m_s - p->low_m_s) *
                   (0.8 * cos(w * t) + 0.2 * cos(2.7 * w * t));
    return p->low_m_s *
           (1 + p->wander * (0.7 * sin(w * t) + 0.3 * sin(2.3 * w * t)));
}

static inline void made_log(struct made_drive *d, const struct made_plan *p,
                            struct random_source *r)
{
    size_t rows = (size_t)((p->length_s + 4) * p->log_rate_hz);
    d->log.rows = rows;
    d->log.time_s = calloc(rows, sizeof(double));
    d->log.speed_m_s = calloc(rows, sizeof(double));
    for (size_t i = 0; i < rows; i++) {
        double t = -1.5 + (double)i / p->log_rate_hz;
        double v = p->log_scale * made_speed(p, t - p->lag_s) +
                   p->log_noise_m_s * random_normal(r);
        if (p->log_step_m_s > 0)
            v = p->log_step_m_s * floor(v / p->log_step_m_s + 0.5);
        d->log.time_s[i] = t;
        d->log.speed_m_s[i] = fmax(v, 0);
    }
}

static inline void made_channel(struct made_drive *d, const struct made_plan *p,
                                size_t c, struct random_source *r)
{
    double two_pi = 2 * 3.14159265358979323846;
    double phase[12], gain[12], y1 = 0, y2 = 0;
    for (int o = 0; o < 12; o++) {
        phase[o] = random_uniform(r, 0, two_pi);
        gain[o] = random_uniform(r, 0.5, 1.0);
    }
    double w0 = two_pi * 17 / p->rate_hz, radius = 1 - 3 * two_pi / p->rate_hz;
    for (size_t i = 0; i < d->recording.frames; i++) {
        double t = (double)i / p->rate_hz, v = d->speed[i] / 25;
        double white =
            p->noise_m_s2 * sqrt(0.5 * p->rate_hz) * random_normal(r) * v;
        double y =
            2 * radius * cos(w0) * y1 - radius * radius * y2 + 0.02 * white;
        y2 = y1;
        y1 = y;
        double x = white + y;
        for (int o = 0; o < 12; o++)
            if (p->order[o].order > 0)
                x += gain[o] * p->order[o].level_m_s2 * v * v *
                     cos(two_pi * p->order[o].order * d->turns[i] + phase[o]);
        x += p->fixed_m_s2 * cos(two_pi * p->fixed_hz * t);
        d->channel[c].samples[i] = (float)x;
    }
}

static inline void made_create(struct made_drive *d, const struct made_plan *p)
{
    *d = (struct made_drive){ .turns = NULL };
    struct random_source r = { p->seed };
    size_t n = (size_t)(p->length_s * p->rate_hz);
    d->recording.rate_hz = d->recording.file_rate_hz = p->rate_hz;
    d->recording.band_hz = 0.4 * p->rate_hz;
    d->recording.frames = n;
    d->recording.channels = 3;
    d->recording.channel = d->channel;
    d->turns = calloc(n, sizeof(double));
    d->speed = calloc(n, sizeof(double));
    double turns = 0, dt = 1 / p->rate_hz;
    for (size_t i = 0; i < n; i++) {
        double t = (double)i * dt;
        d->turns[i] = turns;
        d->speed[i] = made_speed(p, t);
        turns += dt / 6 *
                 (d->speed[i] + 4 * made_speed(p, t + 0.5 * dt) +
                  made_speed(p, t + dt)) /
                 p->circumference_m;
    }
    for (size_t c = 0; c < 3; c++) {
        d->channel[c].unit = HT_UNIT_M_S2;
        d->channel[c].samples = calloc(n, sizeof(float));
        made_channel(d, p, c, &r);
    }
    made_log(d, p, &r);
}

static inline void made_free(struct made_drive *d)
{
    for (size_t c = 0; c < 3; c++)
        free(d->channel[c].samples);
    free(d->turns);
    free(d->speed);
    free(d->log.time_s);
    free(d->log.speed_m_s);
}

#endif
