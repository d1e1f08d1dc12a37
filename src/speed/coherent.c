#include "coherent.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/statistics.h"
#include "signal/phasor.h"

#include <complex.h>
#include <math.h>
#include <string.h>

enum { SCALES = 33, LAGS = 33, FINER = 12 };
static const double hop_s = 0.25;       /* between two values of an order */
static const double window_s = 1;       /* Hann, whole length */
static const double stretch_s = 20;
static const double longest_s = 200;
static const double clear_gain = 6;     /* in log-likelihood */
static const double least_m_s = 3;
/* A fit may be further off than it says. */
static const double least_scale_u = 1.5e-3, least_lag_u_s = 0.08;
static const double most_lag_u_s = 0.15;

/* The drive as a few values a second. */
struct slow {
    size_t count, tracks;
    double *turns, *wheel_hz;           /* [count]; wheel_hz 0: not used */
    double *order;                      /* [tracks] */
    double complex *value;              /* [track * count] */
};

static void slow_free(struct slow *s)
{
    ht_release(s->turns);
    ht_release(s->wheel_hz);
    ht_release(s->order);
    ht_release(s->value);
}

static bool is_wanted(const struct ht_line *line, bool used)
{
    return line->family == HT_FAMILY_WHEEL || used;
}

/* Hann-weighted amplitude of one order around a moment. */
static double complex heterodyne(const struct ht_work *work, const float *x,
                                 const double *turns, size_t middle,
                                 double order)
{
    size_t half = (size_t)(window_s / 2 * work->rate_hz);
    double complex sum = 0;
    if (middle < half || middle + half >= work->frames)
        return 0;
    for (size_t i = middle - half; i <= middle + half; i++) {
        double u = ((double)i - (double)middle) / (double)half;
        double weight = 0.5 + 0.5 * cos(HT_PI * u);
        sum += weight * (double)x[i] * cexp(-2 * HT_PI * I * order * turns[i]);
    }
    return sum;
}

/* Each track over the middle of its own size: bumps and speed do not count
 * more than calm stretches. */
static bool whiten(double complex *value, size_t count)
{
    double *size = ht_allocate(count, sizeof *size);
    size_t n = 0;
    for (size_t k = 0; size && k < count; k++)
        if (value[k] != 0)
            size[n++] = cabs(value[k]);
    double middle = n ? ht_median(size, n) : 0;
    for (size_t k = 0; size && k < count; k++) {
        double large = cabs(value[k]);
        /* the median of a Rayleigh amplitude is 1.177 times its deviation */
        if (middle > 0 && large > 0)
            value[k] *= 1.177 / middle * fmin(1, 3 * middle / large) / sqrt(2);
    }
    ht_release(size);
    return size != NULL;
}

/* Wheel turns at every frame; where the path does not say, it stands still. */
static void fill_turns(double *turns, const struct ht_fit *fit,
                       const struct ht_work *work,
                       const struct ht_speed_path *path)
{
    for (size_t i = 0; i < work->frames; i++) {
        double at = (double)i / work->rate_hz + fit->lag_s;
        double distance = ht_path_distance(path, at);
        turns[i] = isfinite(distance) ? fit->turns_per_m * distance
                                      : (i ? turns[i - 1] : 0);
    }
}

static void fill_wheel(struct slow *s, const struct ht_fit *fit,
                       const struct ht_work *work,
                       const struct ht_speed_path *path, const double *turns)
{
    size_t step = (size_t)(hop_s * work->rate_hz);
    for (size_t k = 0; k < s->count; k++) {
        double speed = ht_path_speed(path, (double)(k * step) / work->rate_hz +
                                               fit->lag_s);
        s->turns[k] = turns[k * step];
        s->wheel_hz[k] = speed > least_m_s ? speed * fit->turns_per_m : 0;
    }
}

/* One order of one channel becomes the next track. */
static bool fill_track(struct slow *s, const struct ht_work *work,
                       size_t channel, double order, const double *turns)
{
    size_t step = (size_t)(hop_s * work->rate_hz), track = s->tracks++;
    double complex *value = s->value + track * s->count;
    s->order[track] = order;
    for (size_t k = 0; k < s->count; k++)
        value[k] = s->wheel_hz[k] > 0
                       ? heterodyne(work, work->channel[channel], turns,
                                    k * step, order)
                       : 0;
    return whiten(value, s->count);
}

static bool slow_fill(struct slow *s, const struct ht_fit *fit,
                      const struct ht_work *work,
                      const struct ht_speed_path *path,
                      const struct ht_lines *lines, const bool *use)
{
    double *turns = ht_allocate(work->frames, sizeof *turns);
    bool filled = turns != NULL;
    if (filled) {
        fill_turns(turns, fit, work, path);
        fill_wheel(s, fit, work, path, turns);
    }
    for (size_t l = 0; filled && l < lines->count; l++)
        for (size_t c = 0; is_wanted(&lines->line[l], use[l]) &&
                           c < work->channels && filled; c++)
            filled = fill_track(s, work, c, lines->line[l].order, turns);
    ht_release(turns);
    return filled;
}

static bool slow_create(struct slow *s, const struct ht_fit *fit,
                        const struct ht_work *work,
                        const struct ht_speed_path *path,
                        const struct ht_lines *lines, const bool *use)
{
    size_t step = (size_t)(hop_s * work->rate_hz), most = 0;
    *s = (struct slow){ .count = step ? work->frames / step : 0 };
    for (size_t l = 0; l < lines->count; l++)
        most += is_wanted(&lines->line[l], use[l]) ? work->channels : 0;
    if (s->count == 0 || most == 0)
        return true;
    s->turns = ht_allocate(s->count, sizeof *s->turns);
    s->wheel_hz = ht_allocate(s->count, sizeof *s->wheel_hz);
    s->order = ht_allocate(most, sizeof *s->order);
    s->value = ht_allocate(most * s->count, sizeof *s->value);
    return s->turns && s->wheel_hz && s->order && s->value &&
           slow_fill(s, fit, work, path, lines, use);
}

/* Neighbouring values share samples: a Hann window of four hops makes white
 * noise count 1 + 2 (0.66 + 0.17 + ...) = 2.7 times in a sum. */
static const double shared = 2.7;

/* Scales and lags around a middle one, evenly apart. */
struct mesh {
    double scale, scale_step, lag_s, lag_step_s; /* of the middle; steps */
    double score[SCALES][LAGS];
    double best;
};

/* Turns of one track for every scale, and for every lag: where both are off,
 * the two turn one after the other. */
struct turners {
    double complex *scale, *lag; /* [SCALES * count], [LAGS * count] */
    double complex *half;        /* [halves]: sums over half stretches */
    double *values;              /* [halves]: how many are in each */
};

static bool turners_create(struct turners *t, size_t count, size_t halves)
{
    t->scale = ht_allocate((SCALES + LAGS) * count + halves,
                           sizeof *t->scale);
    t->values = ht_allocate(halves, sizeof *t->values);
    if (!t->scale || !t->values)
        return false;
    t->lag = t->scale + SCALES * count;
    t->half = t->lag + LAGS * count;
    return true;
}

static void turners_free(struct turners *t)
{
    ht_release(t->scale);
    ht_release(t->values);
}

/* CMPLX, which the header of the C library has for gcc alone. A complex number
 * lies in memory as its two parts (C17 6.2.5, paragraph 13). */
static double complex complex_of(double re, double im)
{
    union {
        double part[2];
        double complex whole;
    } number = { { re, im } };
    return number.whole;
}

static double complex turn_by(double turns)
{
    struct ht_phasor p = ht_phasor_of(-turns);
    return complex_of(p.re, p.im);
}

static void turners_fill(struct turners *t, const struct slow *s, size_t track,
                         const struct mesh *mesh)
{
    const double complex *value = s->value + track * s->count;
    double order = s->order[track];
    for (int i = 0; i < SCALES; i++) {
        double scale = mesh->scale + (i - SCALES / 2) * mesh->scale_step;
        for (size_t k = 0; k < s->count; k++)
            t->scale[(size_t)i * s->count + k] =
                turn_by(order * scale * s->turns[k]);
    }
    for (int j = 0; j < LAGS; j++) {
        double lag_s = mesh->lag_s + (j - LAGS / 2) * mesh->lag_step_s;
        for (size_t k = 0; k < s->count; k++)
            t->lag[(size_t)j * s->count + k] =
                value[k] * turn_by(order * lag_s * s->wheel_hz[k]);
    }
}

/* Half: the stretches overlap by half. */
static double of_stretches(const struct turners *t, size_t halves,
                           double most)
{
    double sum = 0;
    for (size_t h = 0; h < halves; h++) {
        bool more = h + 1 < halves;
        double n = t->values[h] + (more ? t->values[h + 1] : 0);
        double complex total = t->half[h] + (more ? t->half[h + 1] : 0);
        double power =
            creal(total) * creal(total) + cimag(total) * cimag(total);
        if (n > most / 2)
            sum += 0.5 * fmin(power / (n * shared), 30);
    }
    return sum;
}

/* Adds one track's log-likelihood of all stretches, were scale and lag off
 * by so much. */
static void add_track(struct mesh *mesh, struct turners *t,
                      const struct slow *s, size_t track, size_t halves)
{
    size_t half = (size_t)(stretch_s / hop_s) / 2;
    const double complex *value = s->value + track * s->count;
    turners_fill(t, s, track, mesh);
    for (size_t h = 0; h < halves; h++) {
        t->values[h] = 0;
        for (size_t k = h * half; k < (h + 1) * half && k < s->count; k++)
            t->values[h] += value[k] != 0;
    }
    for (size_t i = 0; i < SCALES; i++)
        for (size_t j = 0; j < LAGS; j++) {
            const double complex *a = t->scale + i * s->count;
            const double complex *b = t->lag + j * s->count;
            for (size_t h = 0; h < halves; h++) {
                double re = 0, im = 0;
                for (size_t k = h * half; k < (h + 1) * half && k < s->count;
                     k++) {
                    re += creal(a[k]) * creal(b[k]) - cimag(a[k]) * cimag(b[k]);
                    im += creal(a[k]) * cimag(b[k]) + cimag(a[k]) * creal(b[k]);
                }
                t->half[h] = complex_of(re, im);
            }
            mesh->score[i][j] += of_stretches(t, halves, 2 * (double)half);
        }
}

/* The best of the mesh, with how far off scale and lag may be. */
static bool search(struct mesh *mesh, const struct slow *s, double scale_u,
                   double lag_u_s)
{
    size_t half = (size_t)(stretch_s / hop_s) / 2;
    size_t halves = (s->count + half - 1) / half;
    struct turners turners = { 0 };
    bool fine = turners_create(&turners, s->count, halves);
    memset(mesh->score, 0, sizeof mesh->score);
    for (size_t t = 0; fine && t < s->tracks; t++)
        add_track(mesh, &turners, s, t, halves);
    turners_free(&turners);
    double best = -INFINITY, at_scale = 0, at_lag_s = 0;
    for (int i = 0; i < SCALES; i++)
        for (int j = 0; j < LAGS; j++) {
            double scale = mesh->scale + (i - SCALES / 2) * mesh->scale_step;
            double lag_s = mesh->lag_s + (j - LAGS / 2) * mesh->lag_step_s;
            double a = scale / scale_u, b = lag_s / lag_u_s;
            double score = mesh->score[i][j] - 0.5 * (a * a + b * b);
            if (score > best) {
                best = score;
                at_scale = scale;
                at_lag_s = lag_s;
            }
        }
    mesh->scale = at_scale;
    mesh->lag_s = at_lag_s;
    mesh->best = best;
    return fine;
}

bool ht_coherent_align(struct ht_fit *fit, const struct ht_work *work,
                       const struct ht_speed_path *path,
                       const struct ht_lines *lines, const bool *use)
{
    struct slow slow;
    if ((double)work->frames / work->rate_hz > longest_s)
        return true;
    bool fine = slow_create(&slow, fit, work, path, lines, use);
    double scale_u = fmax(fit->turns_per_m_u, least_scale_u);
    double lag_u = fmin(fmax(fit->lag_u_s, least_lag_u_s), most_lag_u_s);
    /* two and a half times what they may be off, to either side */
    struct mesh *mesh = ht_allocate(1, sizeof *mesh);
    if (fine && mesh && slow.tracks) {
        mesh->scale_step = 2.5 * scale_u / (SCALES / 2);
        mesh->lag_step_s = 2.5 * lag_u / (LAGS / 2);
        fine = search(mesh, &slow, scale_u, lag_u);
        double start = mesh->score[SCALES / 2][LAGS / 2];
        bool clear = fine && mesh->best > start + clear_gain;
        mesh->scale_step /= FINER;
        mesh->lag_step_s /= FINER;
        if (clear)
            fine = search(mesh, &slow, scale_u, lag_u);
        if (clear && fine) {
            fit->turns_per_m *= 1 + mesh->scale;
            fit->lag_s += mesh->lag_s;
        }
    }
    fine = fine && mesh;
    ht_release(mesh);
    slow_free(&slow);
    return fine;
}
