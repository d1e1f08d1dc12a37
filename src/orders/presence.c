#include "presence.h"

#include <math.h>

#include "common/statistics.h"

enum { RUN_BLOCKS = 6 };

/* A floor that bends more sharply than the parabola through its neighbours
 * may stand this much above it (1.5 dB): measured on floors with a
 * resonance, docs/orders.md. */
static const double floor_shape = 1.41;

double ht_looks(size_t blocks, size_t pairs)
{
    if (blocks == 0)
        return 0;
    double m = (double)blocks;
    return m / (1 + 2 * (double)pairs / m / 36);
}

double ht_overlap_factor(size_t blocks, size_t pairs)
{
    return blocks ? 1 + 2 * (double)pairs / (double)blocks / 6 : 1;
}

struct ht_sums {
    double between, between_dof, within, within_dof, expected;
};

static double power_of(struct ht_phasor p)
{
    return p.re * p.re + p.im * p.im;
}

/* One run of blocks with a common phase: its mean, and the scatter about it.
 * The scatter of M correlated blocks is (M - g) noise powers. */
static void add_run(struct ht_sums *sums, const struct ht_gathered *g,
                    size_t from, size_t to)
{
    size_t n = to - from, pairs = 0;
    struct ht_phasor sum = { 0, 0 };
    double square = 0;
    for (size_t i = from; i < to; i++) {
        sum.re += g->amplitude[i].re;
        sum.im += g->amplitude[i].im;
        square += power_of(g->amplitude[i]);
        pairs += i > from && g->follows[i];
    }
    double m = (double)n, factor = ht_overlap_factor(n, pairs);
    double mean = power_of(sum) / m;
    sums->between += mean / factor;
    sums->between_dof += 2;
    sums->within += square - mean;
    sums->expected += m - factor;
    sums->within_dof += 2 * (m - 1) * ht_looks(n, pairs) / m;
}

static struct ht_sums sum_runs(const struct ht_gathered *g, size_t longest)
{
    struct ht_sums sums = { 0 };
    size_t from = 0;
    for (size_t i = 1; i <= g->count; i++) {
        bool ends = i == g->count || i - from == longest ||
                    (longest == RUN_BLOCKS && !g->follows[i]);
        if (ends) {
            add_run(&sums, g, from, i);
            from = i;
        }
    }
    return sums;
}

static bool one_phase(const struct ht_sums *s, double false_alarm)
{
    if (!(s->expected > 0) || s->within_dof < 2 || !(s->within > 0))
        return false;
    double f = s->between / (s->between_dof / 2) /
               (s->within / s->expected);
    return ht_fisher_tail(f, s->between_dof, s->within_dof) < false_alarm;
}

/* Mean amplitude of a steady line that the test over runs finds nine times
 * in ten: the mean of `between` is dof/2 + lines' share. */
static double least_in_runs(const struct ht_sums *s, double noise,
                            double blocks, double false_alarm)
{
    if (!(s->expected > 0) || s->within_dof < 8 || !(noise > 0))
        return INFINITY;
    double f = ht_fisher_threshold(false_alarm, s->between_dof,
                                   s->within_dof);
    double looks = s->between_dof / 2;
    /* threshold on the sum of run powers, plus 1.28 of its deviations */
    double share = looks * (f - 1);
    double sum = share + 1.28 * sqrt(looks + 2 * share) + 1.28 * 1.28;
    double per_block = blocks / 1.3334;      /* overlap factor, long runs */
    return sqrt(noise * sum / per_block);
}

struct ht_presence ht_presence_test(const struct ht_gathered *g,
                                    double false_alarm)
{
    struct ht_presence p = { .least_steady = INFINITY, .threshold = INFINITY };
    if (g->count == 0)
        return p;
    double each = false_alarm / HT_PRESENCE_TESTS, square = 0;
    size_t pairs = 0;
    for (size_t i = 0; i < g->count; i++) {
        square += power_of(g->amplitude[i]);
        pairs += i > 0 && g->follows[i];
    }
    p.power = square / (double)g->count;
    struct ht_sums all = sum_runs(g, g->count);
    struct ht_sums runs = sum_runs(g, RUN_BLOCKS);
    p.seen = one_phase(&all, each) || one_phase(&runs, each);
    if (!(g->floor.power > 0))
        return p;
    double looks = ht_looks(g->count, pairs);
    double times = ht_fisher_threshold(each, 2 * looks,
                                       looks >= 1 ? g->floor.dof : 2);
    p.threshold = g->floor.power * floor_shape * times;
    p.seen = p.seen || (p.power > p.threshold && p.power > g->beside);
    p.least_steady = least_in_runs(&runs, g->floor.power, (double)g->count,
                                   each);
    return p;
}
