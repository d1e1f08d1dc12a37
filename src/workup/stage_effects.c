/* What the angles of every set of readings do. */
#include "slice.h"
#include "stages.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>

struct effects_request {
    struct ht_sheet sheet; /* driveline, angles; a torque */
    const struct ht_line_angles *lines;
    size_t count;
    double output_turns; /* of the gearbox output per wheel turn */
};
struct effects_list {
    struct ht_effects *effects;
    size_t count;
};

static bool hash_effects(struct ht_digest *digest, const void *from)
{
    const struct effects_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    ht_digest_number(digest, request->output_turns);
    return true;
}

/* The torque is that at the gearbox output; what turns slower carries more,
 * were all of the power to go through it. */
static double torque_in(const struct effects_request *request,
                        const struct ht_line_angles *line, double torque_n_m)
{
    double ratio = request->output_turns / line->shaft_turns;
    return isfinite(ratio) ? torque_n_m * ratio : torque_n_m;
}

static enum ht_status make_one(struct ht_effects *effects,
                               const struct effects_request *request,
                               const struct ht_line_angles *line,
                               struct ht_error *err)
{
    struct ht_driveline driveline;
    struct ht_effects_options options =
        ht_effects_from_sheet(&request->sheet, line->driveline_index);
    options.torque_n_m = torque_in(request, line, options.torque_n_m);
    enum ht_status status =
        ht_driveline_from_sheet(&driveline, &request->sheet,
                                line->driveline_index, line->set_index, err);
    if (status == HT_OK)
        ht_effects_compute(effects, &driveline, &line->angles, &options);
    return status;
}

static void clear_effects(void *result)
{
    struct effects_list *list = result;
    ht_release(list->effects);
    *list = (struct effects_list){ 0 };
}

static enum ht_status make_effects(void *result, const void *from,
                                   struct ht_error *err)
{
    const struct effects_request *request = from;
    struct effects_list *list = result;
    enum ht_status status = HT_OK;
    list->effects = ht_allocate(request->count, sizeof *list->effects);
    if (!list->effects)
        return ht_fail(err, WORKUP_NO_MEMORY, ht_stage_name(HT_STAGE_EFFECTS));
    list->count = request->count;
    for (size_t i = 0; i < request->count && status == HT_OK; i++)
        status = make_one(&list->effects[i], request, &request->lines[i], err);
    if (status != HT_OK)
        clear_effects(result);
    return status;
}

static size_t behind_effects(const void *result)
{
    const struct effects_list *list = result;
    return list->count * sizeof *list->effects;
}

enum ht_status ht_stage_effects(const struct stage *stage)
{
    static const char *const read[] = { "driveline", "angles", NULL };
    static const struct stage_kind kind = { .stage = HT_STAGE_EFFECTS,
                                            .uses = USES(ANGLES),
                                            .size = sizeof(struct effects_list),
                                            .hash = hash_effects,
                                            .make = make_effects,
                                            .clear = clear_effects,
                                            .bytes_behind = behind_effects };
    struct effects_request request = {
        .lines = stage->workup->lines,
        .count = stage->workup->line_count,
        .output_turns = stage->workup->rotation.output_turns,
    };
    const void *result;
    if (!stage->workup->has_angles)
        return HT_OK;
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    request.sheet.vehicle.torque_n_m = stage->sheet->vehicle.torque_n_m;
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        stage->workup->effects = ((const struct effects_list *)result)->effects;
    return status;
}
