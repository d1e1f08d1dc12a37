#include "whiten.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "signal/median.h"

#include <math.h>

enum { GROUPS = 10, CHANNELS_TOGETHER = 8 };
/* Each channel's work is done in parts side by side: three channels are not
 * shared evenly among two processors. */
enum { PARTS = 2 };

/* Median of an exponential variable over its mean. */
static const float median_over_mean = 0.693147181F;
/* Frames are padded to twice their length and more: neighbouring bins say
 * nearly the same, so medians read every other one. */
enum { SKIP = 2 };
/* Of a frame's level. */
static const float silent = 1e-20F;
static const double knots_apart_hz = 4, local_hz = 5, record_hz = 6;

struct whitener {
    struct ht_frames *f;
    float *record;  /* [bin] of one channel */
    float *raw;     /* [bin], of all its parts */
    float *ratio;   /* [bin / SKIP][column]: eight frames side by side */
    float *tile;    /* [frame][column]: eight bins side by side */
    float *local;   /* [frame * knots + knot] of one channel, not smoothed, of
                       all its parts */
    size_t *sorted; /* frames by group of speed */
    size_t first_of[GROUPS + 1];
    size_t channel, part;
    bool sweeps;
};

/* Where a part begins that is made of whole columns. */
static size_t begin(size_t part, size_t count, size_t whole)
{
    size_t columns = (count + whole - 1) / whole;
    size_t at = columns * part / PARTS * whole;
    return at < count ? at : count;
}

static float *row(const struct whitener *w, size_t frame, size_t channel)
{
    return w->f->z + (frame * w->f->channels + channel) * w->f->bins;
}

static float *level(const struct whitener *w, size_t frame)
{
    return w->f->level + frame * w->f->channels + w->channel;
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static void find_levels(void *context, size_t index)
{
    struct whitener *w = (struct whitener *)context + index;
    size_t from = (size_t)(5 / w->f->bin_hz);
    size_t first = begin(w->part, w->f->frames, 1);
    size_t last = begin(w->part + 1, w->f->frames, 1);
    if (from + 8 > w->f->bins)
        from = 0;
    for (size_t k = first; k < last; k++) {
        const float *p = row(w, k, w->channel);
        size_t n = 0;
        for (size_t b = from; b < w->f->bins; b += SKIP)
            w->ratio[n++] = p[b];
        *level(w, k) = ht_median_f(w->ratio, n);
    }
}

/* Groups of equal width in ln speed: a long cruise counts as one group, so
 * that it does not pass for noise. */
static int group_of(double speed, double low, double width)
{
    int g = (int)(log(speed / low) / width);
    return g < GROUPS ? g : GROUPS - 1;
}

static void find_groups(struct whitener *w, const struct ht_speed_path *path,
                        double lag_s)
{
    double low = INFINITY, high = 0;
    for (size_t k = 0; k < w->f->frames; k++) {
        double v = ht_path_speed(path, w->f->time_s[k] + lag_s);
        low = fmin(low, v);
        high = fmax(high, v);
    }
    double width = log(high / low) / GROUPS + 1e-12;
    size_t n = 0;
    for (int g = 0; g < GROUPS; g++) {
        w->first_of[g] = n;
        for (size_t k = 0; k < w->f->frames; k++) {
            double v = ht_path_speed(path, w->f->time_s[k] + lag_s);
            if (group_of(v, low, width) == g)
                w->sorted[n++] = k;
        }
    }
    w->first_of[GROUPS] = n;
}

/* Eight bins, SKIP apart, over the level of their frame, by groups. */
static void fill_tile(struct whitener *w, size_t c, size_t first)
{
    for (size_t i = 0; i < w->f->frames; i++) {
        size_t k = w->sorted[i];
        const float *p = row(w, k, c);
        float over = 1 / *level(w, k);
        for (size_t t = 0; t < HT_COLUMNS; t++) {
            size_t b = least(first + t * SKIP, w->f->bins - 1);
            w->tile[i * HT_COLUMNS + t] = p[b] * over;
        }
    }
}

/* Median over the groups' medians; over all frames when groups are few. */
static void middles(const struct whitener *w, float out[HT_COLUMNS])
{
    float of_group[GROUPS * HT_COLUMNS];
    size_t groups = 0;
    for (int g = 0; g < GROUPS; g++) {
        size_t n = w->first_of[g + 1] - w->first_of[g];
        if (n >= 3)
            ht_medians_f(w->tile + w->first_of[g] * HT_COLUMNS, n,
                         of_group + groups++ * HT_COLUMNS);
    }
    if (groups >= 3)
        ht_medians_f(of_group, groups, out);
    else
        ht_medians_f(w->tile, w->f->frames, out);
    for (size_t t = 0; t < HT_COLUMNS; t++)
        out[t] /= median_over_mean;
}

static void means(const struct whitener *w, float out[HT_COLUMNS])
{
    float sum[HT_COLUMNS] = { 0 };
    for (size_t i = 0; i < w->f->frames; i++)
        for (size_t t = 0; t < HT_COLUMNS; t++)
            sum[t] += w->tile[i * HT_COLUMNS + t];
    for (size_t t = 0; t < HT_COLUMNS; t++)
        out[t] = sum[t] / (float)w->f->frames;
}

static void find_raw(void *context, size_t index)
{
    struct whitener *w = (struct whitener *)context + index;
    enum { WHOLE = HT_COLUMNS * SKIP };
    size_t bins = w->f->bins, last = begin(w->part + 1, bins, WHOLE);
    for (size_t b = begin(w->part, bins, WHOLE); b < last; b += WHOLE) {
        float out[HT_COLUMNS];
        fill_tile(w, w->channel, b);
        if (w->sweeps)
            middles(w, out);
        else
            means(w, out);
        for (size_t t = 0; t < HT_COLUMNS && b + t * SKIP < bins; t++)
            w->raw[b + t * SKIP] = out[t];
    }
}

/* Between those that were read. */
static void fill_raw(struct whitener *w)
{
    size_t bins = w->f->bins;
    for (size_t b = 1; b < bins; b += SKIP)
        w->raw[b] = 0.5F * (w->raw[b - 1] +
                            w->raw[b + 1 < bins ? b + 1 : b - 1]);
}

/* Median of values within `reach` of the middle. */
static float around(const float *v, size_t n, size_t middle, size_t reach)
{
    size_t from = middle > reach ? middle - reach : 0;
    size_t to = least(middle + reach + 1, n);
    return ht_median_f(v + from, to - from);
}

/* By the first part of each channel; raw is then what to multiply with. */
static void find_record(void *context, size_t channel)
{
    struct whitener *w = (struct whitener *)context + channel * PARTS;
    size_t bins = w->f->bins;
    const float *raw = w->raw;
    fill_raw(w);
    size_t reach = (size_t)(record_hz / w->f->bin_hz);
    for (size_t b = 0; b < bins; b++) {
        size_t a = b ? b - 1 : 0, d = b + 1 < bins ? b + 1 : b;
        float record = w->sweeps ? (raw[a] + raw[b] + raw[d]) / 3
                                 : around(raw, bins, b, reach);
        w->record[b] = record > silent ? record : silent;
    }
    for (size_t b = 0; b < bins; b++)
        w->raw[b] = 1 / w->record[b];
}

/* Eight frames side by side, their bins over level and record. */
static void fill_ratio(struct whitener *w, size_t c, size_t first)
{
    for (size_t t = 0; t < HT_COLUMNS; t++) {
        size_t k = least(first + t, w->f->frames - 1);
        const float *p = row(w, k, c);
        float over = 1 / *level(w, k);
        for (size_t b = 0, i = 0; b < w->f->bins; b += SKIP, i++)
            w->ratio[i * HT_COLUMNS + t] = p[b] * over * w->raw[b];
    }
}

static void find_local(void *context, size_t index)
{
    struct whitener *w = (struct whitener *)context + index;
    size_t reach = (size_t)(local_hz / w->f->bin_hz) / SKIP;
    size_t knots = w->f->knots, every = w->f->step / SKIP;
    size_t n = (w->f->bins + SKIP - 1) / SKIP;
    size_t last = begin(w->part + 1, w->f->frames, HT_COLUMNS);
    for (size_t k = begin(w->part, w->f->frames, HT_COLUMNS); k < last;
         k += HT_COLUMNS) {
        fill_ratio(w, w->channel, k);
        for (size_t j = 0; j < knots; j++) {
            size_t middle = least(j * every, n - 1);
            size_t from = middle > reach ? middle - reach : 0;
            size_t to = least(middle + reach + 1, n);
            float out[HT_COLUMNS];
            ht_medians_f(w->ratio + from * HT_COLUMNS, to - from, out);
            for (size_t t = 0; t < HT_COLUMNS && k + t < w->f->frames; t++)
                w->local[(k + t) * knots + j] = out[t] / median_over_mean;
        }
    }
}

static void over_frames(const struct whitener *w, size_t k)
{
    const size_t knots = w->f->knots;
    float *smooth = w->f->local + (k * w->f->channels + w->channel) * knots;
    size_t from = k > 2 ? k - 2 : 0, to = least(k + 3, w->f->frames);
    for (size_t j = 0; j < knots; j++) {
        float sum = 0;
        for (size_t i = from; i < to; i++)
            sum += w->local[i * knots + j];
        smooth[j] = sum / (float)(to - from);
    }
}

static void divide(void *context, size_t index)
{
    const struct whitener *w = (const struct whitener *)context + index;
    const struct ht_frames *f = w->f;
    size_t c = w->channel, last = begin(w->part + 1, f->frames, 1);
    for (size_t k = begin(w->part, f->frames, 1); k < last; k++) {
        float *p = row(w, k, c);
        over_frames(w, k);
        for (size_t j = 0; j * f->step < f->bins; j++) {
            size_t from = j * f->step, n = least(f->step, f->bins - from);
            const struct ht_floor_part part =
                ht_whiten_part(f, k * f->channels + c, j);
            for (size_t i = 0; i < n; i++)
                p[from + i] /= ht_whiten_floor(&part, w->record[from + i], i);
        }
    }
}

/* Room for one channel at a time, and for each of its parts. */
static float *reserve(struct whitener part[PARTS])
{
    const struct ht_frames *f = part->f;
    size_t padded = f->frames + HT_COLUMNS;
    size_t ratios = (f->bins / SKIP + 1) * HT_COLUMNS;
    size_t own = ratios + padded * HT_COLUMNS;
    size_t floats = f->bins + padded * f->knots + PARTS * own;
    float *memory = ht_allocate(floats, sizeof *memory);
    for (size_t p = 0; memory && p < PARTS; p++) {
        part[p].part = p;
        part[p].raw = memory;
        part[p].local = part[p].raw + f->bins;
        part[p].ratio = part[p].local + padded * f->knots + p * own;
        part[p].tile = part[p].ratio + ratios;
    }
    return memory;
}

static void whiten_channels(struct whitener *each, size_t channels)
{
    ht_parallel(channels * PARTS, find_levels, each);
    ht_parallel(channels * PARTS, find_raw, each);
    ht_parallel(channels, find_record, each);
    ht_parallel(channels * PARTS, find_local, each);
    ht_parallel(channels * PARTS, divide, each);
}

/* Channels side by side, as many at a time as there are whiteners. */
static bool whiten_all(const struct whitener *model)
{
    struct whitener each[CHANNELS_TOGETHER * PARTS];
    float *memory[CHANNELS_TOGETHER];
    size_t channels = model->f->channels, ready = 0;
    while (ready < CHANNELS_TOGETHER && ready < channels) {
        for (size_t p = 0; p < PARTS; p++)
            each[ready * PARTS + p] = *model;
        memory[ready] = reserve(&each[ready * PARTS]);
        if (!memory[ready])
            break;
        ready++;
    }
    bool fine = ready == CHANNELS_TOGETHER || ready == channels;
    for (size_t c = 0; fine && c < channels; c += ready) {
        size_t count = least(ready, channels - c);
        for (size_t i = 0; i < count * PARTS; i++) {
            each[i].channel = c + i / PARTS;
            each[i].record =
                model->f->record + each[i].channel * model->f->bins;
        }
        whiten_channels(each, count);
    }
    while (ready > 0)
        ht_release(memory[--ready]);
    return fine;
}

size_t ht_whiten_step(const struct ht_frames *f)
{
    return ((size_t)(knots_apart_hz / f->bin_hz) / SKIP + 1) * SKIP;
}

bool ht_whiten(struct ht_frames *f, const struct ht_speed_path *path,
               const struct ht_frames_plan *plan)
{
    struct whitener w = { .f = f, .sweeps = plan->sweeps };
    if (!f->frames)
        return true;
    w.sorted = ht_allocate(f->frames, sizeof *w.sorted);
    bool fine = w.sorted != NULL;
    if (fine) {
        find_groups(&w, path, plan->lag_s);
        fine = whiten_all(&w);
    }
    ht_release(w.sorted);
    return fine;
}
