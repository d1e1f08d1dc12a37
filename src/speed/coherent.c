#include "coherent.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/statistics.h"

#include <complex.h>
#include <math.h>

enum { SCALES = 33, LAGS = 33 };
static const double hop_s = 0.25;       /* between two values of an order */
static const double window_s = 1;       /* Hann, whole length */
static const double stretch_s = 20;
static const double longest_s = 200;
static const double clear_gain = 6;     /* in log-likelihood */
static const double least_m_s = 3;

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

static bool slow_fill(struct slow *s, const struct ht_fit *fit,
                      const struct ht_work *work,
                      const struct ht_speed_path *path,
                      const struct ht_lines *lines, const bool *use)
{
    double *turns = ht_allocate(work->frames, sizeof *turns);
    bool filled = turns != NULL;
    for (size_t i = 0; filled && i < work->frames; i++) {
        double at = (double)i / work->rate_hz + fit->lag_s;
        double distance = ht_path_distance(path, at);
        turns[i] = isfinite(distance) ? fit->turns_per_m * distance
                                      : (i ? turns[i - 1] : 0);
    }
    size_t track = 0, step = (size_t)(hop_s * work->rate_hz);
    for (size_t k = 0; filled && k < s->count; k++) {
        double speed = ht_path_speed(path, (double)(k * step) / work->rate_hz +
                                               fit->lag_s);
        s->turns[k] = turns[k * step];
        s->wheel_hz[k] = speed > least_m_s ? speed * fit->turns_per_m : 0;
    }
    for (size_t l = 0; filled && l < lines->count; l++)
        for (size_t c = 0; is_wanted(&lines->line[l], use[l]) &&
                           c < work->channels && filled; c++) {
            double complex *value = s->value + track * s->count;
            s->order[track] = lines->line[l].order;
            for (size_t k = 0; k < s->count; k++)
                value[k] = s->wheel_hz[k] > 0
                               ? heterodyne(work, work->channel[c], turns,
                                            k * step, s->order[track])
                               : 0;
            filled = whiten(value, s->count);
            track++;
        }
    s->tracks = track;
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

/* Log-likelihood of all stretches, were scale and lag off by so much. */
static double likelihood(const struct slow *s, double scale, double lag_s)
{
    size_t length = (size_t)(stretch_s / hop_s), hop = length / 2;
    double sum = 0;
    for (size_t t = 0; t < s->tracks; t++) {
        const double complex *value = s->value + t * s->count;
        for (size_t from = 0; from < s->count; from += hop) {
            double complex total = 0;
            double n = 0;
            for (size_t k = from; k < from + length && k < s->count; k++) {
                if (value[k] == 0)
                    continue;
                double turns = scale * (s->turns[k] - s->turns[from]) +
                               lag_s * s->wheel_hz[k];
                total += value[k] * cexp(-2 * HT_PI * I * s->order[t] * turns);
                n++;
            }
            double power = creal(total) * creal(total) +
                           cimag(total) * cimag(total);
            /* half: the stretches overlap by half */
            if (n > (double)length / 2)
                sum += 0.5 * fmin(power / (n * shared), 30);
        }
    }
    return sum;
}

bool ht_coherent_align(struct ht_fit *fit, const struct ht_work *work,
                       const struct ht_speed_path *path,
                       const struct ht_lines *lines, const bool *use)
{
    struct slow slow;
    if ((double)work->frames / work->rate_hz > longest_s)
        return true;
    bool made = slow_create(&slow, fit, work, path, lines, use);
    double scale_u = fmax(fit->turns_per_m_u, 7e-4);
    double lag_u = fmin(fmax(fit->lag_u_s, 0.02), 0.15);
    double start = made && slow.tracks ? likelihood(&slow, 0, 0) : 0;
    double best = start, best_scale = 0, best_lag = 0;
    for (int i = 0; made && slow.tracks && i < SCALES; i++)
        for (int j = 0; j < LAGS; j++) {
            double a = 2.5 * (2.0 * i / (SCALES - 1) - 1);
            double b = 2.5 * (2.0 * j / (LAGS - 1) - 1);
            double score = likelihood(&slow, a * scale_u, b * lag_u) -
                           0.5 * (a * a + b * b);
            if (score > best) {
                best = score;
                best_scale = a * scale_u;
                best_lag = b * lag_u;
            }
        }
    if (best > start + clear_gain) {
        fit->turns_per_m *= 1 + best_scale;
        fit->lag_s += best_lag;
    }
    slow_free(&slow);
    return made;
}
