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

/* The bin's level is the mean over its turns, not over the blocks that lie
 * mostly in it: each block counts by the turns of its own that were driven
 * at the bin's speeds. */
struct ht_share {
    double turns;        /* sum of the weights */
    double power;        /* weighted mean */
    double cross, own;   /* sum of squared weights and neighbours' products,
                            over the squared sum: of noise times line, of
                            noise times noise */
};

struct ht_gathering {
    struct ht_gathered set;
    struct ht_share share;
    double coarse;       /* power with levels that change in steps */
    size_t pairs;
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

/* Sixteenths of the block that it stands for: half-overlapping blocks stand
 * for their middle half, and the ends of a stretch for what lies before or
 * behind as well. */
static bool stands_for(const struct ht_blocks *b, size_t i, size_t part)
{
    bool last = i + 1 == b->count || !b->block[i + 1].follows;
    return part < HT_PARTS / 4 ? !b->block[i].follows
                               : last || part < HT_PARTS - HT_PARTS / 4;
}

static const float bend_undone = 0.149F;

/* Adds `much` to a block's weight, and takes off its neighbours the bend that
 * the blocks' own length puts into the levels: Hann over two hops smears by a
 * variance of (1/12 - 1 / (2 pi^2)) * 4 hops squared, straight lines between
 * blocks by 1/6; half of their sum times the second difference. */
static void add_weight(float *weight, const struct ht_blocks *b, size_t i,
                       float much, float bend)
{
    bool before = b->block[i].follows;
    bool behind = i + 1 < b->count && b->block[i + 1].follows;
    weight[i] += much;
    if (!before || !behind)
        return;
    weight[i] += 2 * bend * much;
    weight[i - 1] -= bend * much;
    weight[i + 1] -= bend * much;
}

/* One sixteenth of a block, on a line between the block's power and that of
 * the neighbour it lies towards. */
static void add_part(float *weight, const struct ht_blocks *b, size_t i,
                     size_t part)
{
    const float each = 2.0F / HT_PARTS; /* hops */
    float away = ((float)(int)part + 0.5F) * each - 1;
    bool next = away > 0 && i + 1 < b->count && b->block[i + 1].follows;
    bool back = away < 0 && b->block[i].follows;
    float other = next || back ? fabsf(away) : 0;
    add_weight(weight, b, i, (1 - other) * each, bend_undone);
    if (next || back)
        add_weight(weight, b, next ? i + 1 : i - 1, other * each,
                   bend_undone);
}

/* Weights of the blocks in the mean over a bin's turns. Fine: levels change
 * along a parabola from block to block; else in steps. */
static void weigh(float *weight, const struct ht_work *w, size_t bin,
                  bool fine)
{
    const struct ht_blocks *b = w->blocks;
    double row = (double)(b->first_row + w->bin_row[bin]);
    for (size_t i = 0; i < b->count; i++)
        weight[i] = 0;
    for (size_t i = 0; i < b->count; i++)
        for (size_t k = 0; k < HT_PARTS; k++) {
            double at = (double)b->block[i].part_m_s[k] / HT_ROW_M_S;
            if (!stands_for(b, i, k) || at < row || at >= row + HT_BIN_ROWS)
                continue;
            if (fine)
                add_part(weight, b, i, k);
            else
                weight[i] += 2.0F / HT_PARTS;
        }
}

static struct ht_share share_out(const struct ht_work *w, size_t column,
                                 size_t channel, size_t bin, bool fine)
{
    const struct ht_blocks *b = w->blocks;
    struct ht_share s = { 0 };
    double square = 0, pairs = 0, before = 0;
    const float *of_bin = w->share[fine] + bin * b->count;
    for (size_t i = 0; i < b->count; i++) {
        const struct ht_block *block = &b->block[i];
        bool out = block->active <= column ||
                   blur_of(w, block, column) > blur_most;
        double weight = out ? 0 : (double)of_bin[i];
        struct ht_phasor a = b->amplitude[(i * b->columns + column) *
                                          b->channels + channel];
        s.turns += weight;
        s.power += weight * (a.re * a.re + a.im * a.im);
        square += weight * weight;
        pairs += block->follows ? weight * before : 0;
        before = weight;
    }
    if (s.turns > 0) {
        double all = s.turns * s.turns;
        s.power /= s.turns;
        s.cross = (square + 2 * pairs / 6) / all;
        s.own = (square + 2 * pairs / 36) / all;
    }
    return s;
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

static void sum_columns(struct ht_work *w)
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

void ht_work_prepare(struct ht_work *w)
{
    sum_columns(w);
    for (size_t bin = 0; bin < w->bins; bin++)
        for (int fine = 0; fine < 2; fine++)
            weigh(w->share[fine] + bin * w->blocks->count, w, bin, fine);
    ht_surround_find_fixed(w);
}

static struct ht_power power_from(const struct ht_gathering *g, double power)
{
    double noise = g->set.floor.power;
    double scatter = 1 / (0.5 * g->set.floor.dof - 0.5);
    double up = g->correction, looks = g->set.looks;
    double n = (double)g->set.count;
    struct ht_power p = {
        .power = power * up, .noise = noise * up,
        .cross = 2 * noise * up * ht_overlap_factor(g->set.count, g->pairs) /
                 n,
        .own = noise * noise * up * up * (1 / looks + scatter),
    };
    /* weights along parabolas may be negative: a mean below 0 is none */
    if (g->share.turns > 0 && g->share.power > 0) {
        p.power = g->share.power * up;
        p.cross = 2 * noise * up * g->share.cross;
        p.own = noise * noise * up * up *
                (g->share.own / g->evenness + scatter);
        /* what the finer reading changed is the uncertainty of both */
        p.drift = pow(up * (g->share.power - g->coarse), 2);
    }
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
    if (bin < w->bins) {
        g.share = share_out(w, column, channel, bin, true);
        g.coarse = share_out(w, column, channel, bin, false).power;
    }
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
