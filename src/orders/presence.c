#include "presence.h"

#include <math.h>

#include "common/statistics.h"

enum { RUN = 6, BATCH = 3, BATCHED_FROM = 24, FEWEST = 6 };

/* A floor that bends more sharply than the parabola through its neighbours
 * may stand this much above it (1.5 dB): measured on floors with a
 * resonance, docs/orders.md. */
static const double floor_shape = 1.41;
/* Noise that still rings from block to block may pass for a phase to this
 * extent where blocks are too few for means of three: measured likewise. */
static const double ringing = 1.19;

/* Share of amplitude between neighbours: blocks, and means of three blocks:
 * (1/6 / 9) / ((1 + 2/3 * 1/3) / 3). */
static const double block_share = 1.0 / 6, batch_share = 1.0 / 22;
/* Noise power of a mean of three, over that of a block. */
static const double batch_noise = 11.0 / 27;

static double looks(double m, double pairs, double share)
{
    return m > 0 ? m / (1 + 2 * pairs / m * share * share) : 0;
}

static double overlap(double m, double pairs, double share)
{
    return m > 0 ? 1 + 2 * pairs / m * share : 1;
}

double ht_looks(size_t blocks, size_t pairs)
{
    return looks((double)blocks, (double)pairs, block_share);
}

double ht_overlap_factor(size_t blocks, size_t pairs)
{
    return overlap((double)blocks, (double)pairs, block_share);
}

static double power_of(struct ht_phasor p)
{
    return p.re * p.re + p.im * p.im;
}

/* Reads blocks, or means of three, one after the other. */
struct ht_reader {
    const struct ht_gathered *g;
    size_t at, batch;
    double share;
};

/* The next value; *follows: it overlaps the one before. False at the end. */
static bool next_value(struct ht_reader *r, struct ht_phasor *value,
                       bool *follows)
{
    const struct ht_gathered *g = r->g;
    *follows = r->at > 0 && r->at < g->count && g->follows[r->at];
    for (size_t n = 0; r->at < g->count; r->at++) {
        if (n > 0 && !g->follows[r->at]) { /* a rest too short for a batch */
            n = 0;
            *follows = false;
        }
        if (n == 0)
            *value = (struct ht_phasor){ 0, 0 };
        double share = g->calm[r->at] / (double)r->batch;
        value->re += g->amplitude[r->at].re * share;
        value->im += g->amplitude[r->at].im * share;
        if (++n == r->batch) {
            r->at++;
            return true;
        }
    }
    return false;
}

struct ht_sums {
    double between, between_dof, within, within_dof, expected, values;
};

struct ht_run {
    double n, pairs, square;
    struct ht_phasor sum;
};

/* One run with a common phase: its mean, and the scatter about it. The
 * scatter of M correlated values is (M - overlap factor) noise powers. */
static void add_run(struct ht_sums *sums, struct ht_run *run, double share)
{
    if (run->n > 0) {
        double factor = overlap(run->n, run->pairs, share);
        double mean = power_of(run->sum) / run->n;
        sums->between += mean / factor;
        sums->between_dof += 2;
        sums->within += run->square - mean;
        sums->expected += run->n - factor;
        sums->within_dof += 2 * (run->n - 1) *
                            looks(run->n, run->pairs, share) / run->n;
        sums->values += run->n;
    }
    *run = (struct ht_run){ 0 };
}

/* longest 0: everything is one run. */
static struct ht_sums sum_runs(const struct ht_gathered *g, size_t batch,
                               double longest)
{
    struct ht_sums sums = { 0 };
    struct ht_run run = { 0 };
    struct ht_phasor value;
    bool follows;
    struct ht_reader reader = { g, 0, batch,
                                batch > 1 ? batch_share : block_share };
    while (next_value(&reader, &value, &follows)) {
        if (longest > 0 && (!follows || run.n >= longest))
            add_run(&sums, &run, reader.share);
        run.pairs += run.n > 0 && follows;
        run.n++;
        run.square += power_of(value);
        run.sum.re += value.re;
        run.sum.im += value.im;
    }
    add_run(&sums, &run, reader.share);
    return sums;
}

/* Two neighbouring blocks share a bump in the road between them and its
 * phase: fewer than six values are no evidence. */
static struct ht_phase_test one_phase(const struct ht_sums *s, size_t batch)
{
    struct ht_phase_test t = { 0, s->between_dof, s->within_dof };
    if (s->values < FEWEST || !(s->expected > 0) || !(s->within > 0))
        return t;
    t.f = s->between / (s->between_dof / 2) / (s->within / s->expected);
    t.f /= batch > 1 ? 1 : ringing;
    return t;
}

static bool passes(const struct ht_phase_test *t, double false_alarm)
{
    return t->f > 0 &&
           ht_fisher_tail(t->f, t->dof_between, t->dof_within) < false_alarm;
}

static bool pool(const struct ht_phase_test *t, size_t channels,
                 double false_alarm)
{
    struct ht_phase_test sum = { 0, 0, 0 };
    double count = (double)channels, worth = (count + 1) / 2;
    for (size_t c = 0; c < channels; c++) {
        if (!(t[c].f > 0))
            return false;
        sum.f += t[c].f / count;
        sum.dof_between += t[c].dof_between * worth / count;
        sum.dof_within += t[c].dof_within * worth / count;
    }
    return passes(&sum, false_alarm);
}

bool ht_presence_pooled(const struct ht_phase_test *steady,
                        const struct ht_phase_test *runs, size_t channels,
                        double false_alarm)
{
    double each = false_alarm / HT_PRESENCE_TESTS;
    return channels > 1 && (pool(steady, channels, each) ||
                            pool(runs, channels, each));
}

/* Amplitude of a steady line that the test over runs finds nine times in
 * ten; noise: of one value. */
static double least_in_runs(const struct ht_sums *s, double noise,
                            double share, double false_alarm)
{
    if (s->values < FEWEST || !(s->expected > 0) || !(noise > 0))
        return INFINITY;
    double f = ht_fisher_threshold(false_alarm, s->between_dof,
                                   s->within_dof);
    double runs = s->between_dof / 2;
    f *= share < block_share ? 1 : ringing;
    double line = runs * (f - 1);
    double sum = line + 1.28 * sqrt(runs + 2 * line) + 1.28 * 1.28;
    double per_value = s->values / (1 + 2 * share);
    return sqrt(noise * sum / per_value);
}

static void test_above(struct ht_presence *p, const struct ht_gathered *g,
                       double false_alarm)
{
    if (!(g->floor.power > 0) || !(g->fixed > 0))
        return;
    double times = ht_fisher_threshold(false_alarm, 2 * g->looks,
                                       g->floor.dof);
    p->threshold = fmax(g->floor.power, g->fixed) * floor_shape * times;
    p->seen = p->seen || (p->power > p->threshold && p->power > g->beside);
}

struct ht_presence ht_presence_test(const struct ht_gathered *g,
                                    double false_alarm)
{
    struct ht_presence p = { .least_steady = INFINITY, .threshold = INFINITY,
                             .within = NAN };
    if (g->count == 0)
        return p;
    double each = false_alarm / HT_PRESENCE_TESTS, square = 0;
    size_t batch = g->count >= BATCHED_FROM ? BATCH : 1;
    double noise = batch > 1 ? batch_noise : 1;
    for (size_t i = 0; i < g->count; i++)
        square += power_of(g->amplitude[i]);
    p.power = square / (double)g->count;
    struct ht_sums all = sum_runs(g, batch, 0);
    struct ht_sums runs = sum_runs(g, batch, RUN);
    p.steady = one_phase(&all, batch);
    p.runs = one_phase(&runs, batch);
    p.seen = passes(&p.steady, each) || passes(&p.runs, each);
    if (runs.expected > 0)
        p.within = runs.within / runs.expected / noise;
    test_above(&p, g, each);
    p.least_steady = least_in_runs(&runs, g->floor.power * noise,
                                   batch > 1 ? batch_share : block_share,
                                   each);
    return p;
}
