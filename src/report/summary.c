#include "summary.h"

#include "judged.h"
#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>
#include <string.h>

struct told told_of(const struct ht_workup *workup, unsigned blocks)
{
    bool angles = blocks & HT_BLOCK_ANGLES, drive = blocks & HT_BLOCK_ORDERS;
    bool causes = workup->has_ranking && (blocks & HT_BLOCK_RANK);
    return (struct told){
        .workup = workup,
        .blocks = blocks,
        .angles = workup->has_angles && angles,
        .recording = workup->has_recording && drive,
        .turns = workup->has_turns && drive,
        .orders = workup->has_orders && drive,
        .ranking = causes ? &workup->ranking : NULL,
        .first = causes ? first_cause(workup) : NULL,
    };
}

struct told told_all(const struct ht_workup *workup)
{
    return told_of(workup,
                   HT_BLOCK_ANGLES | HT_BLOCK_ORDERS | HT_BLOCK_RANK);
}

void say_title(struct ht_text *out, const struct told *told)
{
    const char *title = told->workup->sheet->title;
    clean_text(out, title && *title ? title : REPORT_NO_TITLE);
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

/* `all_judged`: no driveline was read hanging, or in a state not said. */
static void answer_from_joints(struct ht_text *out,
                               const struct ht_angles *angles, bool all_judged)
{
    size_t joint = 0;
    size_t over = count_joints(angles, HT_VERDICT_OVER, &joint);
    if (over == 1)
        ht_text_addf(out, REPORT_JOINT_TOO_FAR, joint);
    else if (over > 1)
        ht_text_addf(out, REPORT_JOINTS_TOO_FAR, over);
    else if (judged_difference(angles, HT_VERDICT_OVER))
        ht_text_add(out, REPORT_NOT_CANCELLING);
    else if (any_shake(angles, HT_VERDICT_OVER))
        ht_text_add(out, REPORT_SHAKES_TOO_MUCH);
    else if (count_joints(angles, HT_VERDICT_UNDER, &joint))
        ht_text_addf(out, REPORT_JOINT_TOO_LITTLE, joint);
    else if (count_joints(angles, HT_VERDICT_OPEN, &joint) ||
             judged_difference(angles, HT_VERDICT_OPEN))
        ht_text_add(out, REPORT_ANGLES_OPEN);
    else if (!all_judged)
        ht_text_add(out, REPORT_ANGLES_PARTLY);
    else if (angles->verdicts)
        ht_text_add(out, REPORT_ANGLES_WITHIN);
    else
        ht_text_add(out, REPORT_ANGLES_MEASURED);
}

static void answer_from_angles(struct ht_text *out,
                               const struct ht_workup *workup)
{
    size_t set = answering_index(workup);
    bool hanging = set < workup->sheet->angles_count &&
                   workup->sheet->angles[set].suspension ==
                       HT_SUSPENSION_HANGING;
    const struct ht_angles *angles = answering_angles(workup);
    if (angles->verdict_allowed)
        answer_from_joints(out, angles, all_sets_judged(workup));
    else if (hanging)
        ht_text_add(out, REPORT_HANGING);
    else
        ht_text_add(out, REPORT_SUSPENSION_UNKNOWN);
}

static void answer_from_orders(struct ht_text *out,
                               const struct ht_workup *workup)
{
    const struct ht_order_result *best = strongest_order(&workup->orders);
    if (!best) {
        ht_text_add(out, REPORT_NO_ORDER_SEEN);
        return;
    }
    struct ht_text name = { 0 };
    ht_text_addf(out, REPORT_STRONGEST, order_name(&name, best->order.name));
    ht_text_end(out, &name);
}

/* A verdict on the angles that is bad, whatever the causes make of it. */
static bool angles_are_bad(const struct told *told)
{
    const struct ht_angles *angles = answering_angles(told->workup);
    size_t joint;
    return told->angles && angles->verdict_allowed &&
           (count_joints(angles, HT_VERDICT_OVER, &joint) ||
            count_joints(angles, HT_VERDICT_UNDER, &joint) ||
            judged_difference(angles, HT_VERDICT_OVER) ||
            any_shake(angles, HT_VERDICT_OVER));
}

/* Whether anything was looked at that could have shown a fault. */
static bool anything_measured(const struct told *told)
{
    return told->orders ||
           (told->angles && answering_angles(told->workup)->verdict_allowed);
}

/* "Nothing was found" wants something that was looked at and is not bad. */
static void answer_nothing(struct ht_text *out,
                           const struct told *told)
{
    if (angles_are_bad(told))
        answer_from_joints(out, answering_angles(told->workup), true);
    else if (!anything_measured(told))
        ht_text_add(out, REPORT_TOO_LITTLE);
    else if (told->first->probability >= 0.5)
        ht_text_add(out, REPORT_NOTHING_FOUND);
    else
        ht_text_add(out, REPORT_NOTHING_STANDS_OUT);
}

static void answer_from_causes(struct ht_text *out,
                               const struct told *told)
{
    const struct ht_ranked_cause *first = told->first;
    struct ht_text title = { 0 };
    if (is_nothing_abnormal(first))
        answer_nothing(out, told);
    else if (told->ranking->accused)
        ht_text_addf(out, REPORT_CAUSE, cleaned(&title, first->title));
    else
        ht_text_add(out, REPORT_CAUSE_OPEN);
    ht_text_end(out, &title);
}

void say_answer(struct ht_text *out, const struct told *told)
{
    if (told->first)
        answer_from_causes(out, told);
    else if (told->angles)
        answer_from_angles(out, told->workup);
    else if (told->orders)
        answer_from_orders(out, told->workup);
    else if (told->turns && told->workup->turns.state == HT_SPEED_REFUSED)
        ht_text_add(out, REPORT_SPEED_NOT_FOUND);
    else if (told->blocks & HT_BLOCK_ORDERS)
        ht_text_add(out, REPORT_NO_DRIVE);
    else
        ht_text_add(out, REPORT_NO_ANGLES);
}

void say_sureness(struct ht_text *out, const struct told *told)
{
    const struct ht_ranked_cause *first = told->first;
    if (!first)
        return;
    if (is_nothing_abnormal(first) &&
        (angles_are_bad(told) || !anything_measured(told))) {
        ht_text_addf(out, REPORT_NO_CAUSE, in_100(first->probability));
        return;
    }
    if (told->ranking->accused || is_nothing_abnormal(first)) {
        ht_text_addf(out, REPORT_SURENESS,
                     likelihood_first_word(first->probability),
                     in_100(first->probability));
        return;
    }
    struct ht_text title = { 0 };
    ht_text_addf(out, REPORT_STANDS_FIRST, cleaned(&title, first->title),
                 likelihood_word(first->probability),
                 in_100(first->probability));
    ht_text_end(out, &title);
}

/* ---- the reason -------------------------------------------------------- */

static void reason_from_joint(struct ht_text *out,
                              const struct ht_angles *angles)
{
    for (size_t j = 0; j < angles->joints; j++) {
        struct judged judged = judged_joint(angles, j + 1);
        if (judged.verdict != HT_VERDICT_OVER)
            continue;
        next_sentence(out);
        struct shown angle = shown_degrees(angles->joint[j].angle_rad.value,
                                           2);
        if (judged.sets > 1)
            ht_text_addf(out, REPORT_JOINT_OVER_IN_ALL, j + 1, angle.text,
                         judged.sets);
        else
            ht_text_addf(out, REPORT_JOINT_OVER, j + 1, angle.text,
                         shown_degrees(judged.deciding->limit, 1).text);
        return;
    }
}

static void reason_from_leftover(struct ht_text *out,
                                 const struct ht_angles *angles)
{
    if (!isfinite(angles->leftover_rad.value))
        return;
    bool over = judged_shake(angles, "axle").verdict == HT_VERDICT_OVER;
    next_sentence(out);
    ht_text_addf(out,
                 angles->leftover_is_zero ? REPORT_LEFTOVER_ZERO
                 : over                   ? REPORT_LEFTOVER_SHAKES
                                          : REPORT_LEFTOVER,
                 shown_angle_range(&angles->leftover_rad).text);
}

/* Which of several sets the answer is about. */
static void reason_from_set(struct ht_text *out,
                            const struct ht_workup *workup)
{
    const struct ht_line_angles *line = answering_set(workup);
    struct ht_text name = { 0 };
    size_t deciding = 0;
    for (size_t i = 0; line && i < workup->line_count; i++)
        deciding += workup->lines[i].decides;
    if (line)
        ht_text_addf(out,
                     deciding > 1 ? REPORT_ANSWER_FOR : REPORT_ANSWER_FOR_SET,
                     set_name(&name, workup, line));
    ht_text_end(out, &name);
}

static void reason_from_order(struct ht_text *out,
                              const struct ht_workup *workup)
{
    const struct ht_order_result *best = strongest_order(&workup->orders);
    double from, to;
    if (!best)
        return;
    bool felt = felt_range(workup, &from, &to) && best->at_m_s >= from - 1 &&
                best->at_m_s <= to + 1;
    struct ht_text name = { 0 };
    next_sentence(out);
    ht_text_addf(out, felt ? REPORT_WORST_WHERE_FELT : REPORT_WORST_AT,
                 order_name(&name, best->order.name),
                 shown_speed(best->at_m_s).text);
    ht_text_end(out, &name);
}

void say_reason(struct ht_text *out, const struct told *told)
{
    const struct ht_angles *angles = answering_angles(told->workup);
    if (told->angles)
        reason_from_set(out, told->workup);
    if (told->angles && angles->verdict_allowed)
        reason_from_joint(out, angles);
    if (told->angles && angles->verdict_allowed)
        reason_from_leftover(out, angles);
    if (told->orders)
        reason_from_order(out, told->workup);
}

/* ---- next check -------------------------------------------------------- */

void say_next(struct ht_text *out, const struct told *told)
{
    if (!told->ranking || told->ranking->next_checks == 0)
        return;
    const struct ht_next_check *next = &told->ranking->next[0];
    put_held(out, next->question);
    if (isfinite(next->minutes)) {
        next_sentence(out);
        if (round(next->minutes) == 1)
            ht_text_add(out, REPORT_ONE_MINUTE);
        else
            ht_text_addf(out, REPORT_MINUTES,
                         shown_number(next->minutes, 0).text);
    }
    if (next->how[0]) {
        next_sentence(out);
        put_held(out, next->how);
    }
}

void say_next_outcomes(struct ht_text *out, const struct told *told)
{
    if (!told->ranking || told->ranking->next_checks == 0)
        return;
    const struct ht_next_check *next = &told->ranking->next[0];
    for (size_t i = 0; i < next->outcomes && i < HT_ANSWERS_MAX; i++) {
        put_held(out, next->outcome[i]);
        ht_text_add(out, "\n");
    }
}
