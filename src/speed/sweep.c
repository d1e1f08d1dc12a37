#include "sweep.h"

#include "common/memory.h"
#include "common/parallel.h"
#include "signal/dot.h"

#include <math.h>
#include <stdint.h>

/* Rows of the logarithmic axis, half a step apart; sums and rows end in
 * zeros, so that whole vectors can be added. */
enum { PHASES = 2, WHOLE = 8, HALVES = 2 };

/* Half of the frames; the halves are read side by side and added up in their
 * order. */
struct sweep {
    const struct ht_speed_path *path;
    size_t from, to; /* frames */
    const struct ht_grid *grid;
    const struct ht_comb *comb;
    size_t channels, lines, cells, stride;
    size_t ratio_stride;
    double log_order[HT_LINES_MAX]; /* over the lowest frequency */
    double log_clash[HT_LINES_MAX]; /* wheel speed from which it counts */
    float *row;    /* [channel * PHASES * cells]: one frame's spectra */
    float *capped; /* [bin]: one of them, before it is laid out */
    uint32_t *bin; /* [PHASES * cells]: where it is read */
    float *sum;    /* [(((lag * lines + line) * groups + group) * channels
                       + channel) * ratios + ratio] */
    int *edges;    /* [((lag * lines + line) * groups + group) * (ratios + 1)
                      + ratio]: frames that start counting less those ending */
};

/* An order's piece of the axis for one frame and lag. */
struct piece {
    size_t from, to; /* ratios that it serves */
    size_t at;       /* in row, of ratio `from` */
};

static void find_sizes(struct sweep *s)
{
    const struct ht_frames *f = s->comb->frames;
    double step = s->grid->log_turns_per_m.step;
    double top_hz = f->bin_hz * ((double)f->bins - 0.5);
    double clash_hz[HT_LINES_MAX];
    s->lines = s->comb->lines->count;
    s->channels = ht_comb_channels(s->comb);
    s->cells = top_hz > HT_COMB_LOWEST_HZ
                   ? (size_t)(log(top_hz / HT_COMB_LOWEST_HZ) / step) : 0;
    s->stride = s->cells + WHOLE;
    s->ratio_stride = s->grid->ratios + 2 * WHOLE;
    ht_comb_clashes(s->comb, clash_hz);
    for (size_t i = 0; i < s->lines; i++) {
        double order = s->comb->lines->line[i].order;
        s->log_order[i] = log(order / HT_COMB_LOWEST_HZ);
        s->log_clash[i] = log(clash_hz[i]);
    }
}

/* Where the logarithmic axis is read. */
static bool find_bins(struct sweep *s)
{
    const struct ht_frames *f = s->comb->frames;
    double step = s->grid->log_turns_per_m.step;
    s->bin = ht_allocate(PHASES * s->cells + 1, sizeof *s->bin);
    for (size_t i = 0; s->bin && i < PHASES * s->cells; i++) {
        double cell = (double)(i % s->cells) +
                      (double)(i / s->cells) / PHASES;
        double hz = HT_COMB_LOWEST_HZ * exp(step * cell);
        size_t bin = (size_t)(hz / f->bin_hz + 0.5);
        s->bin[i] = (uint32_t)(bin < f->bins ? bin : f->bins - 1);
    }
    return s->bin != NULL;
}

static size_t sums_of(const struct sweep *s)
{
    return s->grid->lags * s->lines * HT_COMB_GROUPS;
}

static bool reserve(struct sweep *s)
{
    size_t sums = sums_of(s);
    size_t rows = s->channels * PHASES * s->stride;
    s->row = ht_allocate(rows + s->comb->frames->bins, sizeof *s->row);
    s->capped = s->row ? s->row + rows : NULL;
    s->sum = ht_allocate(sums * s->channels * s->ratio_stride + 1,
                         sizeof *s->sum);
    s->edges = ht_allocate(sums * (s->grid->ratios + 1) + 1,
                           sizeof *s->edges);
    return s->row && s->sum && s->edges;
}

static void release(struct sweep *s)
{
    ht_release(s->row);
    ht_release(s->sum);
    ht_release(s->edges);
}

/* False: the order counts in no scale. */
static bool find_piece(const struct sweep *s, double log_speed, size_t line,
                       struct piece *piece)
{
    const struct ht_range *ratio = &s->grid->log_turns_per_m;
    double log_wheel = log_speed + ratio->from; /* at the lowest scale */
    double cell = (log_wheel + s->log_order[line]) / ratio->step;
    double half_cells = floor(cell * PHASES + 0.5);
    double whole = floor(half_cells / PHASES);
    double clash = (s->log_clash[line] - log_wheel) / ratio->step;
    double from = fmax(fmax(0, -whole), ceil(clash));
    double to = fmin((double)s->grid->ratios, (double)s->cells - whole);
    if (!(from < to))
        return false;
    *piece = (struct piece){ (size_t)from, (size_t)to,
                             (size_t)(whole + from) };
    if (half_cells - whole * PHASES > 0.5)
        piece->at += s->stride;
    return true;
}

static size_t sum_of(const struct sweep *s, size_t lag, size_t line,
                     size_t group)
{
    return (lag * s->lines + line) * HT_COMB_GROUPS + group;
}

static void lay_out(struct sweep *s, size_t frame, size_t channel)
{
    const float *z = ht_frames_z(s->comb->frames, frame, channel);
    for (size_t b = 0; b < s->comb->frames->bins; b++)
        s->capped[b] = z[b] < HT_COMB_Z_CAP ? z[b] : HT_COMB_Z_CAP;
    const float *capped = s->capped;
    for (size_t phase = 0; phase < PHASES; phase++) {
        float *row = s->row + (channel * PHASES + phase) * s->stride;
        const uint32_t *bin = s->bin + phase * s->cells;
        size_t i = 0;
        for (; i + 4 <= s->cells; i += 4) { /* four at a time: half as long */
            float a = capped[bin[i]], b = capped[bin[i + 1]];
            float c = capped[bin[i + 2]], d = capped[bin[i + 3]];
            row[i] = a;
            row[i + 1] = b;
            row[i + 2] = c;
            row[i + 3] = d;
        }
        for (; i < s->cells; i++)
            row[i] = capped[bin[i]];
    }
}

static void add_lag(struct sweep *s, size_t lag, size_t group, double speed)
{
    size_t ratios = s->grid->ratios;
    double log_speed = log(speed);
    for (size_t i = s->comb->first_scored; i < s->lines; i++) {
        struct piece piece;
        if (!find_piece(s, log_speed, i, &piece))
            continue;
        size_t sum = sum_of(s, lag, i, group);
        int *edges = s->edges + sum * (ratios + 1);
        edges[piece.from]++;
        edges[piece.to]--;
        /* whatever is added beyond the last scale is not read */
        size_t n = (piece.to - piece.from + WHOLE - 1) / WHOLE * WHOLE;
        if (piece.to < ratios)
            n = piece.to - piece.from;
        for (size_t c = 0; c < s->channels; c++)
            ht_add_f(s->sum + (sum * s->channels + c) * s->ratio_stride +
                         piece.from,
                     s->row + c * PHASES * s->stride + piece.at, n);
    }
}

static void add_frame(struct sweep *s, size_t frame)
{
    const struct ht_range *lag_s = &s->grid->lag_s;
    double time_s = s->comb->frames->time_s[frame];
    for (size_t c = 0; c < s->channels; c++)
        lay_out(s, frame, c);
    for (size_t lag = 0; lag < s->grid->lags; lag++) {
        double at_s = time_s + lag_s->from + lag_s->step * (double)lag;
        double speed = ht_path_speed(s->path, at_s);
        if (speed > 0)
            add_lag(s, lag, s->comb->group[frame], speed);
    }
}

static void add_half(void *context, size_t index)
{
    struct sweep *s = (struct sweep *)context + index;
    for (size_t k = s->from; k < s->to; k++)
        add_frame(s, k);
}

static void take_over(struct sweep *s, const struct sweep *other)
{
    size_t sums = sums_of(s);
    ht_add_f(s->sum, other->sum, sums * s->channels * s->ratio_stride);
    for (size_t i = 0; i < sums * (s->grid->ratios + 1); i++)
        s->edges[i] += other->edges[i];
}

/* One order's share of the scores of one lag. */
static void add_scores(const struct sweep *s, size_t lag, size_t line,
                       double *score)
{
    size_t ratios = s->grid->ratios;
    for (size_t g = 0; g < HT_COMB_GROUPS; g++) {
        size_t sum = sum_of(s, lag, line, g);
        const int *edges = s->edges + sum * (ratios + 1);
        const float *z = s->sum + sum * s->channels * s->ratio_stride;
        int n = 0;
        for (size_t i = 0; i < ratios; i++) {
            n += edges[i];
            for (size_t c = 0; c < s->channels; c++)
                score[i] += ht_comb_evidence(
                    s->comb, n, (double)z[c * s->ratio_stride + i]);
        }
    }
}

struct scoring {
    const struct sweep *sweep;
    double *score;
};

static void score_lag(void *context, size_t lag)
{
    const struct scoring *scoring = context;
    const struct sweep *s = scoring->sweep;
    double *of_lag = scoring->score + lag * s->grid->ratios;
    for (size_t i = 0; i < s->grid->ratios; i++)
        of_lag[i] = 0;
    for (size_t i = s->comb->first_scored; i < s->lines; i++)
        add_scores(s, lag, i, of_lag);
}

bool ht_sweep(double *score, const struct ht_grid *grid,
              const struct ht_comb *comb, const struct ht_speed_path *path)
{
    struct sweep half[HALVES] = {
        { .grid = grid, .comb = comb, .path = path }
    };
    size_t frames = comb->frames->frames;
    find_sizes(&half[0]);
    bool fine = find_bins(&half[0]);
    for (size_t i = 0; i < HALVES; i++) {
        half[i] = half[0];
        half[i].row = NULL;
        half[i].sum = NULL;
        half[i].edges = NULL;
        half[i].from = i * frames / HALVES;
        half[i].to = (i + 1) * frames / HALVES;
    }
    for (size_t i = 0; i < HALVES; i++)
        fine = fine && reserve(&half[i]);
    if (fine) {
        ht_parallel(HALVES, add_half, half);
        take_over(&half[0], &half[1]);
        struct scoring scoring = { &half[0], score };
        ht_parallel(grid->lags, score_lag, &scoring);
    }
    for (size_t i = 0; i < HALVES; i++)
        release(&half[i]);
    ht_release(half[0].bin);
    return fine;
}
