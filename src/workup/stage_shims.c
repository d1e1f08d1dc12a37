/* Shims: for each driveline that was read, from the set that decides. */
#include "slice.h"
#include "stages.h"
#include "texts.h"

#include "common/memory.h"

#include <stdint.h>
#include <string.h>

struct shims_line {
    size_t driveline, set;
    size_t before;              /* the set before the repair; SIZE_MAX: none */
    double shaft_rad_s;
};
struct shims_request {
    struct ht_sheet sheet;
    const struct ht_limits *limits;
    size_t count;
    struct shims_line *line;
    const struct stage *stage;  /* told of the progress; changes nothing */
};
struct shims_result {
    size_t count;
    struct ht_line_shims *line;
};

/* ---- the value ---------------------------------------------------------- */

static bool hash_shims(struct ht_digest *digest, const void *from)
{
    const struct shims_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    for (size_t i = 0; i < request->count; i++) {
        const struct shims_line *line = &request->line[i];
        ht_digest_count(digest, line->driveline);
        ht_digest_count(digest, line->set);
        ht_digest_count(digest, line->before);
        ht_digest_number(digest, line->shaft_rad_s);
    }
    return true;
}

/* One driveline of the request. */
struct part {
    const struct shims_request *request;
    size_t index;
};

/* The search is all that takes its time; without a drive nothing of weight
 * comes after it. */
static bool go_on(void *context, double share)
{
    const struct part *of = context;
    const struct stage *stage = of->request->stage;
    double until = stage->options->drive || stage->options->causes
                       ? RECORDING_FROM
                       : 0.95;
    double done = ((double)of->index + share) / (double)of->request->count;
    return ht_stage_progress(stage, "shims",
                             SHIMS_FROM + done * (until - SHIMS_FROM)) ==
           HT_OK;
}

static enum ht_status make_line(struct ht_line_shims *result,
                                const struct shims_request *request,
                                const struct shims_line *line,
                                struct ht_error *err)
{
    struct ht_limit_set own;
    struct part of = { request, (size_t)(line - request->line) };
    struct ht_shims_input input = {
        .sheet = &request->sheet,
        .driveline_index = line->driveline,
        .set_index = line->set,
        .limits = request->limits,
        .own = ht_stage_own_limits(&request->sheet.limits, &own) ? &own : NULL,
        .shaft_rad_s = line->shaft_rad_s,
        .progress = go_on,
        .context = &of,
    };
    enum ht_status status = HT_OK;
    const struct ht_shims_after *after = &result->after;
    result->driveline_index = line->driveline;
    result->has_after = line->before != SIZE_MAX;
    if (result->has_after) {
        input.set_index = line->before;
        status = ht_shims_compare(&result->after, &input, line->set, err);
        input.set_index = line->set;
        input.after_fitted = after->said;
        if (after->fits_reversed)
            input.reversed = &after->work[after->reversed];
    }
    return status == HT_OK ? ht_shims_plan(&result->shims, &input, err)
                           : status;
}

static void clear_shims(void *of)
{
    struct shims_result *result = of;
    ht_release(result->line);
    *result = (struct shims_result){ 0 };
}

static enum ht_status make_shims(void *into, const void *from,
                                 struct ht_error *err)
{
    const struct shims_request *request = from;
    struct shims_result *result = into;
    enum ht_status status = HT_OK;
    result->line = ht_allocate(request->count, sizeof *result->line);
    result->count = request->count;
    if (!result->line)
        return ht_fail(err, WORKUP_NO_MEMORY, ht_stage_name(HT_STAGE_SHIMS));
    for (size_t i = 0; i < request->count && status == HT_OK; i++)
        status = make_line(&result->line[i], request, &request->line[i], err);
    if (status != HT_OK)
        clear_shims(result);
    return status;
}

static size_t behind_shims(const void *of)
{
    const struct shims_result *result = of;
    return result->count * sizeof *result->line;
}

/* ---- the stage ---------------------------------------------------------- */

static bool is_when(const struct ht_line_angles *line, const char *word)
{
    return line->when && strcmp(line->when, word) == 0;
}

/* A hanging axle says nothing about what was done. */
static bool may_be_compared(const struct ht_workup *workup,
                            const struct ht_line_angles *line)
{
    const struct ht_sheet *sheet = workup->sheet;
    return sheet->angles[line->set_index].suspension != HT_SUSPENSION_HANGING;
}

/* The set that was read before the work: the last one of the same driveline
 * that is said to be so, else its first that is not said to be after it. */
static size_t set_before(const struct ht_workup *workup,
                         const struct ht_line_angles *after)
{
    size_t before = SIZE_MAX;
    bool said = false;
    for (size_t i = 0; i < workup->line_count; i++) {
        const struct ht_line_angles *line = &workup->lines[i];
        if (line->driveline_index != after->driveline_index ||
            line->set_index == after->set_index || is_when(line, "after") ||
            !may_be_compared(workup, line))
            continue;
        if (is_when(line, "before") || before == SIZE_MAX)
            before = line->set_index;
        said = said || is_when(line, "before");
    }
    bool either = said || is_when(after, "after");
    return either && may_be_compared(workup, after) ? before : SIZE_MAX;
}

static enum ht_status get_shims(const struct stage *stage,
                                const struct shims_request *request)
{
    static const struct stage_kind kind = {
        .stage = HT_STAGE_SHIMS,
        .uses = USES(LIMITS),
        .size = sizeof(struct shims_result),
        .hash = hash_shims,
        .make = make_shims,
        .clear = clear_shims,
        .bytes_behind = behind_shims,
    };
    const void *result;
    enum ht_status status = ht_stage_get(stage, &kind, request, &result);
    if (status != HT_OK)
        return status;
    stage->workup->shims = ((const struct shims_result *)result)->line;
    stage->workup->shims_count = ((const struct shims_result *)result)->count;
    return HT_OK;
}

static void list_lines(struct shims_request *request,
                       const struct ht_workup *workup)
{
    for (size_t i = 0; i < workup->line_count; i++) {
        const struct ht_line_angles *line = &workup->lines[i];
        if (!line->decides)
            continue;
        request->line[request->count++] = (struct shims_line){
            .driveline = line->driveline_index,
            .set = line->set_index,
            .before = set_before(workup, line),
            .shaft_rad_s = line->angles.accelerations.shaft_rad_s,
        };
    }
}

enum ht_status ht_stage_shims(const struct stage *stage)
{
    static const char *const read[] = { "vehicle", "driveline", "angles",
                                        "checks",  "limits",    "shims",
                                        "fitted",  NULL };
    struct shims_request request = { .limits = &stage->workup->limits,
                                     .stage = stage };
    if (!stage->options->shims || stage->workup->line_count == 0)
        return HT_OK;
    request.line =
        ht_allocate(stage->workup->line_count, sizeof *request.line);
    if (!request.line)
        return ht_fail(stage->err, WORKUP_NO_MEMORY,
                       ht_stage_name(HT_STAGE_SHIMS));
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    list_lines(&request, stage->workup);
    enum ht_status status =
        request.count > 0 ? get_shims(stage, &request) : HT_OK;
    ht_release(request.line);
    return status;
}
