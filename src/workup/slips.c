#include "slips.h"

#include "texts.h"

#include "halfturn/effects.h"

#include <string.h>

/* ---- ride heights ------------------------------------------------------- */

static void say_two_sets(const struct stage *stage, const struct ht_sets *lines,
                         const struct ht_line_angles *one,
                         const struct ht_line_angles *other)
{
    size_t gone_by = one->set_index;
    if (one->driveline_index != other->driveline_index ||
        !ht_sets_same_time(one, other))
        return;
    for (size_t i = 0; i < lines->count; i++)
        if (lines->line[i].decides &&
            lines->line[i].driveline_index == one->driveline_index)
            gone_by = lines->line[i].set_index;
    if (one->normal_height && other->normal_height)
        ht_stage_assumed(stage->workup, WORKUP_NORMAL_TWICE, one->set_index + 1,
                         other->set_index + 1, gone_by + 1);
    if (one->height_m == other->height_m)
        ht_stage_assumed(stage->workup, WORKUP_HEIGHT_TWICE, one->set_index + 1,
                         other->set_index + 1, 1000 * one->height_m);
}

static void say_heights(const struct stage *stage, const struct ht_sets *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        for (size_t k = 0; k < i; k++)
            say_two_sets(stage, lines, &lines->line[k], &lines->line[i]);
}

/* ---- drivelines --------------------------------------------------------- */

static void say_names(const struct stage *stage, const struct ht_words *members)
{
    for (size_t i = 0; i < members->count; i++)
        for (size_t k = 0; k < i; k++)
            if (members->text[i] && members->text[k] &&
                strcmp(members->text[i], members->text[k]) == 0)
                ht_stage_assumed(stage->workup, WORKUP_MEMBER_TWICE, k + 1,
                                 i + 1, members->text[i]);
}

static void say_tubes(const struct stage *stage,
                      const struct ht_sheet_driveline *line)
{
    for (size_t i = 0; i < line->tube_count; i++) {
        double young_pa, density_kg_m3;
        const char *material = line->tubes[i].material;
        if (!ht_tube_material(material, &young_pa, &density_kg_m3))
            ht_stage_missing(stage->workup, WORKUP_NO_SUCH_MATERIAL, material);
    }
}

void ht_slips_say(const struct stage *stage, const struct ht_sets *lines)
{
    say_heights(stage, lines);
    for (size_t i = 0; i < stage->sheet->driveline_count; i++) {
        say_names(stage, &stage->sheet->drivelines[i].members);
        say_tubes(stage, &stage->sheet->drivelines[i]);
    }
}
