/* Several sets of readings: which driveline each is of, and which decides. */
#include "sets.h"

#include "texts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool ht_set_was_read(const struct ht_sheet_angles *angles)
{
    return angles->slope_count > 0 || angles->joints_rad.count > 0;
}

/* ---- which decides ------------------------------------------------------ */

static bool is_word(const char *text, const char *word)
{
    return text && strcmp(text, word) == 0;
}

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

bool ht_sets_same_time(const struct ht_line_angles *a,
                        const struct ht_line_angles *b)
{
    return a->driveline_index == b->driveline_index &&
           same_text(a->when, b->when);
}

/* Before the work, without a word, after it. */
static int step_of(const struct ht_line_angles *line)
{
    return is_word(line->when, "before") ? 0 : line->when ? 2 : 1;
}

/* The state of a driveline that is newer; where nothing tells, the later of
 * two after the work, the earlier of two others. */
static bool is_newer(const struct ht_sheet *sheet,
                     const struct ht_line_angles *later,
                     const struct ht_line_angles *earlier)
{
    const char *a = sheet->angles[later->set_index].date;
    const char *b = sheet->angles[earlier->set_index].date;
    int step = step_of(later) - step_of(earlier);
    int days = a && b ? strcmp(a, b) : 0;
    if (step != 0)
        return step > 0;
    return days != 0 ? days > 0 : step_of(later) == 2;
}

static struct ht_line_angles *newest(const struct ht_sets *lines,
                                     const struct ht_sheet *sheet,
                                     size_t driveline)
{
    struct ht_line_angles *found = NULL;
    for (size_t i = 0; i < lines->count; i++)
        if (lines->line[i].driveline_index == driveline &&
            (!found || is_newer(sheet, &lines->line[i], found)))
            found = &lines->line[i];
    return found;
}

/* Of the newest state, the normal ride height. */
static void decide(struct ht_sets *lines, const struct ht_sheet *sheet,
                   size_t driveline)
{
    struct ht_line_angles *found = newest(lines, sheet, driveline);
    if (!found)
        return;
    for (size_t i = 0; i < lines->count && !found->normal_height; i++)
        if (lines->line[i].normal_height &&
            ht_sets_same_time(&lines->line[i], found))
            found = &lines->line[i];
    found->decides = true;
}

/* ---- names -------------------------------------------------------------- */

static const char *copy_of(struct ht_sets *lines, const char *text)
{
    return text ? ht_arena_text(&lines->arena, text, strlen(text)) : NULL;
}

static bool is_normal(const struct ht_sheet_angles *angles)
{
    if (angles->normal_height != HT_ANSWER_UNKNOWN)
        return angles->normal_height == HT_ANSWER_YES;
    return angles->name && strstr(angles->name, "normal");
}

static void name_line(struct ht_sets *lines, struct ht_line_angles *line,
                      const struct ht_sheet *sheet)
{
    const struct ht_sheet_angles *angles = &sheet->angles[line->set_index];
    line->driveline_index = ht_sheet_driveline_of(sheet, line->set_index);
    if (line->driveline_index < sheet->driveline_count)
        line->driveline = copy_of(
            lines, sheet->drivelines[line->driveline_index].name);
    line->set = copy_of(lines, angles->name);
    line->when = copy_of(lines, angles->when);
    line->height_m = angles->height_m;
    line->normal_height = is_normal(angles);
    line->shaft_turns = NAN;
}

bool ht_sets_open(struct ht_sets *lines, const struct ht_sheet *sheet)
{
    *lines = (struct ht_sets){ 0 };
    lines->line = ht_arena_get(&lines->arena, sheet->angles_count,
                               sizeof *lines->line);
    if (!lines->line) {
        ht_sets_free(lines);
        return false;
    }
    for (size_t i = 0; i < sheet->angles_count; i++)
        if (ht_set_was_read(&sheet->angles[i])) {
            lines->line[lines->count].set_index = i;
            name_line(lines, &lines->line[lines->count++], sheet);
        }
    decide(lines, sheet, 0);
    for (size_t d = 1; d < sheet->driveline_count; d++)
        decide(lines, sheet, d);
    if (!lines->arena.failed)
        return true;
    ht_sets_free(lines);
    return false;
}

void ht_sets_free(struct ht_sets *lines)
{
    ht_arena_free(&lines->arena);
    *lines = (struct ht_sets){ 0 };
}

/* ---- sentences ---------------------------------------------------------- */

static void say_set(const struct stage *stage, size_t set)
{
    const struct ht_sheet *sheet = stage->sheet;
    const struct ht_sheet_angles *angles = &sheet->angles[set];
    const struct ht_sheet_driveline *line = sheet->drivelines;
    if (!ht_set_was_read(angles) && sheet->angles_count > 1)
        ht_stage_missing(stage->workup, WORKUP_SET_EMPTY, set + 1);
    else if (sheet->driveline_count > 1 && !angles->driveline &&
             !same_text(angles->name,
                        line[ht_sheet_driveline_of(sheet, set)].name))
        ht_stage_assumed(stage->workup, WORKUP_FIRST_LINE_TAKEN, set + 1,
                         line->name);
}

/* More than one ride height, and none of them said to be the normal one. */
static void say_height(const struct stage *stage, const struct ht_sets *lines,
                       const struct ht_line_angles *deciding)
{
    size_t heights = 0;
    for (size_t i = 0; i < lines->count; i++)
        heights += ht_sets_same_time(&lines->line[i], deciding);
    if (heights < 2 || deciding->normal_height)
        return;
    if (deciding->set)
        ht_stage_assumed(stage->workup, WORKUP_NORMAL_TAKEN, deciding->set);
    else
        ht_stage_assumed(stage->workup, WORKUP_NORMAL_SET_TAKEN,
                         deciding->set_index + 1);
}

static void say_driveline(const struct stage *stage,
                          const struct ht_sets *lines, size_t index)
{
    const struct ht_sheet_driveline *line = &stage->sheet->drivelines[index];
    bool read = false;
    for (size_t i = 0; i < lines->count; i++)
        read = read || lines->line[i].driveline_index == index;
    if (!read)
        ht_stage_missing(stage->workup, WORKUP_LINE_NOT_READ, line->name);
    else if (line->engaged == HT_ANSWER_NO && line->name)
        ht_stage_assumed(stage->workup, WORKUP_LINE_NOT_ENGAGED, line->name);
    else if (line->engaged == HT_ANSWER_NO)
        ht_stage_assumed(stage->workup, WORKUP_NOT_ENGAGED);
}

void ht_sets_say(const struct stage *stage, const struct ht_sets *lines)
{
    for (size_t i = 0; i < stage->sheet->angles_count; i++)
        say_set(stage, i);
    for (size_t i = 0; i < lines->count; i++)
        if (lines->line[i].decides)
            say_height(stage, lines, &lines->line[i]);
    for (size_t i = 0; i < stage->sheet->driveline_count; i++)
        say_driveline(stage, lines, i);
}
