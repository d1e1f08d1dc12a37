/* made.h - recordings in memory whose wheel angle is known exactly. */
#ifndef HALFTURN_TESTS_ORDERS_MADE_H
#define HALFTURN_TESTS_ORDERS_MADE_H

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "halfturn/orders.h"
#include "random.h"

#define MADE_TURN 2.0 /* m per wheel turn */
#define MADE_PI 3.14159265358979323846

struct made {
    struct ht_recording recording;
    struct ht_rotation rotation;
    struct ht_turns turns;
    struct ht_channel channel[4];
    double *angle;        /* wheel turns of every frame */
    double *speed_m_s;
};

/* Speed in m/s at a time. */
typedef double (*made_speed)(double time_s);

static inline void made_start(struct made *m, double rate_hz, double seconds,
                              size_t channels, made_speed speed)
{
    memset(m, 0, sizeof *m);
    size_t n = (size_t)(seconds * rate_hz), points = (size_t)(seconds * 20);
    m->recording = (struct ht_recording){
        .rate_hz = rate_hz, .file_rate_hz = 48000, .band_hz = 0.45 * rate_hz,
        .frames = n, .channels = channels, .channel = m->channel
    };
    for (size_t c = 0; c < channels; c++) {
        m->channel[c].unit = HT_UNIT_M_S2;
        m->channel[c].samples = calloc(n, sizeof(float));
    }
    m->angle = calloc(n, sizeof(double));
    m->speed_m_s = calloc(n, sizeof(double));
    m->turns = (struct ht_turns){
        .source = HT_SPEED_LOG, .state = HT_SPEED_ACCEPTED, .rate_hz = 20,
        .points = points, .circumference_m = MADE_TURN,
        .turns = calloc(points, sizeof(double)),
        .speed_m_s = calloc(points, sizeof(double)),
        .usable = calloc(points, 1), .sd_turns = calloc(points, sizeof(double))
    };
    double angle = 0;
    for (size_t i = 0; i < n; i++) {
        double at = (double)i / rate_hz, h = 1 / rate_hz;
        m->angle[i] = angle;
        m->speed_m_s[i] = speed(at);
        /* Simpson's rule over the step: exact for cubic speeds */
        angle += h / 6 * (speed(at) + 4 * speed(at + h / 2) + speed(at + h)) /
                 MADE_TURN;
    }
    angle = 0;
    for (size_t i = 0; i < points; i++) {
        double at = (double)i / 20, h = 0.05;
        m->turns.turns[i] = angle;
        m->turns.speed_m_s[i] = speed(at);
        m->turns.usable[i] = 1;
        angle += h / 6 * (speed(at) + 4 * speed(at + h / 2) + speed(at + h)) /
                 MADE_TURN;
    }
}

static inline void made_free(struct made *m)
{
    for (size_t c = 0; c < m->recording.channels; c++) {
        free(m->channel[c].samples);
        free(m->channel[c].slow);
    }
    free(m->angle);
    free(m->speed_m_s);
    free(m->turns.turns);
    free(m->turns.speed_m_s);
    free(m->turns.usable);
    free(m->turns.sd_turns);
}

static inline size_t made_part(struct made *m, const char *name, double turns,
                               enum ht_family family, bool geared)
{
    struct ht_part *p = &m->rotation.part[m->rotation.parts];
    (void)snprintf(p->name, sizeof p->name, "%s", name);
    p->turns = turns;
    p->family = family;
    p->follows_gear = geared;
    return m->rotation.parts++;
}

static inline void made_order(struct made *m, size_t part, double multiple)
{
    struct ht_order *o = &m->rotation.order[m->rotation.orders++];
    o->part = part;
    o->multiple = multiple;
    char name[sizeof m->rotation.part[part].name];
    memcpy(name, m->rotation.part[part].name, sizeof name);
    (void)snprintf(o->name, sizeof o->name, "%g\u00d7 %s", multiple, name);
}

/* Adds amplitude * (v / 25 m/s)^exponent cos(2 pi (order turns + phase)). */
static inline void made_line(struct made *m, size_t channel, double order,
                             double amplitude, double exponent, double phase)
{
    for (size_t i = 0; i < m->recording.frames; i++)
        m->channel[channel].samples[i] += (float)(
            amplitude * pow(m->speed_m_s[i] / 25, exponent) *
            cos(2 * MADE_PI * (fmod(order * m->angle[i], 1) + phase)));
}

/* White noise of a one-sided density, unit^2 / Hz. */
static inline void made_noise(struct made *m, size_t channel, double density,
                              struct random_source *source)
{
    double sd = sqrt(density * m->recording.rate_hz / 2);
    for (size_t i = 0; i < m->recording.frames; i++)
        m->channel[channel].samples[i] +=
            (float)(sd * random_normal(source));
}

/* Shorter runs of one result. */
static inline const struct ht_order_result *
made_find(struct ht_orders *orders, struct made *m, double healthy,
          const char *part, double multiple)
{
    struct ht_error err;
    if (ht_orders_find(orders, &m->recording, &m->rotation, &m->turns,
                       healthy, NULL, &err) != HT_OK)
        return NULL;
    return ht_orders_get(orders, part, multiple);
}

#endif
