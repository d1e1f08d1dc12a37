#include "stages.h"
#include "texts.h"
#include "value.h"

#include "common/printable.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>

static void add_sentence(char (*list)[240], size_t room, size_t *count,
                         const char *format, va_list arguments)
{
    if (*count == room)
        return;
    (void)vsnprintf(list[*count], sizeof list[0], format, arguments);
    ht_make_printable(list[(*count)++]);
}

void ht_stage_missing(struct ht_workup *workup, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_sentence(workup->missing,
                 sizeof workup->missing / sizeof workup->missing[0],
                 &workup->missing_count, format, arguments);
    va_end(arguments);
}

void ht_stage_assumed(struct ht_workup *workup, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_sentence(workup->assumed,
                 sizeof workup->assumed / sizeof workup->assumed[0],
                 &workup->assumed_count, format, arguments);
    va_end(arguments);
}

double ht_stage_highest_speed(const struct ht_sheet *sheet)
{
    double highest = sheet->vehicle.top_speed_m_s;
    const struct ht_numbers *felt = &sheet->complaint.speed_m_s;
    if (isnan(highest) && felt->count > 0)
        highest = felt->value[felt->count - 1];
    return highest;
}

/* Lists that this version answers with their first entry only. */
static void say_only_first(struct ht_workup *workup,
                           const struct ht_sheet *sheet)
{
    const struct {
        const char *key;
        size_t count;
    } lists[] = { { "drive", sheet->drive_count } };
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
        if (lists[i].count > 1)
            ht_stage_missing(workup, WORKUP_ONLY_FIRST, lists[i].count,
                             lists[i].key);
}

enum ht_status ht_stage_progress(const struct stage *stage, const char *name,
                                 double share)
{
    *stage->said = (struct stage_said){ name, share };
    return ht_stage_still_wanted((void *)stage) /* only read */
               ? HT_OK
               : ht_fail(stage->err, WORKUP_STOPPED);
}

bool ht_stage_still_wanted(void *context)
{
    const struct stage *stage = context;
    const struct ht_workup_options *options = stage->options;
    return !options->progress ||
           options->progress(options->context, stage->said->name,
                             stage->said->share);
}

/* Angles, what they do, and what would put them right: announced as one. */
static enum ht_status run_angles(const struct stage *stage)
{
    enum ht_status status = ht_stage_angles(stage);
    if (status == HT_OK)
        status = ht_stage_effects(stage);
    return status == HT_OK ? ht_stage_shims(stage) : status;
}

enum ht_status ht_workup_run(struct ht_workup *workup,
                             const struct ht_sheet *sheet,
                             const struct ht_workup_options *options,
                             struct ht_error *err)
{
    static const struct {
        const char *name;
        enum ht_status (*run)(const struct stage *stage);
        double share; /* of the work that is done when it starts */
    } stages[] = { { "turning parts", ht_stage_rotation, 0 },
                   { "joint angles", run_angles, 0.02 },
                   { "recording", ht_stage_drive, RECORDING_FROM },
                   { "causes", ht_stage_causes, 0.95 } };
    *workup = (struct ht_workup){ .sheet = sheet };
    struct stage_said said = { "", 0 };
    struct stage stage = { workup, sheet, options, err, &said };
    enum ht_status status = HT_OK;
    say_only_first(workup, sheet);
    for (size_t i = 0; i < sizeof stages / sizeof stages[0]; i++) {
        if (status != HT_OK)
            break;
        if (options->drive || stages[i].run != ht_stage_drive)
            status =
                ht_stage_progress(&stage, stages[i].name, stages[i].share);
        if (status == HT_OK)
            status = stages[i].run(&stage);
    }
    if (options->progress) /* too late to stop anything */
        (void)options->progress(options->context, "", 1);
    if (status != HT_OK)
        ht_workup_free(workup);
    return status;
}

void ht_workup_free(struct ht_workup *workup)
{
    for (size_t s = 0; s < HT_STAGES; s++)
        ht_value_drop(workup->held[s]);
    *workup = (struct ht_workup){ 0 };
}
