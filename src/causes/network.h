/* network.h - two layers: causes above, findings below; noisy-MAX links.
 *
 * P(answer <= k | set) is the leak's times its members' own (Henrion 1989;
 * Diez 1993). Every set of up to three causes is weighed. Numbers only: no
 * words, no files. Pure but for the array of sets.
 */
#ifndef HALFTURN_CAUSES_NETWORK_H
#define HALFTURN_CAUSES_NETWORK_H

#include <stdbool.h>
#include <stddef.h>

#include "halfturn/causes.h"

enum { HT_SET_MAX = 3, HT_TOUCHED_MAX = HT_SET_MAX * HT_LINKS_MAX };

struct ht_net_link {
    size_t finding;
    double below[HT_ANSWERS_MAX]; /* own P(answer <= k); the last is 1 */
};
struct ht_net_cause {
    double prior;                 /* of being present, 0 < prior < 1 */
    bool other;                   /* stands for what the catalogue lacks */
    size_t links;
    struct ht_net_link link[HT_LINKS_MAX];
    /* filled by ht_net_weigh: */
    double change[HT_LINKS_MAX];  /* of ln(weight) by the link alone */
    double alone;                 /* by all of them */
    bool speaks_of[HT_FINDINGS_MAX];
};
struct ht_net_finding {
    size_t answers;
    double below[HT_ANSWERS_MAX]; /* the leak's P(answer <= k) */
    bool is_line;                 /* top answer: stronger than healthy */
    bool speaks;
    double likelihood[HT_ANSWERS_MAX];
    double exponent;
    double base;                  /* ln of the leak's factor; filled */
};
struct ht_net_set {
    size_t members;
    size_t member[HT_SET_MAX];
    double log_prior;
    double weight;                /* posterior probability */
};
struct ht_network {
    size_t causes, findings;
    struct ht_net_cause cause[HT_CAUSES_MAX];
    /* what two causes together change beyond each alone, the later one first;
     * filled by ht_net_weigh */
    double together[HT_CAUSES_MAX][HT_CAUSES_MAX];
    struct ht_net_finding finding[HT_FINDINGS_MAX];
    double nothing;               /* P(no cause) before the findings */
    double prior_mass_cut;
    size_t sets;
    struct ht_net_set *set;       /* set[0] is the empty one */
    double probability[HT_CAUSES_MAX];
    double probability_nothing;
};

/* A finding that members of a set speak about. */
struct ht_touched {
    size_t finding;
    double below[HT_ANSWERS_MAX]; /* P(answer <= k | set) */
    double change;                /* of ln(weight) against the leak alone; 0
                                     when nothing is known */
};

/* Lists every set with its prior; the causes and P(nothing) must be there. */
enum ht_status ht_net_list(struct ht_network *network, struct ht_error *err);
void ht_net_free(struct ht_network *network);

/* From likelihoods and exponents to weights and probabilities. */
void ht_net_weigh(struct ht_network *network);

/* probability[finding * HT_CAUSES_MAX + cause] without that finding; for
 * nothing: nothing[finding]. Only where the finding speaks; the others'
 * exponents stay as they are. */
void ht_net_without(const struct ht_network *network, double *probability,
                    double *nothing);

/* speaking_only: skips findings about which nothing is known. */
size_t ht_net_touched(const struct ht_network *network,
                      const struct ht_net_set *set, bool speaking_only,
                      struct ht_touched touched[HT_TOUCHED_MAX]);

/* P(answer = k) from P(answer <= k). */
double ht_net_share(const double *below, size_t answer);

/* The leak's P(answer <= k) when nothing is wrong: then no line is stronger
 * than healthy, by the meaning of the words. */
void ht_net_healthy_below(const struct ht_net_finding *finding,
                          double below[HT_ANSWERS_MAX]);

#endif
