#include "refine.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

/* Rapid changes of the speed error: density of its second derivative, (rev/s
 * per s^2)^2 s at 10 rev/s. From an error of 0.3 % that changes in a second. */
static const double wander_density = 0.005;
static const double gain_s = 0.5;
static const double observation_hz = 10;

enum ht_status ht_wheel_create(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_speed_path *path,
                               double turns_per_m, double lag_s,
                               double relative_sd, struct ht_error *err)
{
    *wheel = (struct ht_wheel){ .step = 1 };
    if (work->rate_hz > 100)
        wheel->step = (size_t)(work->rate_hz / 50);
    wheel->rate_hz = work->rate_hz / (double)wheel->step;
    wheel->points = (work->frames - 1) / wheel->step + 1;
    size_t n = wheel->points;
    wheel->memory = ht_allocate(4 * n, sizeof(double));
    if (!wheel->memory)
        return ht_fail(err, HT_NO_MEMORY, "turn history: out of memory");
    wheel->hz = wheel->memory;
    wheel->turns = wheel->hz + n;
    wheel->sd_hz = wheel->turns + n;
    wheel->quiet = wheel->sd_hz + n;
    double last = 0;
    for (size_t i = 0; i < n; i++) {
        double v =
            ht_path_speed(path, (double)i / wheel->rate_hz + lag_s);
        last = isfinite(v) ? v * turns_per_m : last;
        wheel->hz[i] = last;
        wheel->sd_hz[i] = isfinite(v) ? relative_sd * last : last + 1;
        wheel->quiet[i] = 1;
    }
    ht_wheel_integrate(wheel);
    return HT_OK;
}

void ht_wheel_free(struct ht_wheel *wheel)
{
    ht_release(wheel->memory);
    *wheel = (struct ht_wheel){ 0 };
}

void ht_wheel_integrate(struct ht_wheel *wheel)
{
    double sum = 0;
    for (size_t i = 0; i < wheel->points; i++) {
        wheel->turns[i] = sum;
        if (i + 1 < wheel->points)
            sum += 0.5 * (wheel->hz[i] + wheel->hz[i + 1]) / wheel->rate_hz;
    }
}

struct refiner {
    struct ht_wheel *wheel;
    const struct ht_work *work;
    const struct ht_frames *frames;
    size_t every, seen;       /* grid points per observation; observations */
    double *raw;              /* complex, one per grid point */
    double *z;                /* complex, one per observation */
    double *gain, *weight, *spread; /* per observation */
    double *d0, *d1, *d2, *correction;
    double width_hz;          /* of the low pass, -3 dB, both sides */
};

/* Sums one grid step of x against the turning order, phase linear inside. */
static void bring_to_rest(const struct refiner *r, const float *x, double order)
{
    const struct ht_wheel *w = r->wheel;
    for (size_t i = 0; i < w->points; i++) {
        double hz = w->hz[i] * order;
        double start = order * w->turns[i];
        double a = -2 * HT_PI * (start - floor(start));
        double turn = -2 * HT_PI * hz / r->work->rate_hz;
        double re = cos(a), im = sin(a), cr = cos(turn), ci = sin(turn);
        double sum_re = 0, sum_im = 0;
        size_t from = i * w->step;
        size_t to = from + w->step < r->work->frames ? from + w->step
                                                     : r->work->frames;
        for (size_t k = from; k < to; k++) {
            sum_re += (double)x[k] * re;
            sum_im += (double)x[k] * im;
            double next = re * cr - im * ci;
            im = re * ci + im * cr;
            re = next;
        }
        r->raw[2 * i] = sum_re / (double)w->step;
        r->raw[2 * i + 1] = sum_im / (double)w->step;
    }
}

/* Gaussian low pass, sampled at the observations. */
static void low_pass(const struct refiner *r)
{
    double sigma_hz = r->width_hz / 1.6651; /* 2 sqrt(ln 2) */
    double sigma = r->wheel->rate_hz / (2 * HT_PI * sigma_hz);
    long reach = (long)ceil(3.5 * sigma);
    long points = (long)r->wheel->points;
    for (size_t k = 0; k < r->seen; k++) {
        long middle = (long)(k * r->every);
        double re = 0, im = 0, sum = 0;
        for (long j = -reach; j <= reach; j++) {
            double w = exp(-0.5 * (double)(j * j) / (sigma * sigma));
            sum += w;
            if (middle + j < 0 || middle + j >= points)
                continue;
            re += w * r->raw[2 * (middle + j)];
            im += w * r->raw[2 * (middle + j) + 1];
        }
        r->z[2 * k] = re / sum;
        r->z[2 * k + 1] = im / sum;
    }
}

/* The frame nearest to a time, or none when none is near. */
static bool frame_at(const struct ht_frames *f, double time_s, size_t *near)
{
    while (*near + 1 < f->frames
           && fabs(f->time_s[*near + 1] - time_s)
                  <= fabs(f->time_s[*near] - time_s))
        (*near)++;
    return fabs(f->time_s[*near] - time_s) <= 0.5 * f->length_s + f->hop_s;
}

static void observe(struct refiner *r, size_t channel, double order)
{
    size_t lag = (size_t)(gain_s * r->wheel->rate_hz / (double)r->every + 0.5);
    size_t near = 0;
    const struct ht_frames *f = r->frames;
    double sigma_hz = r->width_hz / 1.6651;
    for (size_t k = 0; k + lag < r->seen; k++) {
        size_t middle = (k + lag / 2) * r->every;
        double hz = r->wheel->hz[middle] * order;
        double time_s = (double)middle / r->wheel->rate_hz;
        size_t bin = (size_t)(hz / f->bin_hz + 0.5);
        if (!frame_at(f, time_s, &near) || bin >= f->bins || hz < 2)
            continue;
        double density = (double)f->floor[(near * f->channels + channel)
                                              * f->bins + bin];
        double noise = 0.5 * density * sigma_hz * sqrt(HT_PI);
        const double *a = r->z + 2 * k, *b = r->z + 2 * (k + lag);
        double re = (b[0] * a[0] + b[1] * a[1]) / noise;
        double im = (b[1] * a[0] - b[0] * a[1]) / noise;
        double size = hypot(re, im);
        double trust = size / (size + 2);
        double power_a = a[0] * a[0] + a[1] * a[1];
        double power_b = b[0] * b[0] + b[1] * b[1];
        if (power_a > 2 * power_b || power_b > 2 * power_a)
            trust *= 0.3; /* 6 dB a second: a resonance turns the phase */
        size_t at = k + lag / 2;
        r->gain[at] += trust * order * im;
        r->weight[at] += trust * order * order * size;
        r->spread[at] += trust * trust * order * order * (size + 0.5);
    }
}

/* Precision of the speed error seen at one observation, (rev/s)^-2. */
static double precision(const struct refiner *r, size_t k)
{
    double slope = 2 * HT_PI * gain_s * r->weight[k];
    return r->spread[k] > 0 ? slope * slope / r->spread[k] : 0;
}

static void solve(struct refiner *r)
{
    double h = (double)r->every / r->wheel->rate_hz;
    double together = fmax(gain_s, 0.66 / r->width_hz);
    double mean_hz = r->wheel->turns[r->wheel->points - 1]
                     * r->wheel->rate_hz / (double)r->wheel->points;
    for (size_t k = 0; k < r->seen; k++) {
        double sd = 0.02 * mean_hz, p = precision(r, k) * h / together;
        r->d0[k] = p + h / (2 * sd * sd);
        r->d1[k] = r->d2[k] = 0;
        double slope = 2 * HT_PI * gain_s * r->weight[k];
        r->correction[k] = slope > 0 ? p * r->gain[k] / slope : 0;
    }
    double density = wander_density * mean_hz * mean_hz / 100 + 1e-9;
    ht_add_roughness(r->d0, r->d1, r->d2, r->seen, 1 / (h * h * h * density));
    ht_solve_five(r->d0, r->d1, r->d2, r->correction, r->seen);
}

static void apply(struct refiner *r)
{
    struct ht_wheel *w = r->wheel;
    for (size_t i = 0; i < w->points; i++) {
        size_t k = i / r->every;
        double f = (double)(i % r->every) / (double)r->every;
        if (k + 2 > r->seen) {
            k = r->seen - 2;
            f = 1;
        }
        double add = r->correction[k]
                     + f * (r->correction[k + 1] - r->correction[k]);
        w->hz[i] = fmax(w->hz[i] + fmin(fmax(add, -0.05 * w->hz[i]),
                                        0.05 * w->hz[i]), 0);
    }
    ht_wheel_integrate(w);
}

/* Uncertainty from what was observed within a second on either side. */
static void judge(struct refiner *r, const double *sd_before)
{
    struct ht_wheel *w = r->wheel;
    double h = (double)r->every / w->rate_hz;
    double together = fmax(gain_s, 0.66 / r->width_hz);
    long reach = (long)(1 / h + 0.5);
    for (size_t i = 0; i < w->points; i++) {
        long k = (long)(i / r->every);
        double p = 0;
        for (long j = k - reach; j <= k + reach; j++)
            if (j >= 0 && j < (long)r->seen)
                p += precision(r, (size_t)j) * h / together;
        double before = sd_before[i];
        w->sd_hz[i] = 1 / sqrt(p + 1 / (before * before + 1e-12));
        w->quiet[i] = w->sd_hz[i] > 0.5 * before;
    }
}

static void pass(struct refiner *r, const struct ht_lines *lines,
                 const bool *use, double highest_order)
{
    memset(r->gain, 0, 3 * r->seen * sizeof *r->gain);
    for (size_t l = 0; l < lines->count; l++) {
        if (!use[l] || lines->line[l].order > highest_order)
            continue;
        for (size_t c = 0; c < r->work->channels; c++) {
            bring_to_rest(r, r->work->channel[c], lines->line[l].order);
            low_pass(r);
            observe(r, c, lines->line[l].order);
        }
    }
    solve(r);
    apply(r);
}

static bool reserve(struct refiner *r)
{
    size_t n = r->wheel->points, k = r->seen;
    r->raw = ht_allocate(2 * n + 2 * k + 7 * k + n, sizeof(double));
    if (!r->raw)
        return false;
    r->z = r->raw + 2 * n;
    r->gain = r->z + 2 * k;
    r->weight = r->gain + k;
    r->spread = r->weight + k;
    r->d0 = r->spread + k;
    r->d1 = r->d0 + k;
    r->d2 = r->d1 + k;
    r->correction = r->d2 + k;
    return true;
}

enum ht_status ht_wheel_refine(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_frames *frames,
                               const struct ht_lines *lines, const bool *use,
                               struct ht_error *err)
{
    /* The low pass narrows as the angle gets better; low orders first, since
     * the high ones slip a cycle first. */
    static const struct {
        double width_hz, highest_order;
    } passes[] = { { 1.5, 4.5 }, { 1.0, 12 }, { 0.8, 99 }, { 0.6, 99 } };
    struct refiner r = { .wheel = wheel, .work = work, .frames = frames };
    r.every = (size_t)(wheel->rate_hz / observation_hz + 0.5);
    r.seen = (wheel->points - 1) / r.every + 1;
    if (r.seen < 20 || !frames->frames)
        return HT_OK;
    if (!reserve(&r))
        return ht_fail(err, HT_NO_MEMORY, "turn history: out of memory");
    double *before = r.correction + r.seen;
    memcpy(before, wheel->sd_hz, wheel->points * sizeof *before);
    for (size_t p = 0; p < sizeof passes / sizeof passes[0]; p++) {
        r.width_hz = passes[p].width_hz;
        pass(&r, lines, use, passes[p].highest_order);
    }
    judge(&r, before);
    ht_release(r.raw);
    return HT_OK;
}
