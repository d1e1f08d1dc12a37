#include "summary.h"

#include "judged.h"
#include "markup.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

void say_title(struct ht_text *out, const struct ht_workup *workup)
{
    const char *title = workup->sheet->title;
    clean_text(out, title && *title ? title : "Case without a title");
}

/* ---- the answer -------------------------------------------------------- */

static size_t count_joints(const struct ht_angles *angles,
                           enum ht_verdict verdict, size_t *first)
{
    size_t count = 0;
    for (size_t j = angles->joints; j-- > 0;)
        if (judged_joint(angles, j + 1).verdict == verdict) {
            count++;
            *first = j + 1;
        }
    return count;
}

static void answer_from_joints(struct ht_text *out,
                               const struct ht_angles *angles)
{
    size_t joint = 0;
    size_t over = count_joints(angles, HT_VERDICT_OVER, &joint);
    if (over == 1)
        ht_text_addf(out, "Joint %zu bends too far.", joint);
    else if (over > 1)
        ht_text_addf(out, "%zu joints bend too far.", over);
    else if (judged_difference(angles, HT_VERDICT_OVER))
        ht_text_add(out, "The joint angles do not cancel.");
    else if (count_joints(angles, HT_VERDICT_UNDER, &joint))
        ht_text_addf(out, "Joint %zu bends too little.", joint);
    else if (count_joints(angles, HT_VERDICT_OPEN, &joint) ||
             judged_difference(angles, HT_VERDICT_OPEN))
        ht_text_add(out, "The angles cannot be decided yet.");
    else if (angles->verdicts)
        ht_text_add(out, "The joint angles are within the limits.");
    else
        ht_text_add(out, "The joint angles are measured.");
}

static void answer_from_angles(struct ht_text *out,
                               const struct ht_workup *workup)
{
    bool hanging = workup->sheet->angles_count &&
                   workup->sheet->angles[0].suspension ==
                       HT_SUSPENSION_HANGING;
    if (workup->angles.verdict_allowed)
        answer_from_joints(out, &workup->angles);
    else if (hanging)
        ht_text_add(out, "Hanging suspension gives wrong angles. No verdict.");
    else
        ht_text_add(out, "Angles measured. Suspension not said: no verdict.");
}

static void answer_from_orders(struct ht_text *out,
                               const struct ht_workup *workup)
{
    const struct ht_order_result *best = strongest_order(&workup->orders);
    if (!best) {
        ht_text_add(out, "No named order was seen.");
        return;
    }
    ht_text_add(out, "The strongest order is ");
    put_order_name(out, best->order.name);
    ht_text_add(out, ".");
}

/* A verdict on the angles that is bad, whatever the causes make of it. */
static bool angles_are_bad(const struct ht_workup *workup)
{
    const struct ht_angles *angles = &workup->angles;
    size_t joint;
    return workup->has_angles && angles->verdict_allowed &&
           (count_joints(angles, HT_VERDICT_OVER, &joint) ||
            count_joints(angles, HT_VERDICT_UNDER, &joint) ||
            judged_difference(angles, HT_VERDICT_OVER));
}

/* Whether anything was looked at that could have shown a fault. */
static bool anything_measured(const struct ht_workup *workup)
{
    return workup->has_orders ||
           (workup->has_angles && workup->angles.verdict_allowed);
}

/* "Nothing was found" wants something that was looked at and is not bad. */
static void answer_nothing(struct ht_text *out,
                           const struct ht_workup *workup)
{
    if (angles_are_bad(workup))
        answer_from_joints(out, &workup->angles);
    else if (!anything_measured(workup))
        ht_text_add(out, "Too little is measured to say.");
    else if (first_cause(workup)->probability >= 0.5)
        ht_text_add(out, "Nothing abnormal was found.");
    else
        ht_text_add(out, "Cannot tell yet. Nothing stands out.");
}

static void answer_from_causes(struct ht_text *out,
                               const struct ht_workup *workup)
{
    const struct ht_ranked_cause *first = first_cause(workup);
    if (is_nothing_abnormal(first)) {
        answer_nothing(out, workup);
    } else if (workup->ranking.accused) {
        clean_text(out, first->title);
        ht_text_add(out, ".");
    } else {
        ht_text_add(out, "Cannot tell yet which cause it is.");
    }
}

void say_answer(struct ht_text *out, const struct ht_workup *workup)
{
    if (first_cause(workup))
        answer_from_causes(out, workup);
    else if (workup->has_angles)
        answer_from_angles(out, workup);
    else if (workup->has_orders)
        answer_from_orders(out, workup);
    else if (workup->has_turns && workup->turns.state == HT_SPEED_REFUSED)
        ht_text_add(out, "The speed could not be found.");
    else
        ht_text_add(out, "No drive was worked out.");
}

static void put_likelihood(struct ht_text *out, double probability)
{
    size_t from = out->length;
    ht_text_add(out, likelihood_word(probability));
    capital(out, from);
    ht_text_addf(out, ": %d" NBSP "in" NBSP "100.", in_100(probability));
}

void say_sureness(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_ranked_cause *first = first_cause(workup);
    if (!first)
        return;
    if (is_nothing_abnormal(first) &&
        (angles_are_bad(workup) || !anything_measured(workup))) {
        ht_text_addf(out, "No cause of vibration stands out (nothing "
                          "abnormal: %d" NBSP "in" NBSP "100).",
                     in_100(first->probability));
        return;
    }
    if (workup->ranking.accused || is_nothing_abnormal(first)) {
        put_likelihood(out, first->probability);
        return;
    }
    clean_text(out, first->title);
    ht_text_addf(out, " stands first, %s: %d" NBSP "in" NBSP "100.",
                 likelihood_word(first->probability),
                 in_100(first->probability));
}

/* ---- the reason -------------------------------------------------------- */

static void reason_from_joint(struct ht_text *out,
                              const struct ht_angles *angles)
{
    for (size_t j = 0; j < angles->joints; j++) {
        struct judged judged = judged_joint(angles, j + 1);
        if (judged.verdict != HT_VERDICT_OVER)
            continue;
        ht_text_addf(out, "Joint %zu bends " OVER_ON, j + 1);
        put_degrees(out, angles->joint[j].angle_rad.value, 2);
        ht_text_add(out, OVER_OFF);
        if (judged.sets > 1) {
            ht_text_addf(out, ", out of limits in all %zu published sets. ",
                         judged.sets);
            return;
        }
        ht_text_add(out, ", over the ");
        put_degrees(out, judged.deciding->limit, 1);
        ht_text_add(out, " that is allowed. ");
        return;
    }
}

static void reason_from_leftover(struct ht_text *out,
                                 const struct ht_angles *angles)
{
    if (!isfinite(angles->leftover_rad.value))
        return;
    ht_text_add(out, "All joints together leave ");
    put_angle_range(out, &angles->leftover_rad);
    bool over = judged_shake(angles, "axle").verdict == HT_VERDICT_OVER;
    ht_text_add(out, angles->leftover_is_zero
                         ? ": not to be told from zero with this gauge. "
                     : over ? ", which shakes the axle twice per shaft turn. "
                            : ". ");
}

static void reason_from_order(struct ht_text *out,
                              const struct ht_workup *workup)
{
    const struct ht_order_result *best = strongest_order(&workup->orders);
    double from, to;
    if (!best)
        return;
    ht_text_add(out, "The strongest order, ");
    put_order_name(out, best->order.name);
    ht_text_add(out, ", is worst at ");
    put_speed(out, best->at_m_s);
    if (felt_range(workup, &from, &to) && best->at_m_s >= from - 1 &&
        best->at_m_s <= to + 1)
        ht_text_add(out, ", where the customer feels it");
    ht_text_add(out, ".");
}

void say_reason(struct ht_text *out, const struct ht_workup *workup)
{
    if (workup->has_angles && workup->angles.verdict_allowed)
        reason_from_joint(out, &workup->angles);
    if (workup->has_angles && workup->angles.verdict_allowed)
        reason_from_leftover(out, &workup->angles);
    if (workup->has_orders)
        reason_from_order(out, workup);
}

/* ---- next check -------------------------------------------------------- */

void say_next(struct ht_text *out, const struct ht_workup *workup)
{
    if (!workup->has_ranking || workup->ranking.next_checks == 0)
        return;
    const struct ht_next_check *next = &workup->ranking.next[0];
    clean_text(out, next->question);
    if (isfinite(next->minutes)) {
        ht_text_add(out, " ");
        put_number(out, next->minutes, 0);
        ht_text_add(out, next->minutes == 1 ? NBSP "minute." : NBSP "minutes.");
    }
    if (next->how[0]) {
        ht_text_add(out, " ");
        clean_text(out, next->how);
    }
}

void say_next_outcomes(struct ht_text *out, const struct ht_workup *workup)
{
    if (!workup->has_ranking || workup->ranking.next_checks == 0)
        return;
    const struct ht_next_check *next = &workup->ranking.next[0];
    for (size_t i = 0; i < next->outcomes && i < HT_ANSWERS_MAX; i++) {
        clean_text(out, next->outcome[i]);
        ht_text_add(out, "\n");
    }
}
