/* The lists of every output: safety, what could not be told, cautions. */
#include "summary.h"

#include "judged.h"
#include "markup.h"
#include "words.h"

#include <math.h>
#include <string.h>

static void line(struct ht_text *out, const char *text)
{
    clean_text(out, text);
    ht_text_add(out, "\n");
}

static void bold(struct ht_text *out, const char *text)
{
    ht_text_add(out, BOLD_ON);
    clean_text(out, text);
    ht_text_add(out, BOLD_OFF);
}

void say_safety(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_safety *safety = workup->findings.safety;
    size_t count = workup->findings.safety_count;
    if (workup->has_ranking && workup->ranking.safety_count) {
        safety = workup->ranking.safety;
        count = workup->ranking.safety_count;
    }
    for (size_t i = 0; i < count; i++)
        line(out, safety[i].text);
}

/* ---- what could not be told -------------------------------------------- */

static void untold_speed(struct ht_text *out, const struct ht_workup *workup)
{
    if (!workup->has_turns || workup->turns.state == HT_SPEED_ACCEPTED)
        return;
    bold(out, "The speed.");
    ht_text_add(out, " ");
    line(out, workup->turns.reason);
}

static void untold_pairs(struct ht_text *out, const struct ht_orders *orders)
{
    for (size_t i = 0; i < orders->cannot_separate_count; i++) {
        const struct ht_cannot_separate *pair = &orders->cannot_separate[i];
        ht_text_add(out, BOLD_ON);
        put_order_name(out, pair->a);
        ht_text_add(out, " from ");
        put_order_name(out, pair->b);
        ht_text_add(out, "." BOLD_OFF);
        ht_text_add(out, pair->never ? " The same frequency in this gear. "
                                     : " They lie too close. ");
        line(out, pair->way_out);
    }
}

static void untold_verdicts(struct ht_text *out,
                            const struct ht_angles *angles)
{
    for (size_t j = 1; j <= angles->joints; j++) {
        struct judged judged = judged_joint(angles, j);
        if (judged.verdict != HT_VERDICT_OPEN)
            continue;
        if (judged.sets > 1 && judged.sets_bad) {
            ht_text_addf(out, BOLD_ON "Joint %zu." BOLD_OFF " The published "
                         "sets disagree: out of limits in %zu of %zu. Name "
                         "the set that fits, or the maker's figure.\n",
                         j, judged.sets_bad, judged.sets);
            continue;
        }
        ht_text_addf(out, BOLD_ON "Joint %zu" BOLD_OFF " against its ", j);
        put_degrees(out, judged.deciding->limit, 1);
        ht_text_add(out, " limit: ");
        put_angle_range(out, &angles->joint[j - 1].angle_rad);
        ht_text_add(out, ". ");
        line(out, judged.deciding->way_out);
    }
}

static void put_names(struct ht_text *out, const struct ht_orders *orders,
                      size_t first)
{
    const struct ht_order_result *r = &orders->result[first];
    for (size_t i = first; i < orders->results; i++) {
        const struct ht_order_result *other = &orders->result[i];
        if (other->channel != -1 || other->state != r->state ||
            strcmp(other->reason, r->reason) != 0)
            continue;
        if (i > first)
            ht_text_add(out, ", ");
        put_order_name(out, other->order.name);
    }
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
        ht_text_add(out, BOLD_ON);
        put_names(out, orders, i);
        ht_text_add(out, BOLD_OFF " could not be seen. ");
        line(out, r->reason);
    }
}

static void untold_speeds(struct ht_text *out, const struct ht_workup *workup)
{
    double felt_from, felt_to, from, to;
    if (!felt_range(workup, &felt_from, &felt_to) ||
        !driven_range(workup, &from, &to))
        return;
    const double slack_m_s = 1; /* one bin's width either way is driven */
    if (felt_from < from - slack_m_s) {
        ht_text_add(out, BOLD_ON "Below ");
        put_speed(out, from);
        ht_text_add(out, "." BOLD_OFF " Felt there, but not driven.\n");
    }
    if (felt_to > to + slack_m_s) {
        ht_text_add(out, BOLD_ON "Above ");
        put_speed(out, to);
        ht_text_add(out, "." BOLD_OFF " Felt there, but not driven.\n");
    }
}

static void untold_causes(struct ht_text *out, const struct ht_ranking *r)
{
    for (size_t i = 0; i < r->alike; i++)
        line(out, r->alike_text[i]);
    for (size_t i = 0; i < r->unexplained; i++) {
        bold(out, "Not explained:");
        ht_text_add(out, " ");
        line(out, r->unexplained_text[i]);
    }
}

void say_untold(struct ht_text *out, const struct ht_workup *workup)
{
    untold_speed(out, workup);
    if (workup->has_orders)
        untold_pairs(out, &workup->orders);
    if (workup->has_angles)
        untold_verdicts(out, &workup->angles);
    if (workup->has_angles && !workup->angles.verdict_allowed)
        ht_text_add(out, BOLD_ON "No verdict on the angles." BOLD_OFF
                    " They count only with the axle carrying the vehicle's "
                    "weight. Measure again on the wheels, or on stands at "
                    "ride height.\n");
    if (workup->has_angles && workup->angles.side_view_only)
        ht_text_add(out, BOLD_ON "Side view only." BOLD_OFF " The true angles "
                    "are at least these. Measure the headings too.\n");
    if (workup->has_orders) {
        untold_orders(out, &workup->orders);
        untold_speeds(out, workup);
    }
    if (workup->has_ranking)
        untold_causes(out, &workup->ranking);
    for (size_t i = 0; i < workup->missing_count; i++)
        line(out, workup->missing[i]);
}

/* ---- cautions ---------------------------------------------------------- */

/* HSE, working under vehicles (INDG and vehicle repair pages); the rest is
 * common practice, no source. docs/report.md names what each rests on. */
static const struct {
    bool angles, drive;
    const char *text;
} cautions[] = {
    { true, false, "Angles count only with the axle carrying the vehicle's "
                   "weight." },
    { true, false, "Stands or a lift on level ground, wheels chocked. Never "
                   "under a vehicle on a jack alone, never with the engine "
                   "running. Keep clear of a turning shaft." },
    { false, true, "Two people: one drives, one records. On a suitable road, "
                   "within the law." },
    { true, true, "Before any drive: joint clips seated all round, bolts at "
                  "the maker's torque, wheel nuts checked." },
    { true, true, "Limits here are published practice. The vehicle maker's "
                  "figures and local codes come first. When in doubt, ask a "
                  "qualified person." },
};

void say_cautions(struct ht_text *out, const struct ht_workup *workup)
{
    const struct ht_ranked_cause *first = first_cause(workup);
    if (first && workup->ranking.accused && first->caution)
        line(out, first->caution);
    bool angles = workup->has_angles || !workup->has_recording;
    bool drive = workup->has_recording || !workup->has_angles;
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        if ((cautions[i].angles && angles) || (cautions[i].drive && drive))
            line(out, cautions[i].text);
}

/* ---- what it rests on -------------------------------------------------- */

void say_assumed(struct ht_text *out, const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->assumed_count; i++)
        line(out, workup->assumed[i]);
    for (size_t i = 0; workup->has_angles && i < workup->angles.notes; i++)
        line(out, workup->angles.note[i]);
    for (size_t i = 0; workup->has_rotation && i < workup->rotation.notes; i++)
        line(out, workup->rotation.note[i]);
    for (size_t i = 0; workup->has_recording && i < workup->recording.notes;
         i++)
        line(out, workup->recording.note[i]);
    for (size_t i = 0; workup->has_turns && i < workup->turns.notes; i++)
        line(out, workup->turns.note[i]);
    for (size_t i = 0; workup->has_orders && i < workup->orders.notes; i++)
        line(out, workup->orders.note[i]);
}

static const char *source_words(enum ht_speed_source source)
{
    static const char *const words[] = {
        [HT_SPEED_NONE] = "not found",
        [HT_SPEED_PULSES] = "from the pulses",
        [HT_SPEED_LOG] = "from the log",
        [HT_SPEED_STEADY] = "from the steady speed that was held",
        [HT_SPEED_HINT] = "from the hint and the recording",
        [HT_SPEED_RECORDING] = "from the recording alone",
    };
    return words[source];
}

void say_speed(struct ht_text *out, const struct ht_workup *workup)
{
    if (!workup->has_turns || workup->turns.state == HT_SPEED_REFUSED)
        return;
    const struct ht_turns *turns = &workup->turns;
    ht_text_addf(out, "Speed %s", source_words(turns->source));
    if (turns->source == HT_SPEED_LOG && isfinite(turns->lag_s)) {
        ht_text_add(out, ", ");
        put_number(out, fabs(turns->lag_s), 1);
        ht_text_addf(out, NBSP "s %s, corrected",
                     turns->lag_s >= 0 ? "late" : "early");
    }
    ht_text_add(out, ".");
    if (turns->gear)
        ht_text_addf(out, " Gear" NBSP "%u.", turns->gear);
    if (turns->circumference_found) {
        ht_text_add(out, " Wheel rolls ");
        put_number(out, turns->circumference_m, 3);
        ht_text_add(out, NBSP PLUS_MINUS NBSP);
        put_number(out, 1.96 * turns->circumference_u_m, 3);
        ht_text_add(out, NBSP "m a turn, found.");
    }
}

static void put_gauge(struct ht_text *out, const struct ht_sheet_angles *a)
{
    if (!isfinite(a->gauge_accuracy_rad))
        return;
    ht_text_add(out, " Gauge " PLUS_MINUS NBSP);
    put_degrees(out, a->gauge_accuracy_rad, 1);
    if (isfinite(a->gauge_step_rad)) {
        ht_text_add(out, ", step ");
        put_degrees(out, a->gauge_step_rad, 2);
    }
    ht_text_add(out, ".");
}

static void put_scale(struct ht_text *out)
{
    size_t count;
    const struct likelihood_word *words = likelihood_words(&count);
    ht_text_add(out, " Words in 100:");
    for (size_t i = 0; i < count; i++) {
        bool last = i + 1 == count;
        ht_text_addf(out, " %s ", words[i].word);
        ht_text_add(out, last ? "below " : "");
        put_number(out, words[last ? i - 1 : i].from, 0);
        ht_text_add(out, last ? "." : i == 0 ? " and up," : ",");
    }
}

void say_made_from(struct ht_text *out, const struct ht_workup *workup,
                   const char *case_name)
{
    const struct ht_sheet *sheet = workup->sheet;
    ht_text_add(out, "Made by Halfturn " HALFTURN_VERSION);
    if (case_name) {
        ht_text_add(out, " from case sheet ");
        clean_text(out, case_name);
    }
    const struct ht_sheet_drive *drive =
        sheet->drive_count ? &sheet->drives[0] : NULL;
    if (drive && drive->recording) {
        ht_text_add(out, ", recording ");
        clean_text(out, drive->recording);
        ht_text_add(out, drive->speed.file ? ", speed log " : "");
        clean_text(out, drive->speed.file);
    }
    ht_text_add(out, ".");
    if (sheet->angles_count && workup->has_angles)
        put_gauge(out, &sheet->angles[0]);
    if (workup->has_ranking)
        put_scale(out);
}
