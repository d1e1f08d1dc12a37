#include "causes/network.h"
#include "causes/texts.h"

#include "common/memory.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A line is clearly above the healthy band at 9 in 10: then "nothing
 * abnormal" is out. */
static const double clearly = 0.1 / 0.9;

double ht_net_share(const double *below, size_t answer)
{
    return answer ? below[answer] - below[answer - 1] : below[0];
}

static double factor(const struct ht_net_finding *finding,
                     const double *below)
{
    double sum = 0;
    for (size_t k = 0; k < finding->answers; k++)
        sum += finding->likelihood[k] * ht_net_share(below, k);
    return sum;
}

static double log_factor(const struct ht_net_finding *finding,
                         const double *below)
{
    return finding->exponent * log(fmax(factor(finding, below), 1e-300));
}

void ht_net_healthy_below(const struct ht_net_finding *finding,
                          double below[HT_ANSWERS_MAX])
{
    size_t top = finding->answers - 1;
    double scale = finding->is_line ? finding->below[top - 1] : 1;
    for (size_t k = 0; k < finding->answers; k++)
        below[k] = fmin(1, finding->below[k] / scale);
}

size_t ht_net_touched(const struct ht_network *network,
                      const struct ht_net_set *set, bool speaking_only,
                      struct ht_touched touched[HT_TOUCHED_MAX])
{
    unsigned char place[HT_FINDINGS_MAX] = { 0 };
    bool shared[HT_TOUCHED_MAX] = { false };
    size_t count = 0;
    for (size_t m = 0; m < set->members; m++) {
        const struct ht_net_cause *cause = &network->cause[set->member[m]];
        for (size_t i = 0; i < cause->links; i++) {
            const struct ht_net_link *link = &cause->link[i];
            size_t f = link->finding;
            if (speaking_only && !network->finding[f].speaks)
                continue;
            bool first = !place[f];
            if (first) {
                place[f] = (unsigned char)++count;
                touched[count - 1] = (struct ht_touched){ .finding = f };
                memcpy(touched[count - 1].below, network->finding[f].below,
                       sizeof touched->below);
                touched[count - 1].change = cause->change[i];
            }
            struct ht_touched *at = &touched[place[f] - 1];
            shared[place[f] - 1] = !first;
            for (size_t k = 0; k < network->finding[f].answers; k++)
                at->below[k] *= link->below[k];
        }
    }
    for (size_t i = 0; i < count; i++) {
        const struct ht_net_finding *f = &network->finding[touched[i].finding];
        if (shared[i] && f->speaks)
            touched[i].change = log_factor(f, touched[i].below) - f->base;
    }
    return count;
}

/* What each link does by itself, and what the leak says. */
static void prepare(struct ht_network *network)
{
    for (size_t f = 0; f < network->findings; f++) {
        struct ht_net_finding *finding = &network->finding[f];
        finding->base =
            finding->speaks ? log_factor(finding, finding->below) : 0;
    }
    for (size_t c = 0; c < network->causes; c++) {
        struct ht_net_cause *cause = &network->cause[c];
        cause->alone = 0;
        for (size_t i = 0; i < cause->links; i++) {
            const struct ht_net_finding *finding =
                &network->finding[cause->link[i].finding];
            double below[HT_ANSWERS_MAX];
            for (size_t k = 0; k < finding->answers; k++)
                below[k] = finding->below[k] * cause->link[i].below[k];
            cause->change[i] =
                finding->speaks ? log_factor(finding, below) - finding->base
                                : 0;
            cause->alone += cause->change[i];
            cause->speaks_of[cause->link[i].finding] = finding->speaks;
        }
    }
}

static bool clearly_abnormal(const struct ht_net_finding *finding)
{
    size_t top = finding->answers - 1;
    return finding->speaks && finding->is_line &&
           finding->likelihood[top - 1] < clearly * finding->likelihood[top];
}

/* ln(weight) of the empty set against the leak's, leaving one finding out
 * (or none: SIZE_MAX). */
static double empty_change(const struct ht_network *network, size_t left_out)
{
    double sum = 0;
    for (size_t f = 0; f < network->findings; f++) {
        const struct ht_net_finding *finding = &network->finding[f];
        if (!finding->speaks || f == left_out)
            continue;
        if (clearly_abnormal(finding))
            return -INFINITY;
        double below[HT_ANSWERS_MAX];
        ht_net_healthy_below(finding, below);
        sum += log_factor(finding, below) - finding->base;
    }
    return sum;
}

static double change_by_findings(const struct ht_network *network,
                                 const struct ht_net_set *set)
{
    struct ht_touched touched[HT_TOUCHED_MAX];
    double sum = 0;
    size_t count = ht_net_touched(network, set, true, touched);
    for (size_t i = 0; i < count; i++)
        sum += touched[i].change;
    return sum;
}

/* Two causes that speak of no finding in common change nothing together. */
static void prepare_pairs(struct ht_network *network)
{
    for (size_t c = 1; c < network->causes; c++)
        for (size_t d = 0; d < c; d++) {
            const struct ht_net_cause *a = &network->cause[c];
            const struct ht_net_cause *b = &network->cause[d];
            const struct ht_net_set both = { .members = 2,
                                             .member = { d, c } };
            bool common = false;
            for (size_t i = 0; i < a->links; i++)
                common = common || (a->speaks_of[a->link[i].finding] &&
                                    b->speaks_of[a->link[i].finding]);
            network->together[c][d] =
                common ? change_by_findings(network, &both) - a->alone -
                             b->alone
                       : 0;
        }
}

/* Whether a finding is spoken of by all three. */
static bool have_one_in_common(const struct ht_network *network,
                               const struct ht_net_set *set)
{
    const struct ht_net_cause *a = &network->cause[set->member[0]];
    const struct ht_net_cause *b = &network->cause[set->member[1]];
    const struct ht_net_cause *c = &network->cause[set->member[2]];
    bool common = false;
    for (size_t i = 0; i < a->links; i++) {
        size_t f = a->link[i].finding;
        common |= a->speaks_of[f] & b->speaks_of[f] & c->speaks_of[f];
    }
    return common;
}

/* A finding that two members speak of is a matter of that pair; only what
 * three speak of is worked out for the set itself. */
static double set_change(const struct ht_network *network,
                         const struct ht_net_set *set)
{
    double sum = 0;
    if (set->members == 3 && have_one_in_common(network, set))
        return change_by_findings(network, set);
    for (size_t m = 0; m < set->members; m++) {
        sum += network->cause[set->member[m]].alone;
        for (size_t n = 0; n < m; n++)
            sum += network->together[set->member[m]][set->member[n]];
    }
    return sum;
}

void ht_net_weigh(struct ht_network *network)
{
    double highest = -INFINITY, total = 0;
    prepare(network);
    prepare_pairs(network);
    for (size_t s = 0; s < network->sets; s++) {
        struct ht_net_set *set = &network->set[s];
        set->weight = set->log_prior + (set->members
                                            ? set_change(network, set)
                                            : empty_change(network,
                                                           (size_t)-1));
        highest = fmax(highest, set->weight);
    }
    for (size_t s = 0; s < network->sets; s++) {
        network->set[s].weight = exp(network->set[s].weight - highest);
        total += network->set[s].weight;
    }
    memset(network->probability, 0, sizeof network->probability);
    for (size_t s = 0; s < network->sets; s++) {
        struct ht_net_set *set = &network->set[s];
        set->weight /= total;
        for (size_t m = 0; m < set->members; m++)
            network->probability[set->member[m]] += set->weight;
    }
    network->probability_nothing = network->set[0].weight;
}

/* Weight of the empty set without a finding, in the scale where a set that
 * does not touch the finding keeps its weight. It may have been ruled out by
 * that very finding, so it is weighed afresh against a set that was not. */
static double empty_without(const struct ht_network *network, size_t finding,
                            const struct ht_net_set *anchor)
{
    double log_anchor = anchor->log_prior + set_change(network, anchor);
    double log_empty =
        network->set[0].log_prior + empty_change(network, finding);
    return anchor->weight * exp(log_empty - log_anchor);
}

static const struct ht_net_set *heaviest(const struct ht_network *network)
{
    const struct ht_net_set *best = &network->set[1];
    for (size_t s = 2; s < network->sets; s++)
        if (network->set[s].weight > best->weight)
            best = &network->set[s];
    return best;
}

/* total[f] and probability[f][c] hold what changes against the sets' present
 * weights when finding f is taken out. */
static void add_touched(const struct ht_network *network,
                        const struct ht_net_set *set, double *probability,
                        double *total)
{
    struct ht_touched touched[HT_TOUCHED_MAX];
    size_t count = ht_net_touched(network, set, true, touched);
    for (size_t i = 0; i < count; i++) {
        size_t f = touched[i].finding;
        double more = set->weight * expm1(-touched[i].change);
        total[f] += more;
        for (size_t m = 0; m < set->members; m++)
            probability[f * HT_CAUSES_MAX + set->member[m]] += more;
    }
}

void ht_net_without(const struct ht_network *network, double *probability,
                    double *nothing)
{
    double total[HT_FINDINGS_MAX] = { 0 };
    assert(network->sets > 1);
    memset(probability, 0,
           network->findings * HT_CAUSES_MAX * sizeof *probability);
    for (size_t s = 1; s < network->sets; s++)
        add_touched(network, &network->set[s], probability, total);
    const struct ht_net_set *anchor = heaviest(network);
    for (size_t f = 0; f < network->findings; f++) {
        nothing[f] = network->probability_nothing;
        if (!network->finding[f].speaks)
            continue;
        double empty = empty_without(network, f, anchor);
        double all = 1 - network->probability_nothing + total[f] + empty;
        nothing[f] = empty / all;
        double *row = &probability[f * HT_CAUSES_MAX];
        for (size_t c = 0; c < network->causes; c++)
            row[c] = (network->probability[c] + row[c]) / all;
    }
}

static size_t sets_of(size_t causes)
{
    size_t n = causes;
    return 1 + n + n * (n - (n > 0)) / 2 +
           (n > 2 ? n * (n - 1) * (n - 2) / 6 : 0);
}

static void list_from(struct ht_network *network, struct ht_net_set set,
                      size_t next)
{
    network->set[network->sets++] = set;
    if (set.members == HT_SET_MAX)
        return;
    for (size_t c = next; c < network->causes; c++) {
        struct ht_net_set more = set;
        double prior = network->cause[c].prior;
        more.member[more.members++] = c;
        more.log_prior += log(prior) - log1p(-prior);
        list_from(network, more, c + 1);
    }
}

/* The causes are there or not independently of each other; P(nothing) is
 * stated by itself, so the sets that are not empty share the rest in the
 * ratio of their independent probabilities. */
enum ht_status ht_net_list(struct ht_network *network, struct ht_error *err)
{
    double log_none = 0;
    for (size_t c = 0; c < network->causes; c++)
        log_none += log1p(-network->cause[c].prior);
    network->sets = 0;
    network->set =
        ht_allocate(sets_of(network->causes), sizeof *network->set);
    if (!network->set)
        return ht_fail(err, CAUSES_NO_MEMORY);
    struct ht_net_set empty = { .log_prior = log_none };
    list_from(network, empty, 0);
    double share = log1p(-network->nothing) - log(-expm1(log_none));
    double kept = 0;
    for (size_t s = 1; s < network->sets; s++) {
        network->set[s].log_prior += share;
        kept += exp(network->set[s].log_prior);
    }
    network->set[0].log_prior = log(network->nothing);
    network->prior_mass_cut = fmax(0, 1 - network->nothing - kept);
    return HT_OK;
}

void ht_net_free(struct ht_network *network)
{
    ht_release(network->set);
    network->set = NULL;
}
