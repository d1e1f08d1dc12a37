/* weigh.h - the functions of the results that the table of findings names.
 *
 * Each leaves the finding as it is (nothing known) or says the observation
 * once. Pure.
 */
#ifndef HALFTURN_FINDINGS_WEIGH_H
#define HALFTURN_FINDINGS_WEIGH_H

#include "halfturn/findings.h"

#define HT_WEIGH(name)                                                         \
    void ht_weigh_##name(struct ht_finding *, const struct ht_finding_kind *,  \
                         const struct ht_findings_input *)

/* from the drive; subject is a part, figure a multiple */
HT_WEIGH(line);
HT_WEIGH(growth);
HT_WEIGH(pull);
/* from the complaint */
HT_WEIGH(neutral_coast);
HT_WEIGH(gear_change);
HT_WEIGH(throttle);
HT_WEIGH(braking);
HT_WEIGH(felt_steering);
HT_WEIGH(felt_body);
HT_WEIGH(speed_range);
HT_WEIGH(began);
/* from the angles */
HT_WEIGH(axle_shake);
HT_WEIGH(joint_maximum);
HT_WEIGH(joint_minimum);
HT_WEIGH(joint_difference);
HT_WEIGH(shaft_shake);
HT_WEIGH(yokes);
/* from the checks; subject is a word, figure a limit in m */
HT_WEIGH(word);
HT_WEIGH(runout);
HT_WEIGH(ride_height);

/* After the findings: lines that the drive could not separate speak as one.
 * What is seen there is the strongest of them, which is what one finding with
 * all their causes says (docs/causes.md). */
void ht_findings_tie(struct ht_findings *findings,
                     const struct ht_findings_input *input);

/* The finding about an order, or SIZE_MAX. */
size_t ht_line_about(const struct ht_order *order,
                     const struct ht_findings_input *input);
/* Says a line that is there; `other`: the order that shares it, or NULL. */
void ht_line_say_seen(struct ht_finding *finding,
                      const struct ht_orders *orders,
                      const struct ht_order_result *result,
                      const char *other);

/* Two answers from the probability that the second is true; kept 1 in 100
 * away from certainty, for slips nobody models (common practice, no source).
 * NAN says nothing. */
void ht_finding_say_chance(struct ht_finding *finding, double probability,
                           const char *text);

#endif
