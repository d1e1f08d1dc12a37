#include "rest.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "signal/dot.h"
#include "signal/phasor.h"

#include <string.h>

enum { ROWS = 6 }; /* cosine, sine; the same times u; times u squared */

/* One step of the grid: what its samples are multiplied with. u runs from 0
 * to 1; rows are 0 behind the step's end. */
struct basis {
    size_t step, stride;
    float *row;          /* [ROWS * stride] */
    float *inside, *u;   /* [stride] */
    float *last;         /* samples of a step that reaches behind the end */
};

static bool basis_create(struct basis *b, size_t step)
{
    b->step = step;
    b->stride = (step + HT_LANES - 1) / HT_LANES * HT_LANES;
    b->row = ht_allocate((ROWS + 3) * b->stride, sizeof *b->row);
    if (!b->row)
        return false;
    b->inside = b->row + ROWS * b->stride;
    b->u = b->inside + b->stride;
    b->last = b->u + b->stride;
    for (size_t k = 0; k < step; k++) {
        b->inside[k] = 1;
        b->u[k] = (float)(((double)k + 0.5) / (double)step);
    }
    return true;
}

static struct ht_phasor times(struct ht_phasor a, struct ht_phasor b)
{
    return (struct ht_phasor){ a.re * b.re - a.im * b.im,
                               a.re * b.im + a.im * b.re };
}

/* Phase linear inside the step: eight samples side by side, each turned on by
 * eight samples at a time. */
static void basis_fill(struct basis *b, double from_turns, double each_turns)
{
    float re[HT_LANES], im[HT_LANES];
    struct ht_phasor at = ht_phasor_of(-from_turns);
    struct ht_phasor one = ht_phasor_of(-each_turns);
    for (size_t j = 0; j < HT_LANES; j++) {
        re[j] = (float)at.re;
        im[j] = (float)at.im;
        at = times(at, one);
    }
    struct ht_phasor eight = ht_phasor_of(-HT_LANES * each_turns);
    float cosine = (float)eight.re, sine = (float)eight.im;
    float *row = b->row;
    size_t stride = b->stride;
    for (size_t k = 0; k < stride; k += HT_LANES)
        for (size_t j = 0; j < HT_LANES; j++) {
            float x = re[j], y = im[j], u = b->u[k + j];
            float c = x * b->inside[k + j], s = y * b->inside[k + j];
            row[k + j] = c;
            row[stride + k + j] = s;
            row[2 * stride + k + j] = c * u;
            row[3 * stride + k + j] = s * u;
            row[4 * stride + k + j] = c * u * u;
            row[5 * stride + k + j] = s * u * u;
            re[j] = x * cosine - y * sine;
            im[j] = x * sine + y * cosine;
        }
}

/* Moments of one step onto the grid, through a quadratic spline three steps
 * long, whose zeros at the grid rate are triple: what moves slowly in the
 * recording must not fold onto the order. m: sums of x e, x e u, x e u^2,
 * real and imaginary parts. */
static void spread(float *out, size_t i, size_t points, const float *m,
                   float scale)
{
    float s0 = m[0] * scale, s1 = m[2] * scale, s2 = m[4] * scale;
    if (i + 1 < points)
        out[i + 1] += 0.5F * s2;
    out[i] += 0.5F * s0 + s1 - s2;
    if (i > 0)
        out[i - 1] += 0.5F * s0 - s1 + 0.5F * s2;
}

/* A step's samples with at least `stride` readable behind them. */
static const float *samples_of(const struct basis *b,
                               const struct ht_work *work, size_t channel,
                               size_t from)
{
    const float *x = work->channel[channel] + from;
    size_t left = work->frames - from;
    if (left >= b->stride)
        return x;
    memset(b->last, 0, b->stride * sizeof *b->last);
    memcpy(b->last, x, left * sizeof *x);
    return b->last;
}

/* One line: its own basis, its own tracks. */
struct reader {
    struct ht_rest *rest;
    const struct ht_wheel *wheel;
    const struct ht_work *work;
    struct basis basis;
};

static void read_line(void *context, size_t line)
{
    struct reader *reader = (struct reader *)context + line;
    struct ht_rest *rest = reader->rest;
    const struct ht_wheel *wheel = reader->wheel;
    struct basis *b = &reader->basis;
    double order = rest->order[line];
    float scale = 1 / (float)b->step;
    for (size_t i = 0; i < rest->points; i++) {
        double advance = i + 1 < rest->points
                             ? wheel->turns[i + 1] - wheel->turns[i]
                             : wheel->hz[i] / wheel->rate_hz;
        basis_fill(b, order * wheel->turns[i],
                   order * advance / (double)b->step);
        for (size_t c = 0; c < rest->channels; c++) {
            size_t track = (line * rest->channels + c) * rest->points;
            float m[ROWS];
            ht_dot_rows_f(samples_of(b, reader->work, c, i * b->step), b->row,
                          b->stride, ROWS, b->stride, m);
            spread(rest->re + track, i, rest->points, m, scale);
            spread(rest->im + track, i, rest->points, m + 1, scale);
        }
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
    struct reader reader[HT_LINES_MAX];
    bool fine = reserve(rest, wheel->turns);
    size_t made = 0;
    for (; fine && made < rest->lines; made++) {
        reader[made] = (struct reader){ rest, wheel, work, { 0 } };
        fine = basis_create(&reader[made].basis, wheel->step);
    }
    if (fine)
        ht_parallel(rest->lines, read_line, reader);
    while (made > 0)
        ht_release(reader[--made].basis.row);
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
