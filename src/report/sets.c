#include "sets.h"

#include "judged.h"
#include "markup.h"
#include "texts.h"

#include <string.h>

bool several_sets(const struct ht_workup *workup)
{
    return workup->has_angles && workup->line_count > 1;
}

bool several_drivelines(const struct ht_workup *workup)
{
    return workup->has_angles && workup->sheet->driveline_count > 1;
}

const struct ht_line_angles *deciding_set(const struct ht_workup *workup,
                                          size_t driveline)
{
    for (size_t i = 0; i < workup->line_count; i++)
        if (workup->lines[i].decides &&
            workup->lines[i].driveline_index == driveline)
            return &workup->lines[i];
    return NULL;
}

/* ---- the answer's ------------------------------------------------------- */

static bool any_joint(const struct ht_angles *angles, enum ht_verdict verdict)
{
    for (size_t j = 1; j <= angles->joints; j++)
        if (judged_joint(angles, j).verdict == verdict)
            return true;
    return false;
}

/* In the order in which an answer looks at them. */
static int badness(const struct ht_angles *angles)
{
    if (!angles->verdict_allowed)
        return 0;
    if (any_joint(angles, HT_VERDICT_OVER))
        return 5;
    if (judged_difference(angles, HT_VERDICT_OVER) ||
        any_shake(angles, HT_VERDICT_OVER))
        return 4;
    if (any_joint(angles, HT_VERDICT_UNDER))
        return 3;
    return any_joint(angles, HT_VERDICT_OPEN) ||
                   judged_difference(angles, HT_VERDICT_OPEN)
               ? 2
               : 1;
}

bool all_sets_judged(const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->line_count; i++)
        if (workup->lines[i].decides &&
            !workup->lines[i].angles.verdict_allowed)
            return false;
    return true;
}

const struct ht_line_angles *answering_set(const struct ht_workup *workup)
{
    const struct ht_line_angles *worst = NULL;
    for (size_t i = 0; several_sets(workup) && i < workup->line_count; i++) {
        const struct ht_line_angles *line = &workup->lines[i];
        if (line->decides &&
            (!worst || badness(&line->angles) > badness(&worst->angles)))
            worst = line;
    }
    return worst;
}

const struct ht_angles *answering_angles(const struct ht_workup *workup)
{
    const struct ht_line_angles *line = answering_set(workup);
    return line ? &line->angles : &workup->angles;
}

size_t answering_index(const struct ht_workup *workup)
{
    const struct ht_line_angles *line = answering_set(workup);
    if (line)
        return line->set_index;
    return workup->line_count ? workup->lines[0].set_index : 0;
}

const struct ht_line_angles *set_in_order(const struct ht_workup *workup,
                                          size_t i)
{
    size_t at = 0;
    for (size_t d = 0; d <= workup->sheet->driveline_count; d++)
        for (size_t k = 0; k < workup->line_count; k++)
            if (workup->lines[k].driveline_index == d && at++ == i)
                return &workup->lines[k];
    return &workup->lines[0];
}

struct shown_set only_set(const struct ht_workup *workup)
{
    const struct ht_line_angles *line =
        workup->line_count ? &workup->lines[0] : NULL;
    return (struct shown_set){ &workup->angles,
                               line ? line->driveline_index : 0,
                               line ? line->set_index : 0, 0 };
}

struct shown_set shown_set_of(const struct ht_workup *workup,
                              const struct ht_line_angles *line)
{
    return (struct shown_set){ &line->angles, line->driveline_index,
                               line->set_index,
                               (size_t)(line - workup->lines) };
}

/* ---- names -------------------------------------------------------------- */

static void add_name(struct ht_text *out, const char *name)
{
    if (!name || !*name)
        return;
    if (out->length)
        ht_text_add(out, ", ");
    clean_text(out, name);
}

const char *driveline_name(struct ht_text *room,
                           const struct ht_workup *workup, size_t driveline)
{
    const struct ht_sheet *sheet = workup->sheet;
    room->length = 0;
    if (driveline < sheet->driveline_count)
        add_name(room, sheet->drivelines[driveline].name);
    if (room->length == 0)
        ht_text_addf(room, REPORT_DRIVELINE, driveline + 1);
    return ht_text_get(room);
}

const char *set_name(struct ht_text *room, const struct ht_workup *workup,
                     const struct ht_line_angles *line)
{
    room->length = 0;
    if (several_drivelines(workup))
        (void)driveline_name(room, workup, line->driveline_index);
    bool same = line->set && line->driveline && room->length &&
                strcmp(line->set, line->driveline) == 0;
    if (!same)
        add_name(room, line->set);
    if (!line->when || !line->set || strcmp(line->when, line->set) != 0)
        add_name(room, line->when);
    if (room->length == 0)
        ht_text_addf(room, REPORT_SET, line->set_index + 1);
    return ht_text_get(room);
}
