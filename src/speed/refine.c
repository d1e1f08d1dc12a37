#include "refine.h"

#include "rest.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "signal/dot.h"

#include <math.h>
#include <string.h>

/* Errors of a smoothed log last about this long: it scales their second
 * derivative and the weight of the log itself. */
static const double error_lasts_s = 1.5;
static const double usual_gain_s = 0.5;
static const double observation_hz = 5;
static const double strength_s = 4;

/* The low pass narrows as the angle gets better; low orders first, since the
 * high ones slip a cycle first. */
static const struct pass {
    double width_hz, highest_order;
} passes[] = { { 1.5, 4.5 }, { 1.0, 12 }, { 0.8, 99 }, { 0.6, 99 } };
static const double narrowest_hz = 0.6;

struct refiner;

/* What one line says about the speed; lines are heard side by side. */
struct voter {
    const struct refiner *r;
    bool heard;          /* in this pass */
    struct ht_turned turned;
    float *re, *im;      /* one per observation, of one channel */
    double *noise, *ratio, *strength;      /* likewise */
    double *gain, *size, *weight, *spread; /* per observation, all channels */
    void *memory;
};

struct refiner {
    struct ht_wheel *wheel;
    const struct ht_frames *frames;
    struct ht_rest rest;
    struct voter voter[HT_LINES_MAX];
    size_t every, seen; /* grid points per observation; observations */
    size_t lag;         /* observations over which a phase gain is taken */
    double gain_s;      /* the same in seconds */
    size_t margin;      /* zeros on either side of the turned values */
    float *kernel;      /* of the low pass */
    size_t reach;       /* taps on either side of its middle one */
    double *gain, *size, *weight, *spread; /* per observation, all lines */
    double *d0, *d1, *d2, *correction, *precise;
    void *memory;
    double width_hz; /* of the low pass, -3 dB, both sides */
};

static double sigma_points(const struct refiner *r, double width_hz)
{
    double sigma_hz = width_hz / 1.6651; /* 2 sqrt(ln 2) */
    return r->wheel->rate_hz / (2 * HT_PI * sigma_hz);
}

static void design_low_pass(struct refiner *r)
{
    double sigma = sigma_points(r, r->width_hz), sum = 0;
    r->reach = (size_t)ceil(3.5 * sigma);
    for (size_t j = 0; j <= 2 * r->reach; j++) {
        double away = ((double)j - (double)r->reach) / sigma;
        r->kernel[j] = (float)exp(-0.5 * away * away);
        sum += (double)r->kernel[j];
    }
    for (size_t j = 0; j <= 2 * r->reach; j++)
        r->kernel[j] /= (float)sum;
}

/* Gaussian low pass, sampled at the observations. */
static void low_pass(const struct voter *v)
{
    const struct refiner *r = v->r;
    size_t taps = 2 * r->reach + 1;
    for (size_t k = 0; k < r->seen; k++) {
        const float *re = v->turned.re + k * r->every;
        const float *im = v->turned.im + k * r->every;
        v->re[k] = ht_dot_f(r->kernel, re - r->reach, taps);
        v->im[k] = ht_dot_f(r->kernel, im - r->reach, taps);
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
static void find_strength(const struct voter *v, size_t channel, double order)
{
    const struct refiner *r = v->r;
    const struct ht_frames *f = r->frames;
    double sigma_hz = r->width_hz / 1.6651;
    size_t near = 0;
    for (size_t k = 0; k < r->seen; k++) {
        size_t i = k * r->every;
        double hz = r->wheel->hz[i] * order;
        size_t bin = (size_t)(hz / f->bin_hz + 0.5);
        v->noise[k] = v->ratio[k] = 0;
        if (!frame_at(f, (double)i / r->wheel->rate_hz, &near) ||
            bin >= f->bins || hz < 2)
            continue;
        double density = (double)ht_frames_floor(f, near, channel, bin);
        v->noise[k] = 0.5 * density * sigma_hz * sqrt(HT_PI);
        v->ratio[k] =
            (double)(v->re[k] * v->re[k] + v->im[k] * v->im[k]) / v->noise[k];
    }
    size_t reach = (size_t)(strength_s * observation_hz);
    double independent = 1 + 2 * strength_s * r->width_hz, sum = 0;
    for (size_t j = 0; j < reach && j < r->seen; j++)
        sum += v->ratio[j];
    for (size_t k = 0; k < r->seen; k++) {
        size_t from = k > reach ? k - reach : 0;
        size_t to = k + reach + 1 < r->seen ? k + reach + 1 : r->seen;
        if (k + reach < r->seen)
            sum += v->ratio[k + reach];
        if (k > reach)
            sum -= v->ratio[k - reach - 1];
        double mean = sum / (double)(to - from) - 1;
        v->strength[k] = fmax(mean - 1 / sqrt(independent), 0);
    }
}

/* What one channel's phase says about the speed at each observation. */
static void observe(const struct voter *v, size_t channel, double order)
{
    const struct refiner *r = v->r;
    size_t lag = r->lag;
    find_strength(v, channel, order);
    for (size_t k = 0; k + lag < r->seen; k++) {
        size_t at = k + lag / 2;
        double s = v->strength[at];
        if (!(s > 0) || !(v->noise[k] > 0) || !(v->noise[k + lag] > 0))
            continue;
        double ar = (double)v->re[k], ai = (double)v->im[k];
        double br = (double)v->re[k + lag], bi = (double)v->im[k + lag];
        double power_a = v->ratio[k], power_b = v->ratio[k + lag];
        double noise = sqrt(v->noise[k] * v->noise[k + lag]);
        double im = (bi * ar - br * ai) / noise;
        /* 6 dB a second: a resonance turns the phase. */
        bool turning = power_a > 2 * power_b || power_b > 2 * power_a;
        double vote = (turning ? 0.3 : 1) * order * s / (s + 0.5);
        v->gain[at] += vote * im;
        v->size[at] += vote * order * fmax(sqrt(power_a * power_b), s);
        v->weight[at] += vote * order * s;
        v->spread[at] += vote * vote * (s + 0.5);
    }
}

/* Precision of the speed error seen at one observation, (rev/s)^-2. */
static double precision(const struct refiner *r, size_t k)
{
    double slope = 2 * HT_PI * r->gain_s * r->weight[k];
    return r->spread[k] > 0 ? slope * slope / r->spread[k] : 0;
}

/* Grid points from an observation's own to the moment that it speaks of: a
 * value stands for the middle of its step, a gain for the middle of its lag. */
static double behind(const struct refiner *r)
{
    return 0.5 + (r->lag % 2 ? 0.5 * (double)r->every : 0);
}

/* Total correction of the log's speed that fits what was observed, is small
 * against the log's own doubt, and changes no faster than its errors do. */
static void solve(struct refiner *r)
{
    const struct ht_wheel *w = r->wheel;
    double h = (double)r->every / w->rate_hz, mean = 0, later = behind(r);
    double together = fmax(r->gain_s, 0.66 / r->width_hz);
    for (size_t k = 0; k < r->seen; k++) {
        size_t i = k * r->every + (size_t)(later + 0.5);
        i = i < w->points ? i : w->points - 1;
        double sd = w->sd_hz[i], p = precision(r, k) * h / together;
        double slope = 2 * HT_PI * r->gain_s * r->size[k];
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
    double later = behind(r), last = (double)(r->seen - 1);
    for (size_t i = 0; i < w->points; i++) {
        double at = ((double)i - later) / (double)r->every;
        at = at < 0 ? 0 : at > last ? last : at;
        size_t k = (size_t)at;
        k = k + 2 > r->seen ? r->seen - 2 : k;
        double f = at - (double)k;
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
    double together = fmax(r->gain_s, 0.66 / r->width_hz);
    size_t reach = (size_t)(1 / h + 0.5);
    for (size_t k = 0; k < r->seen; k++)
        r->precise[k] = precision(r, k) * h / together;
    for (size_t i = 0; i < w->points; i++) {
        size_t k = i / r->every;
        double p = 0;
        for (size_t j = k > reach ? k - reach : 0;
             j <= k + reach && j < r->seen; j++)
            p += r->precise[j];
        double before = w->sd_hz[i], own = 1 / (before * before);
        w->sd_hz[i] = 1 / sqrt(p + own);
        w->quiet[i] = p < 2 * own;
        w->lasts_s[i] = (p * error_lasts_s + own * w->lasts_s[i]) / (p + own);
    }
}

static void hear(void *context, size_t line)
{
    struct voter *v = (struct voter *)context + line;
    const struct refiner *r = v->r;
    if (!v->heard)
        return;
    memset(v->gain, 0, 4 * r->seen * sizeof *v->gain);
    ht_rest_aim(&r->rest, line, r->wheel, &v->turned);
    for (size_t c = 0; c < r->rest.channels; c++) {
        ht_rest_turn(&r->rest, line, c, &v->turned);
        low_pass(v);
        observe(v, c, r->rest.order[line]);
    }
}

static void run_pass(struct refiner *r, const struct pass *pass)
{
    r->width_hz = pass->width_hz;
    design_low_pass(r);
    for (size_t l = 0; l < r->rest.lines; l++)
        r->voter[l].heard = r->rest.order[l] <= pass->highest_order;
    ht_parallel(r->rest.lines, hear, r->voter);
    memset(r->gain, 0, 4 * r->seen * sizeof *r->gain);
    for (size_t l = 0; l < r->rest.lines; l++)
        for (size_t k = 0; k < 4 * r->seen && r->voter[l].heard; k++)
            r->gain[k] += r->voter[l].gain[k];
    solve(r);
    apply(r);
}

/* gain, size, weight and spread lie behind one another. */
static void place_votes(double *from, size_t seen, double **gain,
                        double **size, double **weight, double **spread)
{
    *gain = from;
    *size = from + seen;
    *weight = from + 2 * seen;
    *spread = from + 3 * seen;
}

static bool voter_create(struct voter *v, const struct refiner *r)
{
    size_t n = r->wheel->points, k = r->seen, margin = r->margin;
    size_t floats = 2 * n + 2 * (n + 2 * margin) + 2 * k;
    v->r = r;
    v->memory = ht_allocate(7 * k + floats / 2 + 1, sizeof(double));
    if (!v->memory)
        return false;
    place_votes(v->memory, k, &v->gain, &v->size, &v->weight, &v->spread);
    v->noise = v->spread + k;
    v->ratio = v->noise + k;
    v->strength = v->ratio + k;
    v->turned.cosine = (float *)(void *)(v->strength + k);
    v->turned.sine = v->turned.cosine + n;
    v->turned.re = v->turned.sine + n + margin;
    v->turned.im = v->turned.re + n + 2 * margin;
    v->re = v->turned.im + n + margin;
    v->im = v->re + k;
    return true;
}

static bool reserve(struct refiner *r)
{
    size_t k = r->seen;
    r->margin = (size_t)ceil(3.5 * sigma_points(r, narrowest_hz)) + 1;
    r->memory = ht_allocate(9 * k + r->margin + 1, sizeof(double));
    if (!r->memory)
        return false;
    place_votes(r->memory, k, &r->gain, &r->size, &r->weight, &r->spread);
    r->d0 = r->spread + k;
    r->d1 = r->d0 + k;
    r->d2 = r->d1 + k;
    r->correction = r->d2 + k;
    r->precise = r->correction + k;
    r->kernel = (float *)(void *)(r->precise + k);
    bool fine = true;
    for (size_t l = 0; l < r->rest.lines && fine; l++)
        fine = voter_create(&r->voter[l], r);
    return fine;
}

static void choose_observations(struct refiner *r)
{
    double rate_hz = r->wheel->rate_hz;
    size_t every = (size_t)(rate_hz / observation_hz + 0.5);
    r->every = every > 0 ? every : 1;
    r->seen = (r->wheel->points - 1) / r->every + 1;
    double h = (double)r->every / rate_hz;
    size_t lag = (size_t)(usual_gain_s / h + 0.5);
    r->lag = lag > 0 ? lag : 1;
    r->gain_s = (double)r->lag * h;
}

enum ht_status ht_wheel_refine(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_frames *frames,
                               const struct ht_lines *lines, const bool *use,
                               struct ht_error *err)
{
    struct refiner r = { .wheel = wheel, .frames = frames };
    choose_observations(&r);
    if (r.seen < 20 || !frames->frames)
        return HT_OK;
    bool fine = ht_rest_create(&r.rest, wheel, work, lines, use) &&
                reserve(&r);
    if (fine) {
        for (size_t p = 0; p < sizeof passes / sizeof passes[0]; p++)
            run_pass(&r, &passes[p]);
        judge(&r);
    }
    for (size_t l = 0; l < r.rest.lines; l++)
        ht_release(r.voter[l].memory);
    ht_rest_free(&r.rest);
    ht_release(r.memory);
    return fine ? HT_OK
                : ht_fail(err, SPEED_NO_MEMORY);
}
