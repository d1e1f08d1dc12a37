/* The lists of every output: safety, what could not be told, cautions. */
#include "summary.h"

#include "judged.h"
#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts.h"

#include <math.h>
#include <string.h>

static void line(struct ht_text *out, const char *text)
{
    put_held(out, text);
    ht_text_add(out, "\n");
}

void say_safety(struct ht_text *out, const struct told *told)
{
    const struct ht_safety *safety = told->workup->findings.safety;
    size_t count = told->workup->findings.safety_count;
    if (told->ranking && told->ranking->safety_count) {
        safety = told->ranking->safety;
        count = told->ranking->safety_count;
    }
    for (size_t i = 0; i < count; i++)
        line(out, safety[i].text);
}

/* ---- what could not be told -------------------------------------------- */

static void untold_speed(struct ht_text *out, const struct told *told)
{
    if (!told->turns || told->workup->turns.state == HT_SPEED_ACCEPTED)
        return;
    struct ht_text reason = { 0 };
    ht_text_addf(out, REPORT_UNTOLD_SPEED "\n",
                 cleaned(&reason, told->workup->turns.reason));
    ht_text_end(out, &reason);
}

static void untold_pair(struct ht_text *out,
                        const struct ht_cannot_separate *pair)
{
    struct ht_text a = { 0 }, b = { 0 }, way_out = { 0 };
    order_name(&a, pair->a);
    order_name(&b, pair->b);
    cleaned(&way_out, pair->way_out);
    if (pair->never && way_out.length == 0)
        ht_text_addf(out, REPORT_PAIR_ALWAYS, ht_text_get(&a),
                     ht_text_get(&b));
    else
        ht_text_addf(out,
                     pair->never ? REPORT_PAIR_IN_GEAR : REPORT_PAIR_CLOSE,
                     ht_text_get(&a), ht_text_get(&b), ht_text_get(&way_out));
    ht_text_add(out, "\n");
    ht_text_end(out, &a);
    ht_text_end(out, &b);
    ht_text_end(out, &way_out);
}

static void untold_pairs(struct ht_text *out, const struct ht_orders *orders)
{
    for (size_t i = 0; i < orders->cannot_separate_count; i++)
        untold_pair(out, &orders->cannot_separate[i]);
}

/* `of`: the set's name where there are several. */
static void untold_joint(struct ht_text *out, const struct ht_angles *angles,
                         size_t j, const char *of)
{
    struct judged judged = judged_joint(angles, j);
    struct ht_text way_out = { 0 };
    struct shown limit = shown_degrees(judged.deciding->limit, 1);
    struct shown_range angle =
        shown_angle_range(&angles->joint[j - 1].angle_rad);
    bool disagree = judged.sets > 1 && judged.sets_bad;
    cleaned(&way_out, judged.deciding->way_out);
    if (disagree && of)
        ht_text_addf(out, REPORT_SETS_DISAGREE_ON "\n", j, of,
                     judged.sets_bad, judged.sets);
    else if (disagree)
        ht_text_addf(out, REPORT_SETS_DISAGREE "\n", j, judged.sets_bad,
                     judged.sets);
    else if (of)
        ht_text_addf(out, REPORT_JOINT_OPEN_ON "\n", j, of, limit.text,
                     angle.text, ht_text_get(&way_out));
    else
        ht_text_addf(out, REPORT_JOINT_OPEN "\n", j, limit.text, angle.text,
                     ht_text_get(&way_out));
    ht_text_end(out, &way_out);
}

static void untold_verdicts(struct ht_text *out,
                            const struct ht_angles *angles, const char *of)
{
    for (size_t j = 1; j <= angles->joints; j++)
        if (judged_joint(angles, j).verdict == HT_VERDICT_OPEN)
            untold_joint(out, angles, j, of);
}

static void untold_set(struct ht_text *out, const struct ht_workup *workup,
                       const struct ht_line_angles *line)
{
    struct ht_text name = { 0 };
    const char *of = set_name(&name, workup, line);
    untold_verdicts(out, &line->angles, of);
    if (!line->angles.verdict_allowed)
        ht_text_addf(out, REPORT_NO_VERDICT_ON "\n", of);
    if (line->angles.side_view_only)
        ht_text_addf(out, REPORT_SIDE_VIEW_OF "\n", of);
    ht_text_end(out, &name);
}

/* Of several sets, those to go by. */
static void untold_angles(struct ht_text *out, const struct ht_workup *workup)
{
    for (size_t i = 0; several_sets(workup) && i < workup->line_count; i++)
        if (workup->lines[i].decides)
            untold_set(out, workup, &workup->lines[i]);
    if (several_sets(workup))
        return;
    untold_verdicts(out, &workup->angles, NULL);
    if (!workup->angles.verdict_allowed)
        ht_text_add(out, REPORT_NO_ANGLE_VERDICT "\n");
    if (workup->angles.side_view_only)
        ht_text_add(out, REPORT_SIDE_VIEW_ONLY "\n");
}

/* The names of all orders that share a reason, as a list. */
static void put_names(struct ht_text *out, const struct ht_orders *orders,
                      size_t first)
{
    const struct ht_order_result *r = &orders->result[first];
    struct ht_text name = { 0 };
    for (size_t i = first; i < orders->results; i++) {
        const struct ht_order_result *other = &orders->result[i];
        if (other->channel != -1 || other->state != r->state ||
            strcmp(other->reason, r->reason) != 0)
            continue;
        if (i > first)
            ht_text_add(out, ", ");
        ht_text_add(out, order_name(&name, other->order.name));
    }
    ht_text_end(out, &name);
}

/* Orders with one reason stand in one line. */
static void untold_orders(struct ht_text *out, const struct ht_orders *orders)
{
    for (size_t i = 0; i < orders->results; i++) {
        const struct ht_order_result *r = &orders->result[i];
        bool told = r->channel != -1 || r->state != HT_COULD_NOT_BE_SEEN;
        for (size_t j = 0; j < i && !told; j++)
            told = orders->result[j].channel == -1 &&
                   orders->result[j].state == HT_COULD_NOT_BE_SEEN &&
                   strcmp(orders->result[j].reason, r->reason) == 0;
        if (told)
            continue;
        struct ht_text names = { 0 }, reason = { 0 };
        put_names(&names, orders, i);
        ht_text_addf(out, REPORT_NOT_VISIBLE "\n", ht_text_get(&names),
                     cleaned(&reason, r->reason));
        ht_text_end(out, &names);
        ht_text_end(out, &reason);
    }
}

static void untold_speeds(struct ht_text *out, const struct ht_workup *workup)
{
    double felt_from, felt_to, from, to;
    if (!felt_range(workup, &felt_from, &felt_to) ||
        !driven_range(workup, &from, &to))
        return;
    const double slack_m_s = 1; /* one bin's width either way is driven */
    if (felt_from < from - slack_m_s)
        ht_text_addf(out, REPORT_NOT_DRIVEN_BELOW "\n",
                     shown_speed(from).text);
    if (felt_to > to + slack_m_s)
        ht_text_addf(out, REPORT_NOT_DRIVEN_ABOVE "\n", shown_speed(to).text);
}

static void untold_causes(struct ht_text *out, const struct ht_ranking *r)
{
    for (size_t i = 0; i < r->alike; i++)
        line(out, r->alike_text[i]);
    struct ht_text text = { 0 };
    for (size_t i = 0; i < r->unexplained; i++)
        ht_text_addf(out, REPORT_UNEXPLAINED "\n",
                     cleaned(&text, r->unexplained_text[i]));
    ht_text_end(out, &text);
}

void say_untold(struct ht_text *out, const struct told *told)
{
    untold_speed(out, told);
    if (told->orders)
        untold_pairs(out, &told->workup->orders);
    if (told->angles)
        untold_angles(out, told->workup);
    if (told->orders) {
        untold_orders(out, &told->workup->orders);
        untold_speeds(out, told->workup);
    }
    if (told->ranking)
        untold_causes(out, told->ranking);
    for (size_t i = 0; i < told->workup->missing_count; i++)
        line(out, told->workup->missing[i]);
}

/* ---- cautions ---------------------------------------------------------- */

static const struct {
    bool angles, drive;
    const char *text;
} cautions[] = {
    { true, false, REPORT_CAUTION_WEIGHT },
    { true, false, REPORT_CAUTION_STANDS },
    { false, true, REPORT_CAUTION_TWO_PEOPLE },
    { true, true, REPORT_CAUTION_BEFORE_DRIVE },
    { true, true, REPORT_CAUTION_PRACTICE },
};

void say_cautions(struct ht_text *out, const struct told *told)
{
    const struct ht_ranked_cause *first = told->first;
    if (first && told->ranking->accused && first->caution)
        line(out, first->caution);
    bool angles = told->angles || !told->recording;
    bool drive = told->recording || !told->angles;
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        if ((cautions[i].angles && angles) || (cautions[i].drive && drive))
            line(out, cautions[i].text);
}

/* ---- what it rests on -------------------------------------------------- */

void say_assumed(struct ht_text *out, const struct told *told)
{
    const struct ht_workup *workup = told->workup;
    for (size_t i = 0; i < workup->assumed_count; i++)
        line(out, workup->assumed[i]);
    if (told->angles)
        say_angle_notes(out, workup);
    for (size_t i = 0; workup->has_rotation && i < workup->rotation.notes; i++)
        line(out, workup->rotation.note[i]);
    for (size_t i = 0; told->recording && i < workup->recording.notes; i++)
        line(out, workup->recording.note[i]);
    for (size_t i = 0; told->turns && i < workup->turns.notes; i++)
        line(out, workup->turns.note[i]);
    for (size_t i = 0; told->orders && i < workup->orders.notes; i++)
        line(out, workup->orders.note[i]);
}

static void say_source(struct ht_text *out, const struct ht_turns *turns)
{
    static const char *const sources[] = {
        [HT_SPEED_NONE] = REPORT_SPEED_UNKNOWN,
        [HT_SPEED_PULSES] = REPORT_SPEED_PULSES,
        [HT_SPEED_LOG] = REPORT_SPEED_LOG,
        [HT_SPEED_STEADY] = REPORT_SPEED_STEADY,
        [HT_SPEED_HINT] = REPORT_SPEED_HINT,
        [HT_SPEED_RECORDING] = REPORT_SPEED_RECORDING,
    };
    if (turns->source == HT_SPEED_LOG && isfinite(turns->lag_s))
        ht_text_addf(out,
                     turns->lag_s >= 0 ? REPORT_SPEED_LOG_LATE
                                       : REPORT_SPEED_LOG_EARLY,
                     shown_number(fabs(turns->lag_s), 1).text);
    else
        ht_text_add(out, sources[turns->source]);
}

void say_speed(struct ht_text *out, const struct told *told)
{
    if (!told->turns || told->workup->turns.state == HT_SPEED_REFUSED)
        return;
    const struct ht_turns *turns = &told->workup->turns;
    say_source(out, turns);
    if (turns->gear) {
        next_sentence(out);
        ht_text_addf(out, REPORT_GEAR, turns->gear);
    }
    if (turns->circumference_found) {
        next_sentence(out);
        ht_text_addf(out, REPORT_WHEEL_ROLLS,
                     shown_number(turns->circumference_m, 3).text,
                     shown_number(1.96 * turns->circumference_u_m, 3).text);
    }
}

static void say_gauge(struct ht_text *out, const struct ht_sheet_angles *a)
{
    if (!isfinite(a->gauge_accuracy_rad))
        return;
    struct shown accuracy = shown_degrees(a->gauge_accuracy_rad, 1);
    next_sentence(out);
    if (isfinite(a->gauge_step_rad))
        ht_text_addf(out, REPORT_GAUGE_STEP, accuracy.text,
                     shown_degrees(a->gauge_step_rad, 2).text);
    else
        ht_text_addf(out, REPORT_GAUGE, accuracy.text);
}

static void say_files(struct ht_text *out, const struct ht_sheet *sheet,
                      const char *case_name)
{
    const struct ht_sheet_drive *drive =
        sheet->drive_count ? &sheet->drives[0] : NULL;
    bool recorded = drive && drive->recording;
    struct ht_text name = { 0 };
    if (case_name) {
        next_sentence(out);
        ht_text_addf(out, REPORT_FROM_SHEET, cleaned(&name, case_name));
    }
    if (recorded) {
        next_sentence(out);
        ht_text_addf(out, REPORT_FROM_RECORDING,
                     cleaned(&name, drive->recording));
    }
    if (recorded && drive->speed.file) {
        next_sentence(out);
        ht_text_addf(out, REPORT_FROM_LOG, cleaned(&name, drive->speed.file));
    }
    ht_text_end(out, &name);
}

void say_made_from(struct ht_text *out, const struct told *told,
                   const char *case_name)
{
    const struct ht_sheet *sheet = told->workup->sheet;
    ht_text_addf(out, REPORT_MADE_BY, HALFTURN_VERSION);
    say_files(out, sheet, case_name);
    if (sheet->angles_count && told->angles)
        say_gauge(out, &sheet->angles[answering_index(told->workup)]);
    if (told->ranking) {
        next_sentence(out);
        ht_text_add(out, REPORT_WORD_SCALE);
    }
}
