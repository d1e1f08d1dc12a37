/* ranking.h - the parts of one ranking, inside the room. */
#ifndef HALFTURN_CAUSES_RANKING_H
#define HALFTURN_CAUSES_RANKING_H

#include "causes/catalogue.h"

/* Sets are gone through side by side, each share with sums of its own. */
enum { RANKING_SHARES = 2 };
typedef double ht_joint_chances[HT_ANSWERS_MAX][HT_CAUSES_MAX + 1];

struct ranking_work {
    const struct ht_ranking_request *request;
    const struct ht_finding_kind *kinds;
    struct ht_network network;
    const struct cat_cause *cause[HT_CAUSES_MAX]; /* of the network's */
    double *without;            /* [finding * HT_CAUSES_MAX + cause] */
    double nothing_without[HT_FINDINGS_MAX];
    double probability[HT_CAUSES_MAX]; /* as ranked */
    /* for the next check: chances that a cause is repaired first, and of each
     * answer with it, [share * findings + finding] */
    double first_chance[RANKING_SHARES][HT_CAUSES_MAX + 1];
    ht_joint_chances *joint;
};

/* Exponents from the tempering and the groups: findings of one group share
 * the weight of one. */
void ht_ranking_exponents(struct ht_network *network,
                          const struct ht_finding_kind *kinds,
                          double tempering);

/* Causes with what raised and lowered them, and the sentences beside them;
 * needs work->without. */
enum ht_status ht_ranking_words(struct ht_ranking *ranking,
                                const struct ranking_work *work,
                                struct ht_error *err);

/* The checks worth making next. Leaves the network weighed as if the last of
 * them had been answered. */
void ht_ranking_next(struct ht_ranking *ranking, struct ranking_work *work);

/* A probability as people see it: 1 to 99. */
int ht_in_100(double probability);

#endif
