/* All findings of a case, and what stands above them: safety. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include <stdio.h>
#include <string.h>

/* A line stands clearly above the healthy band at 9 in 10. */
static bool stands_out(const struct ht_finding_kind *kind,
                       const struct ht_finding *finding)
{
    return kind->is_line && finding->known && finding->answer == 2 &&
           finding->likelihood[1] < 0.1 / 0.9;
}

static void add_safety(struct ht_findings *findings, const char *id,
                       const char *text, bool no_drive)
{
    enum { ROOM = sizeof findings->safety / sizeof findings->safety[0] };
    findings->no_drive = findings->no_drive || no_drive;
    if (findings->safety_count == ROOM)
        return;
    struct ht_safety *safety = &findings->safety[findings->safety_count++];
    snprintf(safety->id, sizeof safety->id, "%s", id);
    snprintf(safety->text, sizeof safety->text, "%s", text);
}

/* Words that stop the vehicle, whatever the ranking says. */
static const struct {
    const char *word, *text;
} stops[] = {
    { "loose_wheel_nuts", FINDINGS_LOOSE_WHEEL_NUTS },
    { "loose_joint", FINDINGS_LOOSE_JOINT },
    { "loose_flange", FINDINGS_LOOSE_FLANGE },
    { "wheel_bearing_play", FINDINGS_WHEEL_BEARING },
    { "worn_slip_spline", FINDINGS_WORN_SPLINE },
};

static bool was_seen(const struct ht_sheet *sheet, const char *word)
{
    const struct ht_words *seen = &sheet->checks.seen;
    for (size_t i = 0; i < seen->count; i++)
        if (strcmp(seen->text[i], word) == 0)
            return true;
    return false;
}

static void collect_safety(struct ht_findings *findings,
                           const struct ht_sheet *sheet)
{
    if (sheet->safety.walk_round == HT_WALK_FAILED)
        add_safety(findings, "walk-round", FINDINGS_WALK_FAILED, true);
    if (sheet->safety.clips_refitted == HT_ANSWER_NO)
        add_safety(findings, "clips", FINDINGS_CLIPS_OFF, true);
    for (size_t i = 0; i < sizeof stops / sizeof stops[0]; i++)
        if (was_seen(sheet, stops[i].word))
            add_safety(findings, stops[i].word, stops[i].text, true);
    if (sheet->safety.clips_refitted == HT_ANSWER_UNKNOWN &&
        sheet->angles_count)
        add_safety(findings, "clips", FINDINGS_CLIPS_UNKNOWN, false);
    if (sheet->safety.walk_round == HT_WALK_UNKNOWN)
        add_safety(findings, "walk-round", FINDINGS_WALK_UNKNOWN, false);
}

void ht_findings_collect(struct ht_findings *findings,
                         const struct ht_findings_input *input)
{
    const struct ht_finding_kind *kinds = ht_finding_kinds(&(size_t){ 0 });
    memset(findings, 0, sizeof *findings);
    (void)ht_finding_kinds(&findings->findings);
    for (size_t i = 0; i < findings->findings; i++) {
        struct ht_finding *finding = &findings->finding[i];
        finding->kind = finding->one_with = i;
        for (size_t k = 0; k < HT_ANSWERS_MAX; k++)
            finding->likelihood[k] = 1;
        kinds[i].weigh(finding, &kinds[i], input);
    }
    ht_findings_tie(findings, input);
    for (size_t i = 0; i < findings->findings; i++)
        findings->strong_lines += stands_out(&kinds[i], &findings->finding[i]);
    findings->drive_recorded = input->orders != NULL;
    if (input->sheet)
        collect_safety(findings, input->sheet);
}
