/* Findings from what the driver says. What somebody says is right about nine
 * times in ten; `slip` is the rest (common practice, no source). */
#include "findings/texts.h"
#include "findings/weigh.h"

#include <math.h>
#include <string.h>

static const double slip = 0.1;

static void say_answer(struct ht_finding *finding,
                       const struct ht_finding_kind *kind, size_t answer)
{
    double likelihood[HT_ANSWERS_MAX];
    for (size_t i = 0; i < kind->answers; i++)
        likelihood[i] = i == answer ? 1 : slip;
    ht_finding_say(finding, kind->answers, likelihood, FINDINGS_SAID);
}

static const struct ht_sheet_complaint *
complaint_of(const struct ht_findings_input *input)
{
    return input->sheet && input->sheet->complaint.given
               ? &input->sheet->complaint
               : NULL;
}

void ht_weigh_neutral_coast(struct ht_finding *finding,
                            const struct ht_finding_kind *kind,
                            const struct ht_findings_input *input)
{
    static const size_t answers[] = { [HT_COAST_GOES] = 0,
                                      [HT_COAST_CHANGES] = 1,
                                      [HT_COAST_STAYS] = 2 };
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->neutral_coast != HT_COAST_UNKNOWN)
        say_answer(finding, kind, answers[complaint->neutral_coast]);
}

void ht_weigh_gear_change(struct ht_finding *finding,
                          const struct ht_finding_kind *kind,
                          const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->gear_change != HT_GEAR_CHANGE_UNKNOWN)
        say_answer(finding, kind,
                   complaint->gear_change == HT_GEAR_CHANGE_FOLLOWS_ENGINE);
}

void ht_weigh_throttle(struct ht_finding *finding,
                       const struct ht_finding_kind *kind,
                       const struct ht_findings_input *input)
{
    static const size_t answers[] = { [HT_EFFECT_SAME] = 0,
                                      [HT_EFFECT_BETTER] = 1,
                                      [HT_EFFECT_GOES] = 1,
                                      [HT_EFFECT_WORSE] = 2 };
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->throttle != HT_EFFECT_UNKNOWN)
        say_answer(finding, kind, answers[complaint->throttle]);
}

void ht_weigh_braking(struct ht_finding *finding,
                      const struct ht_finding_kind *kind,
                      const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->braking != HT_EFFECT_UNKNOWN)
        say_answer(finding, kind, complaint->braking == HT_EFFECT_WORSE);
}

void ht_weigh_felt_steering(struct ht_finding *finding,
                            const struct ht_finding_kind *kind,
                            const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->felt)
        say_answer(finding, kind,
                   (complaint->felt & HT_FELT_STEERING_WHEEL) != 0);
}

void ht_weigh_felt_body(struct ht_finding *finding,
                        const struct ht_finding_kind *kind,
                        const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (complaint && complaint->felt)
        say_answer(finding, kind,
                   (complaint->felt & (HT_FELT_SEAT | HT_FELT_FLOOR)) != 0);
}

/* The lowest speed it is felt at: above 60 km/h, below, at pulling away. */
void ht_weigh_speed_range(struct ht_finding *finding,
                          const struct ht_finding_kind *kind,
                          const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    double lowest = INFINITY, highest = 0;
    for (size_t i = 0; complaint && i < complaint->speed_m_s.count; i++) {
        lowest = fmin(lowest, complaint->speed_m_s.value[i]);
        highest = fmax(highest, complaint->speed_m_s.value[i]);
    }
    if (!isfinite(lowest))
        return;
    say_answer(finding, kind,
               highest <= 30 / 3.6 ? 2 : (lowest < 60 / 3.6 ? 1 : 0));
}

/* Which findings a word speaks for. The first work named is the answer; that
 * other work was not named says nothing about it. */
static const struct {
    enum ht_began_after word;
    const char *subject;
} began[] = {
    { HT_BEGAN_SHAFT_REMOVED, "shaft" },
    { HT_BEGAN_GEARBOX_OR_ENGINE_OUT, "engine" },
    { HT_BEGAN_LIFT_OR_LOAD, "height" },
    { HT_BEGAN_SUSPENSION_CHANGED, "height" },
    { HT_BEGAN_TYRES, "wheels" },
    { HT_BEGAN_WHEELS_OFF, "wheels" },
    { HT_BEGAN_BODY_OR_TOW_BAR, "body" },
    { HT_BEGAN_ACCIDENT, "impact" },
};

void ht_weigh_began(struct ht_finding *finding,
                    const struct ht_finding_kind *kind,
                    const struct ht_findings_input *input)
{
    const struct ht_sheet_complaint *complaint = complaint_of(input);
    if (!complaint || complaint->began_after == HT_BEGAN_UNKNOWN)
        return;
    for (size_t i = 0; i < sizeof began / sizeof began[0]; i++)
        if (began[i].word == complaint->began_after &&
            strcmp(began[i].subject, kind->subject) == 0) {
            say_answer(finding, kind, 1);
            return;
        }
    ht_finding_say(finding, 2, (double[]){ 1, 1 }, "");
}
