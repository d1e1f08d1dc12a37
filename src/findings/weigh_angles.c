/* Findings from the joint angles. Hanging or unknown suspension: nothing is
 * known. Where several published sets are judged, each counts the same. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include "common/constants.h"
#include "common/statistics.h"
#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A leftover of 2.98 degrees is an irregularity of 0.0027 (ELBE technical
 * pages); used where no speed or limit on the shake is known. The limits in
 * print differ by about half a degree: the softness. */
static const double leftover_limit_rad = 2.98 * HT_RAD_PER_DEG;
static const double leftover_edge_rad = 0.5 * HT_RAD_PER_DEG;

/* What a verdict is about, by docs/angles.md: "shake passed to the axle",
 * "leftover angle", "joints 1 and 2 differ", "joint 3, the odd one beside the
 * pair", "joint 3". */
static bool holds(const struct ht_limit_verdict *verdict, const char *piece)
{
    return strstr(verdict->what, piece) != NULL;
}

static bool is_shake(const struct ht_limit_verdict *verdict)
{
    return strcmp(verdict->unit, "rad/s2") == 0;
}

static bool leftover(const struct ht_limit_verdict *verdict)
{
    return is_shake(verdict) ? holds(verdict, "axle")
                             : holds(verdict, "leftover");
}

static bool shake_of_shaft(const struct ht_limit_verdict *verdict)
{
    return is_shake(verdict) && !holds(verdict, "axle");
}

static bool one_joint_maximum(const struct ht_limit_verdict *verdict)
{
    return !is_shake(verdict) && verdict->joint && !verdict->is_minimum &&
           !holds(verdict, ",");
}

static bool one_joint_minimum(const struct ht_limit_verdict *verdict)
{
    return !is_shake(verdict) && verdict->joint && verdict->is_minimum;
}

/* Paired joints, and joints that no other cancels. */
static bool difference(const struct ht_limit_verdict *verdict)
{
    return !is_shake(verdict) && !verdict->is_minimum &&
           (holds(verdict, "differ") || holds(verdict, ","));
}

/* The mean over the sets of the largest chance within a set; *worst is the
 * verdict most surely over. NAN: no such verdict. */
static double chance_over(const struct ht_angles *angles,
                          bool (*about)(const struct ht_limit_verdict *),
                          const struct ht_limit_verdict **worst)
{
    double sum = 0;
    size_t sets = 0;
    *worst = NULL;
    for (size_t i = 0; i < angles->verdicts; i++) {
        const char *set = angles->verdict[i].set;
        double largest = -1;
        bool counted = false;
        for (size_t j = 0; j < angles->verdicts; j++) {
            const struct ht_limit_verdict *verdict = &angles->verdict[j];
            if (!about(verdict) || strcmp(verdict->set, set) != 0 ||
                !isfinite(verdict->probability_over))
                continue;
            counted = counted || j < i;
            largest = fmax(largest, verdict->probability_over);
            if (!*worst ||
                verdict->probability_over > (*worst)->probability_over)
                *worst = verdict;
        }
        if (largest < 0 || counted)
            continue;
        sum += largest;
        sets++;
    }
    return sets ? sum / (double)sets : NAN;
}

static void say_figure(char *text, size_t size,
                       const struct ht_limit_verdict *verdict)
{
    char value[40], limit[40];
    bool angle = strcmp(verdict->unit, "rad") == 0;
    double scale = angle ? HT_DEG_PER_RAD : 1;
    int decimals = angle ? 2 : 0;
    ht_format_number(value, sizeof value, scale * verdict->value, decimals);
    ht_format_number(limit, sizeof limit, scale * verdict->limit, decimals);
    if (angle)
        snprintf(text, size, FINDINGS_ANGLE_LIMIT, verdict->what, value,
                 limit);
    else
        snprintf(text, size, FINDINGS_SHAKE_LIMIT, value, limit);
}

/* What a finding asks of the angles. */
struct asked {
    bool (*about)(const struct ht_limit_verdict *);
    bool or_leftover;   /* where no limit is there to hold it against */
};

/* The chance on one driveline, and the figure; NAN: it cannot tell, or
 * (*none) has nothing of the kind. */
struct heard {
    double chance;
    bool none;
    char text[160];
};

/* From the side alone the true angle is at least what was read: a maximum
 * may be over, never within, and a minimum the other way round. */
static bool side_view_hides(const struct ht_angles *angles, bool is_minimum,
                            double chance)
{
    return angles->side_view_only && (is_minimum || chance < 0.5);
}

static void hear_leftover(struct heard *heard, const struct ht_angles *angles)
{
    char number[40];
    const struct ht_estimate *left = &angles->leftover_rad;
    if (!isfinite(left->value))
        return;
    double sd = hypot(leftover_edge_rad, left->u);
    double chance = ht_normal_cdf((left->value - leftover_limit_rad) / sd);
    if (side_view_hides(angles, false, chance))
        return;
    heard->chance = chance;
    ht_format_number(number, sizeof number, left->value * HT_DEG_PER_RAD, 2);
    snprintf(heard->text, sizeof heard->text, FINDINGS_LEFTOVER, number);
}

static void hear(struct heard *heard, const struct ht_angles *angles,
                 const struct asked *asked)
{
    const struct ht_limit_verdict *worst;
    *heard = (struct heard){ .chance = NAN };
    if (!angles || !angles->verdict_allowed)
        return;
    double chance = chance_over(angles, asked->about, &worst);
    heard->none = !worst && !asked->or_leftover;
    if (worst && !side_view_hides(angles, worst->is_minimum, chance)) {
        heard->chance = chance;
        say_figure(heard->text, sizeof heard->text, worst);
    } else if (asked->or_leftover)
        hear_leftover(heard, angles);
}

/* Of several drivelines the worst speaks, named. That none is out of limits
 * is said only when all of them can tell. */
static void say_worst(struct ht_finding *finding,
                      const struct ht_findings_input *input,
                      const struct asked *asked)
{
    struct heard heard, worst = { .chance = NAN };
    const char *name = NULL;
    bool all = true;
    for (size_t i = 0; i < input->drivelines; i++) {
        hear(&heard, input->driveline[i].angles, asked);
        all = all && (heard.none || !isnan(heard.chance));
        if (isnan(heard.chance) || heard.chance <= worst.chance)
            continue;
        worst = heard;
        name = input->driveline[i].name;
    }
    if (!all && !(worst.chance >= 0.5))
        return;
    if (name)
        snprintf(heard.text, sizeof heard.text, FINDINGS_ON_DRIVELINE,
                 worst.text, name);
    ht_finding_say_chance(finding, worst.chance,
                          name ? heard.text : worst.text);
}

static void say(struct ht_finding *finding,
                const struct ht_findings_input *input,
                const struct asked *asked)
{
    struct heard heard;
    if (input->drivelines > 1) {
        say_worst(finding, input, asked);
        return;
    }
    hear(&heard, input->angles, asked);
    ht_finding_say_chance(finding, heard.chance, heard.text);
}

#define WEIGH(name_, about_, leftover_)                                        \
    void ht_weigh_##name_(struct ht_finding *finding,                          \
                          const struct ht_finding_kind *kind,                  \
                          const struct ht_findings_input *input)               \
    {                                                                          \
        static const struct asked asked = { about_, leftover_ };               \
        (void)kind;                                                            \
        say(finding, input, &asked);                                           \
    }
WEIGH(axle_shake, leftover, true)
WEIGH(joint_maximum, one_joint_maximum, false)
WEIGH(joint_minimum, one_joint_minimum, false)
WEIGH(joint_difference, difference, false)
WEIGH(shaft_shake, shake_of_shaft, false)

/* Phasing within 3 degrees (published service literature, 1999); set by eye
 * to about 2 degrees (common practice, no source). */
void ht_weigh_yokes(struct ht_finding *finding,
                    const struct ht_finding_kind *kind,
                    const struct ht_findings_input *input)
{
    double largest = NAN;
    const char *name = NULL;
    size_t lines = input->sheet ? input->sheet->driveline_count : 0;
    for (size_t i = 0; i < lines; i++) {
        const struct ht_sheet_driveline *line = &input->sheet->drivelines[i];
        for (size_t k = 0; k < line->yokes_rad.count; k++) {
            double yoke = fabs(line->yokes_rad.value[k]);
            name = yoke <= largest ? name : line->name;
            largest = fmax(largest, yoke);
        }
    }
    if (isnan(largest)) {
        ht_weigh_word(finding, kind, input);
        return;
    }
    char text[160], figure[80], number[40];
    ht_format_number(number, sizeof number, largest * HT_DEG_PER_RAD, 0);
    snprintf(figure, sizeof figure, FINDINGS_YOKES, number);
    if (lines > 1 && name)
        snprintf(text, sizeof text, FINDINGS_ON_DRIVELINE, figure, name);
    else
        snprintf(text, sizeof text, "%s", figure);
    ht_finding_say_chance(
        finding,
        ht_normal_cdf((largest * HT_DEG_PER_RAD - 3) / 2), text);
}
