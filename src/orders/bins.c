#include "bins.h"

#include <math.h>

#include "surround.h"

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
    double evenness;     /* of the noise over the blocks */
    bool blurred;
};

/* Noise powers into factors that make them all their mean. Returns how
 * evenly the blocks share the noise: 1, or less when a few hold most of it. */
static double make_calm(double *calm, size_t n)
{
    double mean = 0, square = 0, least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        mean += calm[i] / (double)n;
        square += calm[i] * calm[i] / (double)n;
        least = fmin(least, calm[i]);
    }
    for (size_t i = 0; i < n; i++)
        calm[i] = least > 0 ? sqrt(mean / calm[i]) : 1;
    double share = n > 0 && square > 0 ? mean * mean / square : 1;
    return fmax(share, 1 / fmax((double)n, 1));
}

static struct ht_gathering gather(struct ht_work *w, size_t column,
                                  size_t channel, size_t bin)
{
    const struct ht_blocks *b = w->blocks;
    struct ht_gathering g = { .set = { .amplitude = w->amplitude,
                                       .follows = w->follows,
                                       .calm = w->calm } };
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
        w->calm[n] = (double)b->loud[(i * b->columns + column) * b->channels +
                                     channel];
        w->follows[n] = n > 0 && block->follows && last + 1 == i;
        w->member[n] = i;
        g.pairs += w->follows[n];
        g.ends += w->follows[n] ? 0 : 2;
        g.correction += exp(blur * blur);
        g.inflation += w->joint->inflation[(block->active - 1) * b->columns +
                                           column];
        last = i;
    }
    g.evenness = make_calm(w->calm, g.set.count);
    double n = (double)(g.set.count ? g.set.count : 1);
    g.correction /= n;
    g.inflation /= n;
    return g;
}

static void read_floor(const struct ht_work *w, struct ht_gathering *g,
                       size_t column, size_t channel, size_t bin)
{
    struct ht_surround s;
    g->set.looks = ht_looks(g->set.count, g->pairs) * g->evenness;
    ht_surround_read(&s, w, column, channel, bin, g->set.looks);
    g->set.floor = s.floor;
    g->set.floor.power *= g->inflation;
    g->set.fixed = s.fixed * g->inflation;
    g->set.beside = s.beside;
}

void ht_work_sum_columns(struct ht_work *w)
{
    const struct ht_blocks *b = w->blocks;
    size_t each = b->columns * b->channels;
    for (size_t bin = 0; bin <= w->bins; bin++) {
        double *sum = &w->column_power[bin * each], n = 0;
        for (size_t i = 0; i < b->count; i++) {
            if (!in_bin(w, &b->block[i], bin))
                continue;
            n++;
            for (size_t k = 0; k < each; k++) {
                struct ht_phasor a = b->amplitude[i * each + k];
                sum[k] += a.re * a.re + a.im * a.im;
            }
        }
        for (size_t k = 0; k < each && n > 0; k++)
            sum[k] /= n;
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
    double looks = g->set.looks;
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
    struct ht_presence there = ht_presence_test(
        &g.set, bin == w->bins ? w->false_alarm_whole : w->false_alarm);
    view.seen = there.seen;
    view.steady = there.steady;
    view.runs = there.runs;
    view.power.power = there.power;
    if (!(g.set.floor.power > 0))
        return view;
    /* A resonance under the order: its noise is not a parabola's. */
    if (g.set.fixed > g.set.floor.power && there.within > g.set.floor.power)
        g.set.floor.power = fmin(g.set.fixed, there.within);
    /* Seen by its phase, though its neighbours are as loud: then the scatter
     * about the phase is the better measure of the noise. */
    view.within = there.within;
    if (there.seen && there.within < g.set.floor.power)
        g.set.floor.power = there.within;
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
