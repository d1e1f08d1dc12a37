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

/* From the side alone the true angle is at least what was read: a maximum
 * may be over, never within, and a minimum the other way round. */
static void say_limit(struct ht_finding *finding,
                      const struct ht_findings_input *input,
                      bool (*about)(const struct ht_limit_verdict *))
{
    const struct ht_limit_verdict *worst;
    if (!input->angles || !input->angles->verdict_allowed)
        return;
    double chance = chance_over(input->angles, about, &worst);
    if (!worst || (input->angles->side_view_only &&
                   (worst->is_minimum || chance < 0.5)))
        return;
    char text[200];
    say_figure(text, sizeof text, worst);
    ht_finding_say_chance(finding, chance, text);
}

void ht_weigh_axle_shake(struct ht_finding *finding,
                         const struct ht_finding_kind *kind,
                         const struct ht_findings_input *input)
{
    (void)kind;
    say_limit(finding, input, leftover);
    const struct ht_angles *angles = input->angles;
    if (finding->known || !angles || !angles->verdict_allowed ||
        !isfinite(angles->leftover_rad.value))
        return;
    double sd = hypot(leftover_edge_rad, angles->leftover_rad.u);
    double chance =
        ht_normal_cdf((angles->leftover_rad.value - leftover_limit_rad) / sd);
    if (angles->side_view_only && chance < 0.5)
        return;
    char text[80], number[40];
    ht_format_number(number, sizeof number,
                     angles->leftover_rad.value * HT_DEG_PER_RAD, 2);
    snprintf(text, sizeof text, FINDINGS_LEFTOVER, number);
    ht_finding_say_chance(finding, chance, text);
}

void ht_weigh_joint_maximum(struct ht_finding *finding,
                            const struct ht_finding_kind *kind,
                            const struct ht_findings_input *input)
{
    (void)kind;
    say_limit(finding, input, one_joint_maximum);
}

void ht_weigh_joint_minimum(struct ht_finding *finding,
                            const struct ht_finding_kind *kind,
                            const struct ht_findings_input *input)
{
    (void)kind;
    say_limit(finding, input, one_joint_minimum);
}

void ht_weigh_joint_difference(struct ht_finding *finding,
                               const struct ht_finding_kind *kind,
                               const struct ht_findings_input *input)
{
    (void)kind;
    say_limit(finding, input, difference);
}

void ht_weigh_shaft_shake(struct ht_finding *finding,
                          const struct ht_finding_kind *kind,
                          const struct ht_findings_input *input)
{
    (void)kind;
    say_limit(finding, input, shake_of_shaft);
}

/* Phasing within 3 degrees (published service literature, 1999); set by eye
 * to about 2 degrees (common practice, no source). */
void ht_weigh_yokes(struct ht_finding *finding,
                    const struct ht_finding_kind *kind,
                    const struct ht_findings_input *input)
{
    double largest = NAN;
    for (size_t i = 0; input->sheet && i < input->sheet->driveline_count; i++) {
        const struct ht_numbers *yokes =
            &input->sheet->drivelines[i].yokes_rad;
        for (size_t k = 0; k < yokes->count; k++)
            largest = fmax(largest, fabs(yokes->value[k]));
    }
    if (isnan(largest)) {
        ht_weigh_word(finding, kind, input);
        return;
    }
    char text[80], number[40];
    ht_format_number(number, sizeof number, largest * HT_DEG_PER_RAD, 0);
    snprintf(text, sizeof text, FINDINGS_YOKES, number);
    ht_finding_say_chance(
        finding,
        ht_normal_cdf((largest * HT_DEG_PER_RAD - 3) / 2), text);
}
