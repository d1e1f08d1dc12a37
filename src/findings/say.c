/* Likelihoods of one finding. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include <math.h>
#include <stdio.h>

void ht_finding_say(struct ht_finding *finding, size_t answers,
                    const double *likelihood, const char *text)
{
    size_t best = 0;
    for (size_t i = 1; i < answers; i++)
        if (likelihood[i] > likelihood[best])
            best = i;
    for (size_t i = 0; i < HT_ANSWERS_MAX; i++)
        finding->likelihood[i] =
            i < answers ? likelihood[i] / likelihood[best] : 1;
    finding->known = true;
    finding->answer = best;
    if (text)
        snprintf(finding->text, sizeof finding->text, "%s", text);
}

bool ht_finding_speaks(const struct ht_finding *finding)
{
    size_t answers = ht_finding_kinds(&(size_t){ 0 })[finding->kind].answers;
    for (size_t i = 1; i < answers; i++)
        if (fabs(finding->likelihood[i] - finding->likelihood[0]) > 1e-12)
            return finding->known;
    return false;
}

void ht_finding_say_chance(struct ht_finding *finding, double probability,
                           const char *text)
{
    if (isnan(probability))
        return;
    double kept = fmin(0.99, fmax(0.01, probability));
    ht_finding_say(finding, 2, (double[]){ 1 - kept, kept }, text);
}

/* The other answer of a look is 1 in 10 (missed) or 1 in 50 (seen, and none);
 * of a measured line 1 in 20; of what somebody says 1 in 10: as the functions
 * of the results weigh them. */
void ht_finding_suppose(struct ht_finding *finding, size_t answer)
{
    const struct ht_finding_kind *kind =
        &ht_finding_kinds(&(size_t){ 0 })[finding->kind];
    double other = 0.1;
    if (kind->weigh == ht_weigh_word && answer)
        other = 0.02;
    else if (kind->is_line || kind->tool)
        other = kind->weigh == ht_weigh_word ? 0.1 : 0.05;
    double likelihood[HT_ANSWERS_MAX];
    for (size_t i = 0; i < kind->answers; i++)
        likelihood[i] = i == answer ? 1 : other;
    ht_finding_say(finding, kind->answers, likelihood, FINDINGS_SUPPOSED);
}
