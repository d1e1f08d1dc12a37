#include "refine.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

/* Errors of a smoothed log last about this long: it scales their second
 * derivative and the weight of the log itself. */
static const double error_lasts_s = 1.5;
static const double gain_s = 0.5;
static const double observation_hz = 10;
static const double strength_s = 4;

static void doubt_point(struct ht_wheel *wheel, size_t i,
                        const struct ht_log_doubt *doubt, double turns_per_m,
                        double accel_m_s2)
{
    double quick = doubt->quick_m_s * turns_per_m;
    double slow = hypot(doubt->scale * wheel->hz[i],
                        doubt->lag_s * accel_m_s2 * turns_per_m);
    double stays_s = 32 / fmax(wheel->hz[i], 1);
    double both = quick * quick + slow * slow + 1e-12;
    wheel->sd_hz[i] = sqrt(both);
    wheel->lasts_s[i] =
        (quick * quick * error_lasts_s + slow * slow * stays_s) / both;
    wheel->quiet[i] = 1;
}

static void start_from_log(struct ht_wheel *wheel,
                           const struct ht_speed_path *path, double turns_per_m,
                           double lag_s, const struct ht_log_doubt *doubt)
{
    static const struct ht_log_doubt no_log = { 3, 1, 0 };
    double last = 0;
    for (size_t i = 0; i < wheel->points; i++) {
        double t = (double)i / wheel->rate_hz + lag_s;
        double v = ht_path_speed(path, t);
        double slope =
            (ht_path_speed(path, t + 0.2) - ht_path_speed(path, t - 0.2)) / 0.4;
        last = isfinite(v) ? v * turns_per_m : last;
        wheel->hz[i] = wheel->first_hz[i] = last;
        doubt_point(wheel, i, isfinite(v) ? doubt : &no_log, turns_per_m,
                    isfinite(slope) ? slope : 0);
    }
}

enum ht_status ht_wheel_create(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_speed_path *path,
                               double turns_per_m, double lag_s,
                               const struct ht_log_doubt *doubt,
                               struct ht_error *err)
{
    *wheel = (struct ht_wheel){ .step = 1 };
    if (work->rate_hz > 100)
        wheel->step = (size_t)(work->rate_hz / 50);
    wheel->rate_hz = work->rate_hz / (double)wheel->step;
    wheel->points = (work->frames - 1) / wheel->step + 1;
    size_t n = wheel->points;
    wheel->memory = ht_allocate(6 * n, sizeof(double));
    if (!wheel->memory)
        return ht_fail(err, HT_NO_MEMORY, "turn history: out of memory");
    wheel->hz = wheel->memory;
    wheel->turns = wheel->hz + n;
    wheel->sd_hz = wheel->turns + n;
    wheel->lasts_s = wheel->sd_hz + n;
    wheel->quiet = wheel->lasts_s + n;
    wheel->first_hz = wheel->quiet + n;
    start_from_log(wheel, path, turns_per_m, lag_s, doubt);
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
    size_t every, seen; /* grid points per observation; observations */
    double *raw;        /* complex, one per grid point */
    double *z;          /* complex, one per observation */
    double *gain, *size, *weight, *spread; /* per observation */
    double *noise, *ratio, *strength;      /* of one line and channel */
    double *d0, *d1, *d2, *correction;
    double width_hz; /* of the low pass, -3 dB, both sides */
};

/* Moments of x against the turning order over one grid step, phase linear
 * inside: sums of x e, x e u and x e u^2 with u from 0 to 1. */
static void moments(const struct refiner *r, const float *x, double order,
                    size_t i, double m[6])
{
    const struct ht_wheel *w = r->wheel;
    double start = order * w->turns[i];
    double a = -2 * HT_PI * (start - floor(start));
    double turn = -2 * HT_PI * w->hz[i] * order / r->work->rate_hz;
    double re = cos(a), im = sin(a), cr = cos(turn), ci = sin(turn);
    size_t from = i * w->step, to = from + w->step;
    if (to > r->work->frames)
        to = r->work->frames;
    for (size_t k = 0; k < 6; k++)
        m[k] = 0;
    for (size_t k = from; k < to; k++) {
        double u = ((double)(k - from) + 0.5) / (double)w->step;
        double xr = (double)x[k] * re, xi = (double)x[k] * im;
        m[0] += xr;
        m[1] += xi;
        m[2] += xr * u;
        m[3] += xi * u;
        m[4] += xr * u * u;
        m[5] += xi * u * u;
        double next = re * cr - im * ci;
        im = re * ci + im * cr;
        re = next;
    }
}

/* Brings the order to rest and thins to the grid through a quadratic spline
 * three steps long, whose zeros at the grid rate are triple: what moves
 * slowly in the recording must not fold onto the order. */
static void bring_to_rest(const struct refiner *r, const float *x, double order)
{
    double scale = 1 / (double)r->wheel->step;
    size_t points = r->wheel->points;
    for (size_t i = 0; i < 2 * points; i++)
        r->raw[i] = 0;
    for (size_t i = 0; i < points; i++) {
        double m[6];
        moments(r, x, order, i, m);
        for (size_t p = 0; p < 2; p++) {
            double s0 = m[p] * scale, s1 = m[2 + p] * scale,
                   s2 = m[4 + p] * scale;
            if (i + 1 < points)
                r->raw[2 * (i + 1) + p] += 0.5 * s2;
            r->raw[2 * i + p] += 0.5 * s0 + s1 - s2;
            if (i > 0)
                r->raw[2 * (i - 1) + p] += 0.5 * s0 - s1 + 0.5 * s2;
        }
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
    while (*near + 1 < f->frames && fabs(f->time_s[*near + 1] - time_s) <=
                                        fabs(f->time_s[*near] - time_s))
        (*near)++;
    return fabs(f->time_s[*near] - time_s) <= 0.5 * f->length_s + f->hop_s;
}

/* Power of the line over the noise that the low pass lets through, as a mean
 * over some seconds less what noise alone can reach: a line that is not there
 * must not vote. */
static void find_strength(struct refiner *r, size_t channel, double order)
{
    const struct ht_frames *f = r->frames;
    double sigma_hz = r->width_hz / 1.6651;
    size_t near = 0;
    for (size_t k = 0; k < r->seen; k++) {
        size_t i = k * r->every;
        double hz = r->wheel->hz[i] * order;
        size_t bin = (size_t)(hz / f->bin_hz + 0.5);
        r->noise[k] = r->ratio[k] = 0;
        if (!frame_at(f, (double)i / r->wheel->rate_hz, &near) ||
            bin >= f->bins || hz < 2)
            continue;
        double density =
            (double)f->floor[(near * f->channels + channel) * f->bins + bin];
        r->noise[k] = 0.5 * density * sigma_hz * sqrt(HT_PI);
        r->ratio[k] =
            (r->z[2 * k] * r->z[2 * k] + r->z[2 * k + 1] * r->z[2 * k + 1]) /
            r->noise[k];
    }
    size_t reach = (size_t)(strength_s * observation_hz);
    double independent = 1 + 2 * strength_s * r->width_hz;
    for (size_t k = 0; k < r->seen; k++) {
        size_t from = k > reach ? k - reach : 0;
        size_t to = k + reach + 1 < r->seen ? k + reach + 1 : r->seen;
        double sum = 0;
        for (size_t j = from; j < to; j++)
            sum += r->ratio[j];
        double mean = sum / (double)(to - from) - 1;
        r->strength[k] = fmax(mean - 1 / sqrt(independent), 0);
    }
}

static void observe(struct refiner *r, size_t channel, double order)
{
    size_t lag = (size_t)(gain_s * r->wheel->rate_hz / (double)r->every + 0.5);
    find_strength(r, channel, order);
    for (size_t k = 0; k + lag < r->seen; k++) {
        size_t at = k + lag / 2;
        double s = r->strength[at];
        if (!(s > 0) || !(r->noise[k] > 0) || !(r->noise[k + lag] > 0))
            continue;
        const double *a = r->z + 2 * k, *b = r->z + 2 * (k + lag);
        double noise = sqrt(r->noise[k] * r->noise[k + lag]);
        double re = (b[0] * a[0] + b[1] * a[1]) / noise;
        double im = (b[1] * a[0] - b[0] * a[1]) / noise;
        double power_a = r->ratio[k], power_b = r->ratio[k + lag];
        /* 6 dB a second: a resonance turns the phase. */
        bool turning = power_a > 2 * power_b || power_b > 2 * power_a;
        double vote = (turning ? 0.3 : 1) * order * s / (s + 0.5);
        r->gain[at] += vote * im;
        r->size[at] += vote * order * fmax(hypot(re, im), s);
        r->weight[at] += vote * order * s;
        r->spread[at] += vote * vote * (s + 0.5);
    }
}

/* Precision of the speed error seen at one observation, (rev/s)^-2. */
static double precision(const struct refiner *r, size_t k)
{
    double slope = 2 * HT_PI * gain_s * r->weight[k];
    return r->spread[k] > 0 ? slope * slope / r->spread[k] : 0;
}

/* Total correction of the log's speed that fits what was observed, is small
 * against the log's own doubt, and changes no faster than its errors do. */
static void solve(struct refiner *r)
{
    const struct ht_wheel *w = r->wheel;
    double h = (double)r->every / w->rate_hz, mean = 0;
    double together = fmax(gain_s, 0.66 / r->width_hz);
    for (size_t k = 0; k < r->seen; k++) {
        size_t i = k * r->every;
        double sd = w->sd_hz[i], p = precision(r, k) * h / together;
        double slope = 2 * HT_PI * gain_s * r->size[k];
        double so_far = w->hz[i] - w->first_hz[i];
        mean += sd * sd / (double)r->seen;
        r->d0[k] = p + h / (2 * w->lasts_s[i] * sd * sd);
        r->d1[k] = r->d2[k] = 0;
        r->correction[k] =
            p * so_far + (slope > 0 ? p * r->gain[k] / slope : 0);
    }
    double density = 15 * mean / pow(error_lasts_s, 3);
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
        double total =
            r->correction[k] + f * (r->correction[k + 1] - r->correction[k]);
        double most = 0.1 * w->first_hz[i];
        w->hz[i] = w->first_hz[i] + fmin(fmax(total, -most), most);
    }
    ht_wheel_integrate(w);
}

/* Uncertainty from what was observed within a second on either side. */
static void judge(struct refiner *r)
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
        double before = w->sd_hz[i], own = 1 / (before * before);
        w->sd_hz[i] = 1 / sqrt(p + own);
        w->quiet[i] = p < 2 * own;
        w->lasts_s[i] = (p * error_lasts_s + own * w->lasts_s[i]) / (p + own);
    }
}

static void pass(struct refiner *r, const struct ht_lines *lines,
                 const bool *use, double highest_order)
{
    memset(r->gain, 0, 4 * r->seen * sizeof *r->gain);
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
    r->raw = ht_allocate(2 * n + 13 * k, sizeof(double));
    if (!r->raw)
        return false;
    r->z = r->raw + 2 * n;
    r->gain = r->z + 2 * k;
    r->size = r->gain + k;
    r->weight = r->size + k;
    r->spread = r->weight + k;
    r->d0 = r->spread + k;
    r->d1 = r->d0 + k;
    r->d2 = r->d1 + k;
    r->correction = r->d2 + k;
    r->noise = r->correction + k;
    r->ratio = r->noise + k;
    r->strength = r->ratio + k;
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
    for (size_t p = 0; p < sizeof passes / sizeof passes[0]; p++) {
        r.width_hz = passes[p].width_hz;
        pass(&r, lines, use, passes[p].highest_order);
    }
    judge(&r);
    ht_release(r.raw);
    return HT_OK;
}
