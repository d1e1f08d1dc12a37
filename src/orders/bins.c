#include "bins.h"

#include <math.h>

#include "halfturn/orders.h"

/* 2 pi o sd below this keeps the correction under 1.2: e^(x^2 / 2). */
static const double blur_most = 0.6038;

static bool in_bin(const struct ht_work *w, const struct ht_block *block,
                   size_t bin)
{
    return bin == w->bins || (block->row >= w->bin_row[bin] &&
                              block->row < w->bin_row[bin] + HT_BIN_ROWS);
}

static double blur_of(const struct ht_work *w, const struct ht_block *block,
                      size_t column)
{
    return 6.283185307179586 * w->plan->column[column] * block->sd_turns;
}

struct ht_gathering {
    struct ht_gathered set;
    size_t ends, pairs;
    double correction;   /* mean power factor that undoes the blur */
    double inflation;    /* mean over blocks */
    bool blurred;
};

static struct ht_gathering gather(struct ht_work *w, size_t column,
                                  size_t channel, size_t bin)
{
    const struct ht_blocks *b = w->blocks;
    struct ht_gathering g = { .set = { .amplitude = w->amplitude,
                                       .follows = w->follows } };
    size_t last = 0;
    for (size_t i = 0; i < b->count; i++) {
        const struct ht_block *block = &b->block[i];
        if (!in_bin(w, block, bin) || block->active <= column)
            continue;
        double blur = blur_of(w, block, column);
        if (blur > blur_most) {
            g.blurred = true;
            continue;
        }
        size_t n = g.set.count++;
        w->amplitude[n] = b->amplitude[(i * b->columns + column) *
                                       b->channels + channel];
        w->follows[n] = n > 0 && block->follows && last + 1 == i;
        w->member[n] = i;
        g.pairs += w->follows[n];
        g.ends += w->follows[n] ? 0 : 2;
        g.correction += exp(blur * blur);
        g.inflation += w->joint->inflation[(block->active - 1) * b->columns +
                                           column];
        last = i;
    }
    double n = (double)(g.set.count ? g.set.count : 1);
    g.correction /= n;
    g.inflation /= n;
    return g;
}

/* Mean line powers of the bin's rows into `mean`; false: no blocks. */
static bool mean_lines(const struct ht_work *w, size_t channel, size_t bin,
                       double *mean, size_t from, size_t to)
{
    const struct ht_blocks *b = w->blocks;
    size_t first = bin == w->bins ? 0 : w->bin_row[bin];
    size_t end = bin == w->bins ? b->rows : first + HT_BIN_ROWS;
    end = end < b->rows ? end : b->rows;
    size_t blocks = 0;
    for (size_t l = from; l <= to; l++)
        mean[l - from] = 0;
    for (size_t r = first; r < end; r++) {
        blocks += b->row_blocks[r];
        for (size_t l = from; l <= to; l++)
            mean[l - from] +=
                b->row_power[(r * b->channels + channel) * b->lines + l];
    }
    for (size_t l = from; l <= to; l++)
        mean[l - from] /= (double)(blocks ? blocks : 1);
    return blocks > 0;
}

static size_t last_line(const struct ht_work *w, size_t bin)
{
    const struct ht_blocks *b = w->blocks;
    size_t row = bin == w->bins ? b->rows - 1
                                : w->bin_row[bin] + HT_BIN_ROWS - 1;
    double fastest = (double)(b->first_row + row + 1) * HT_ROW_M_S /
                     b->circumference_m;
    double last = floor(b->band_hz / fastest * b->block_turns);
    return last < (double)(b->lines - 1) ? (size_t)last : b->lines - 1;
}

enum { AROUND = 32 };

/* Floor under the column and the strongest line beside it that no other
 * named order explains. */
static void read_floor(const struct ht_work *w, struct ht_gathering *g,
                       size_t column, size_t channel, size_t bin)
{
    double taken[HT_ORDERS_MAX], mean[2 * AROUND + 2];
    const struct ht_plan *plan = w->plan;
    double position = plan->column[column] * plan->block_turns;
    size_t last = last_line(w, bin), middle = (size_t)(position + 0.5);
    size_t from = middle > AROUND ? middle - AROUND : 0;
    size_t to = middle + AROUND < last ? middle + AROUND : last;
    g->set.floor = (struct ht_floor){ NAN, 0 };
    if (to <= from || !mean_lines(w, channel, bin, mean, from, to))
        return;
    for (size_t k = 0; k < plan->columns; k++)
        taken[k] = plan->column[k] * plan->block_turns - (double)from;
    struct ht_floor_plan lines;
    ht_floor_plan(&lines, position - (double)from, taken, plan->columns,
                  to - from);
    g->set.floor = ht_floor_read(&lines, mean,
                                 ht_looks(g->set.count, g->pairs));
    g->set.floor.power *= g->inflation;
    for (size_t l = from; l <= to; l++) {
        double away = fabs((double)l - position);
        if (away < 1.25 || away > 3)
            continue;
        bool named = false;
        for (size_t k = 0; k < plan->columns; k++)
            named = named || (k != column &&
                              fabs(taken[k] - (double)(l - from)) < 2);
        if (!named)
            g->set.beside = fmax(g->set.beside, mean[l - from]);
    }
}

/* Scatter of the block powers beyond what line and noise account for, and
 * what it does to the mean: only turns at the ends of a run count less. */
static double drift_variance(const struct ht_gathering *g, double power,
                             double noise)
{
    size_t n = g->set.count;
    if (n < 3)
        return 0;
    double square = 0;
    for (size_t i = 0; i < n; i++) {
        double re = g->set.amplitude[i].re, im = g->set.amplitude[i].im;
        double d = re * re + im * im - power;
        square += d * d;
    }
    double line = fmax(power - noise, 0);
    double excess = square / (double)(n - 1) -
                    (2 * line * noise + noise * noise);
    return excess > 0 ? 0.25 * (double)g->ends * excess /
                            ((double)n * (double)n)
                      : 0;
}

static struct ht_power power_from(const struct ht_gathering *g, double power)
{
    double n = (double)g->set.count, noise = g->set.floor.power;
    double looks = ht_looks(g->set.count, g->pairs);
    double scatter = 1 / (0.5 * g->set.floor.dof - 0.5);
    double up = g->correction;
    struct ht_power p = {
        .power = power * up, .noise = noise * up,
        .cross = 2 * noise * up * ht_overlap_factor(g->set.count, g->pairs) /
                 n,
        .own = noise * noise * up * up * (1 / looks + scatter),
    };
    p.drift = up * up * drift_variance(g, power, noise);
    /* half the correction for the blur is its uncertainty */
    double line = fmax(p.power - p.noise, 0);
    p.drift += pow((up - 1) / up * line / 2, 2);
    return p;
}

/* Power of the blocks of one class, noise taken away. */
static void class_power(const struct ht_work *w, const struct ht_gathering *g,
                        enum ht_pull_class class, double *power,
                        double *variance)
{
    double sum = 0, noise = g->set.floor.power, n = 0;
    for (size_t i = 0; i < g->set.count; i++) {
        if (!w->pull || w->pull[w->member[i]] != class)
            continue;
        struct ht_phasor a = g->set.amplitude[i];
        sum += a.re * a.re + a.im * a.im;
        n++;
    }
    *power = n >= 2 ? sum / n - noise : NAN;
    double line = fmax(*power, 0);
    *variance = (2 * line * noise * 4 / 3 + noise * noise) / n;
}

struct ht_bin_view ht_bin_look(struct ht_work *w, size_t column,
                               size_t channel, size_t bin)
{
    struct ht_gathering g = gather(w, column, channel, bin);
    struct ht_bin_view view = { .blocks = g.set.count, .blurred = g.blurred,
                                .least = INFINITY,
                                .correction = g.correction };
    view.power.noise = view.drive_power = view.overrun_power = NAN;
    if (g.set.count == 0)
        return view;
    read_floor(w, &g, column, channel, bin);
    struct ht_presence there = ht_presence_test(&g.set, w->false_alarm);
    view.seen = there.seen;
    view.power.power = there.power;
    if (!(g.set.floor.power > 0))
        return view;
    view.power = power_from(&g, there.power);
    struct ht_power plain = view.power;
    plain.drift = 0;
    view.least = fmin(there.least_steady * sqrt(g.correction),
                      ht_power_least(&plain,
                                     there.threshold * g.correction));
    class_power(w, &g, HT_PULL_DRIVE, &view.drive_power,
                &view.drive_variance);
    class_power(w, &g, HT_PULL_OVERRUN, &view.overrun_power,
                &view.overrun_variance);
    return view;
}
