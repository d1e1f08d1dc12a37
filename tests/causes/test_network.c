/* The network against a brute force that knows nothing of products of
 * distribution functions: it draws up every combination of the leak's and the
 * members' own answers and takes the largest (Henrion 1989; Diez 1993). */
#include "close.h"
#include "random.h"

#include "causes/network.h"
#include "common/memory.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void random_below(struct random_source *source, size_t answers,
                         double *below)
{
    double share[HT_ANSWERS_MAX] = { 0 }, sum = 0;
    for (size_t k = 0; k < answers; k++)
        sum += share[k] = random_uniform(source, 0.02, 1);
    below[0] = share[0] / sum;
    for (size_t k = 1; k < answers; k++)
        below[k] = below[k - 1] + share[k] / sum;
    below[answers - 1] = 1;
}

static void random_network(struct random_source *source,
                           struct ht_network *network)
{
    memset(network, 0, sizeof *network);
    network->nothing = random_uniform(source, 0.05, 0.9);
    network->causes = 2 + random_bits(source) % 5;
    network->findings = 3 + random_bits(source) % 6;
    for (size_t f = 0; f < network->findings; f++) {
        struct ht_net_finding *finding = &network->finding[f];
        finding->answers = 2 + random_bits(source) % 3;
        finding->is_line = random_bits(source) % 4 == 0;
        finding->speaks = random_bits(source) % 4 != 0;
        finding->exponent = random_uniform(source, 0.3, 1);
        random_below(source, finding->answers, finding->below);
        for (size_t k = 0; k < finding->answers; k++)
            finding->likelihood[k] = random_uniform(source, 0.15, 1);
    }
    for (size_t c = 0; c < network->causes; c++) {
        struct ht_net_cause *cause = &network->cause[c];
        cause->prior = random_uniform(source, 0.002, 0.2);
        for (size_t f = 0; f < network->findings; f++) {
            if (cause->links == HT_LINKS_MAX || random_bits(source) % 2)
                continue;
            struct ht_net_link *link = &cause->link[cause->links++];
            link->finding = f;
            random_below(source, network->finding[f].answers, link->below);
        }
    }
}

static long double chance(const double *below, size_t k)
{
    return k ? (long double)below[k] - (long double)below[k - 1]
             : (long double)below[0];
}

/* Sum over answers of likelihood times P(max = answer), drawn out. */
static long double drawn_out(const struct ht_network *n, size_t f,
                             unsigned set, size_t cause, size_t most,
                             long double so_far)
{
    const struct ht_net_finding *finding = &n->finding[f];
    if (cause == n->causes)
        return so_far * (long double)finding->likelihood[most];
    const struct ht_net_link *link = NULL;
    for (size_t i = 0; i < n->cause[cause].links; i++)
        if (n->cause[cause].link[i].finding == f)
            link = &n->cause[cause].link[i];
    if (!(set >> cause & 1) || !link)
        return drawn_out(n, f, set, cause + 1, most, so_far);
    long double sum = 0;
    for (size_t k = 0; k < finding->answers; k++)
        sum += drawn_out(n, f, set, cause + 1, k > most ? k : most,
                         so_far * chance(link->below, k));
    return sum;
}

static long double factor_of(const struct ht_network *n, size_t f,
                             unsigned set)
{
    const struct ht_net_finding *finding = &n->finding[f];
    long double sum = 0, leak = 0;
    size_t top = finding->answers - 1;
    for (size_t k = 0; k < finding->answers; k++) {
        long double own = chance(finding->below, k);
        if (!set && finding->is_line && k == top)
            continue; /* nothing wrong: no line is stronger than healthy */
        leak += own;
        sum += drawn_out(n, f, set, 0, k, own);
    }
    return powl(sum / leak, (long double)finding->exponent);
}

/* Probabilities over sets of at most three, `left_out` silent. */
static void brute_force(const struct ht_network *n, size_t left_out,
                        long double *probability, long double *nothing,
                        long double *cut)
{
    long double weight[1 << 6], total = 0, prior_all = 0, prior_kept = 0;
    for (unsigned set = 0; set < 1u << n->causes; set++) {
        long double prior = 1;
        for (size_t c = 0; c < n->causes; c++)
            prior *= set >> c & 1 ? (long double)n->cause[c].prior
                                  : 1 - (long double)n->cause[c].prior;
        prior_all += set ? prior : 0;
        weight[set] = __builtin_popcount(set) > 3 ? 0 : prior;
        prior_kept += set ? weight[set] : 0;
    }
    *cut = (1 - (long double)n->nothing) * (1 - prior_kept / prior_all);
    for (unsigned set = 0; set < 1u << n->causes; set++) {
        weight[set] *= (1 - (long double)n->nothing) / prior_all;
        if (!set)
            weight[set] = (long double)n->nothing;
        for (size_t f = 0; f < n->findings; f++)
            if (n->finding[f].speaks && f != left_out)
                weight[set] *= factor_of(n, f, set);
        total += weight[set];
    }
    *nothing = weight[0] / total;
    for (size_t c = 0; c < n->causes; c++) {
        probability[c] = 0;
        for (unsigned set = 0; set < 1u << n->causes; set++)
            probability[c] += set >> c & 1 ? weight[set] / total : 0;
    }
}

/* 1e-12: some hundred additions of doubles near 1, each good to 1.1e-16. */
static void posterior_equals_brute_force_over_all_sets_of_three(void **state)
{
    (void)state;
    struct random_source source = { 20261125 };
    static struct ht_network network;
    for (int trial = 0; trial < 1000; trial++) {
        random_network(&source, &network);
        assert_int_equal(ht_net_list(&network, NULL), HT_OK);
        ht_net_weigh(&network);
        long double wanted[HT_CAUSES_MAX], nothing, cut;
        brute_force(&network, (size_t)-1, wanted, &nothing, &cut);
        assert_close(network.probability_nothing, (double)nothing, 1e-12);
        assert_close(network.prior_mass_cut, (double)cut, 1e-12);
        for (size_t c = 0; c < network.causes; c++)
            assert_close(network.probability[c], (double)wanted[c], 1e-12);
        ht_net_free(&network);
    }
}

/* 1e-10: the difference of two sums where a factor may be as small as 1e-4. */
static void leaving_one_out_equals_weighing_without_it(void **state)
{
    (void)state;
    struct random_source source = { 7 };
    static struct ht_network network;
    static double without[HT_FINDINGS_MAX * HT_CAUSES_MAX],
        nothing[HT_FINDINGS_MAX];
    for (int trial = 0; trial < 200; trial++) {
        random_network(&source, &network);
        assert_int_equal(ht_net_list(&network, NULL), HT_OK);
        ht_net_weigh(&network);
        ht_net_without(&network, without, nothing);
        for (size_t f = 0; f < network.findings; f++) {
            long double wanted[HT_CAUSES_MAX], none, cut;
            if (!network.finding[f].speaks)
                continue;
            brute_force(&network, f, wanted, &none, &cut);
            assert_close(nothing[f], (double)none, 1e-10);
            for (size_t c = 0; c < network.causes; c++)
                assert_close(without[f * HT_CAUSES_MAX + c],
                             (double)wanted[c], 1e-10);
        }
        ht_net_free(&network);
    }
}

static void the_order_of_causes_does_not_matter(void **state)
{
    (void)state;
    struct random_source source = { 99 };
    static struct ht_network network, turned;
    for (int trial = 0; trial < 50; trial++) {
        random_network(&source, &network);
        turned = network;
        size_t n = network.causes;
        for (size_t c = 0; c < n; c++)
            turned.cause[n - 1 - c] = network.cause[c];
        assert_int_equal(ht_net_list(&network, NULL), HT_OK);
        assert_int_equal(ht_net_list(&turned, NULL), HT_OK);
        ht_net_weigh(&network);
        ht_net_weigh(&turned);
        for (size_t c = 0; c < n; c++)
            assert_close(turned.probability[n - 1 - c],
                         network.probability[c], 1e-12);
        ht_net_free(&network);
        ht_net_free(&turned);
    }
}

/* Two causes, one finding; each alone raises it from 0.1 to about 0.9. */
static void two_rivals(struct ht_network *network)
{
    memset(network, 0, sizeof *network);
    network->nothing = 0.1;
    network->causes = 2;
    network->findings = 2;
    for (size_t f = 0; f < 2; f++)
        network->finding[f] = (struct ht_net_finding){
            .answers = 2, .below = { 0.9, 1 }, .speaks = f == 0,
            .likelihood = { 0.05, 1 }, .exponent = 1
        };
    for (size_t c = 0; c < 2; c++) {
        network->cause[c].prior = 0.05;
        network->cause[c].links = 1;
        network->cause[c].link[0] =
            (struct ht_net_link){ .finding = 0, .below = { 0.1, 1 } };
    }
    network->cause[1].links = 2;
    network->cause[1].link[1] =
        (struct ht_net_link){ .finding = 1, .below = { 0.1, 1 } };
}

static void evidence_for_one_cause_explains_the_other_away(void **state)
{
    (void)state;
    static struct ht_network network;
    two_rivals(&network);
    assert_int_equal(ht_net_list(&network, NULL), HT_OK);
    ht_net_weigh(&network);
    double before = network.probability[0];
    network.finding[1].speaks = true;
    ht_net_weigh(&network);
    assert_true(network.probability[1] > 0.8);
    assert_true(network.probability[0] < before - 0.15);
    ht_net_free(&network);
}

static void equal_likelihoods_change_nothing(void **state)
{
    (void)state;
    static struct ht_network network;
    two_rivals(&network);
    assert_int_equal(ht_net_list(&network, NULL), HT_OK);
    ht_net_weigh(&network);
    double first = network.probability[0], second = network.probability[1];
    network.finding[1].speaks = true;
    network.finding[1].likelihood[0] = network.finding[1].likelihood[1] = 1;
    ht_net_weigh(&network);
    assert_close(network.probability[0], first, 1e-12);
    assert_close(network.probability[1], second, 1e-12);
    ht_net_free(&network);
}

static void a_line_clearly_above_healthy_rules_out_nothing(void **state)
{
    (void)state;
    static struct ht_network network;
    two_rivals(&network);
    network.nothing = 0.999;
    network.finding[0].is_line = true;
    assert_int_equal(ht_net_list(&network, NULL), HT_OK);
    ht_net_weigh(&network);
    assert_close(network.probability_nothing, 0, 0);
    network.finding[0].likelihood[0] = 0.2; /* 5 to 1: not clearly */
    ht_net_weigh(&network);
    assert_true(network.probability_nothing > 0.5);
    ht_net_free(&network);
}

static bool refuse(size_t bytes)
{
    (void)bytes;
    return false;
}

static void no_memory_is_said(void **state)
{
    (void)state;
    static struct ht_network network;
    struct ht_error err;
    two_rivals(&network);
    ht_memory_permit = refuse;
    enum ht_status status = ht_net_list(&network, &err);
    ht_memory_permit = NULL;
    assert_int_equal(status, HT_NO_MEMORY);
    ht_net_free(&network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(posterior_equals_brute_force_over_all_sets_of_three),
        cmocka_unit_test(leaving_one_out_equals_weighing_without_it),
        cmocka_unit_test(the_order_of_causes_does_not_matter),
        cmocka_unit_test(evidence_for_one_cause_explains_the_other_away),
        cmocka_unit_test(equal_likelihoods_change_nothing),
        cmocka_unit_test(a_line_clearly_above_healthy_rules_out_nothing),
        cmocka_unit_test(no_memory_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
