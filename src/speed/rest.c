#include "rest.h"

#include "common/limits.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "signal/dot.h"
#include "signal/lanes.h"
#include "signal/phasor.h"

#include <string.h>

/* Moments of one step of the grid: sums of the samples, of these times u and
 * of these times u squared; u runs from 0 to 1. Readers share the steps. */
enum { MOMENTS = 3, READERS = 8 };

/* Every row has room for whole lanes. */
struct reader {
    struct ht_rest *rest;
    const struct ht_wheel *wheel;
    const struct ht_work *work;
    size_t step, stride;
    size_t from, to;      /* points that it fills */
    float *power;         /* [MOMENTS * stride]: of u; 0 behind the step */
    float *x;             /* [(channel * MOMENTS + moment) * stride] */
    float *cosine, *sine; /* [stride] */
    float *last;          /* samples of a step that reaches behind the end */
};

static bool reader_create(struct reader *r)
{
    size_t rows = MOMENTS + r->rest->channels * MOMENTS + 3;
    r->stride = (r->step + HT_LANES - 1) / HT_LANES * HT_LANES;
    r->power = ht_allocate(rows * r->stride, sizeof *r->power);
    if (!r->power)
        return false;
    r->cosine = r->power + MOMENTS * r->stride;
    r->sine = r->cosine + r->stride;
    r->last = r->sine + r->stride;
    r->x = r->last + r->stride;
    for (size_t k = 0; k < r->step; k++) {
        float u = (float)(((double)k + 0.5) / (double)r->step);
        r->power[k] = 1;
        r->power[r->stride + k] = u;
        r->power[2 * r->stride + k] = u * u;
    }
    return true;
}

static struct ht_phasor times(struct ht_phasor a, struct ht_phasor b)
{
    return (struct ht_phasor){ a.re * b.re - a.im * b.im,
                               a.re * b.im + a.im * b.re };
}

HT_WIDE static void turn_on(float *cosine, float *sine, size_t n,
                            const float *re, const float *im,
                            struct ht_phasor by)
{
    ht_lanes_f x, y;
    float c = (float)by.re, s = (float)by.im;
    HT_LANES_LOAD(x, re);
    HT_LANES_LOAD(y, im);
    for (size_t k = 0; k < n; k += HT_LANES) {
        HT_LANES_STORE(cosine + k, x);
        HT_LANES_STORE(sine + k, y);
        ht_lanes_f turned = x * c - y * s;
        y = x * s + y * c;
        x = turned;
    }
}

/* Phase linear inside the step: eight samples side by side, each turned on by
 * eight samples at a time. */
static void fill_turns(const struct reader *r, double from_turns,
                       double each_turns)
{
    float re[HT_LANES], im[HT_LANES];
    struct ht_phasor at = ht_phasor_of(-from_turns);
    struct ht_phasor one = ht_phasor_of(-each_turns);
    for (size_t j = 0; j < HT_LANES; j++) {
        re[j] = (float)at.re;
        im[j] = (float)at.im;
        at = times(at, one);
    }
    turn_on(r->cosine, r->sine, r->stride, re, im,
            ht_phasor_of(-HT_LANES * each_turns));
}

/* A step's samples with at least `stride` readable behind them. */
static const float *samples_of(const struct reader *r, size_t channel,
                               size_t from)
{
    const float *x = r->work->channel[channel] + from;
    size_t left = r->work->frames - from;
    if (left >= r->stride)
        return x;
    memset(r->last, 0, r->stride * sizeof *r->last);
    memcpy(r->last, x, left * sizeof *x);
    return r->last;
}

/* One step of all channels, times the powers of u. */
static void read_step(const struct reader *r, size_t point)
{
    for (size_t c = 0; c < r->rest->channels; c++) {
        const float *samples = samples_of(r, c, point * r->step);
        float *x = r->x + c * MOMENTS * r->stride;
        for (size_t m = 0; m < MOMENTS; m++)
            for (size_t k = 0; k < r->stride; k++)
                x[m * r->stride + k] =
                    samples[k] * r->power[m * r->stride + k];
    }
}

/* Moments of one step onto the grid, through a quadratic spline three steps
 * long, whose zeros at the grid rate are triple: what moves slowly in the
 * recording must not fold onto the order. */
static void spread(const struct reader *r, float *out, size_t i,
                   const float moment[MOMENTS])
{
    float scale = 1 / (float)r->step;
    float s0 = moment[0] * scale, s1 = moment[1] * scale,
          s2 = moment[2] * scale;
    if (i + 1 >= r->from && i + 1 < r->to)
        out[i + 1] += 0.5F * s2;
    if (i >= r->from && i < r->to)
        out[i] += 0.5F * s0 + s1 - s2;
    if (i > r->from && i <= r->to)
        out[i - 1] += 0.5F * s0 - s1 + 0.5F * s2;
}

static void read_line(const struct reader *r, size_t line, size_t i)
{
    struct ht_rest *rest = r->rest;
    const struct ht_wheel *wheel = r->wheel;
    float re[MOMENTS * HT_CHANNELS_MAX], im[MOMENTS * HT_CHANNELS_MAX];
    double order = rest->order[line];
    double advance = i + 1 < rest->points
                         ? wheel->turns[i + 1] - wheel->turns[i]
                         : wheel->hz[i] / wheel->rate_hz;
    fill_turns(r, order * wheel->turns[i],
               order * advance / (double)r->step);
    size_t rows = rest->channels * MOMENTS;
    ht_dot_rows_f(r->cosine, r->x, r->stride, rows, r->stride, re);
    ht_dot_rows_f(r->sine, r->x, r->stride, rows, r->stride, im);
    for (size_t c = 0; c < rest->channels; c++) {
        size_t track = (line * rest->channels + c) * rest->points;
        spread(r, rest->re + track, i, re + c * MOMENTS);
        spread(r, rest->im + track, i, im + c * MOMENTS);
    }
}

/* The steps before and behind reach into its points as well. */
static void read_share(void *context, size_t index)
{
    const struct reader *r = (const struct reader *)context + index;
    size_t first = r->from > 0 ? r->from - 1 : 0;
    for (size_t i = first; i <= r->to && i < r->rest->points; i++) {
        read_step(r, i);
        for (size_t line = 0; line < r->rest->lines; line++)
            read_line(r, line, i);
    }
}

static bool reserve(struct ht_rest *rest, const double *turns)
{
    size_t tracks = rest->lines * rest->channels, n = rest->points;
    rest->memory = ht_allocate(n + tracks * n, sizeof *rest->turns);
    if (!rest->memory)
        return false;
    rest->turns = rest->memory;
    rest->re = (float *)(void *)(rest->turns + n);
    rest->im = rest->re + tracks * n;
    memcpy(rest->turns, turns, n * sizeof *rest->turns);
    return true;
}

bool ht_rest_create(struct ht_rest *rest, const struct ht_wheel *wheel,
                    const struct ht_work *work, const struct ht_lines *lines,
                    const bool *use)
{
    *rest = (struct ht_rest){ .points = wheel->points,
                              .channels = work->channels };
    for (size_t l = 0; l < lines->count; l++)
        if (use[l])
            rest->order[rest->lines++] = lines->line[l].order;
    struct reader reader[READERS];
    bool fine = reserve(rest, wheel->turns);
    size_t made = 0;
    for (; fine && made < READERS; made++) {
        reader[made] = (struct reader){
            .rest = rest, .wheel = wheel, .work = work, .step = wheel->step,
            .from = made * rest->points / READERS,
            .to = (made + 1) * rest->points / READERS
        };
        fine = reader_create(&reader[made]);
    }
    if (fine)
        ht_parallel(READERS, read_share, reader);
    while (made > 0)
        ht_release(reader[--made].power);
    if (!fine)
        ht_rest_free(rest);
    return fine;
}

void ht_rest_free(struct ht_rest *rest)
{
    ht_release(rest->memory);
    *rest = (struct ht_rest){ 0 };
}

void ht_rest_aim(const struct ht_rest *rest, size_t line,
                 const struct ht_wheel *wheel, struct ht_turned *turned)
{
    double order = rest->order[line];
    /* a value stands for the middle of its step */
    for (size_t i = 0; i < rest->points; i++) {
        size_t next = i + 1 < rest->points ? i + 1 : i;
        double by = 0.5 * (wheel->turns[i] - rest->turns[i] +
                           wheel->turns[next] - rest->turns[next]);
        struct ht_phasor p = ht_phasor_of(-order * by);
        turned->cosine[i] = (float)p.re;
        turned->sine[i] = (float)p.im;
    }
}

void ht_rest_turn(const struct ht_rest *rest, size_t line, size_t channel,
                  struct ht_turned *turned)
{
    size_t track = (line * rest->channels + channel) * rest->points;
    const float *re = rest->re + track, *im = rest->im + track;
    for (size_t i = 0; i < rest->points; i++) {
        float c = turned->cosine[i], s = turned->sine[i];
        turned->re[i] = re[i] * c - im[i] * s;
        turned->im[i] = re[i] * s + im[i] * c;
    }
}
