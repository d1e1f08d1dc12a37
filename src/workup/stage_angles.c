/* Joint angles: every set of readings of every driveline. */
#include "sets.h"
#include "slice.h"
#include "slips.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>
#include <stdio.h>

struct angles_request {
    struct ht_sheet sheet;      /* driveline, angles, limits */
    const struct ht_limits *limits;
    bool readings_alone;
    double shaft_rad_s;                 /* with readings_alone */
    double speed_m_s, turns_per_m;      /* of the wheel */
    const double *turns;        /* of each driveline's shafts per wheel turn;
                                   one at least */
};

bool ht_stage_own_limits(const struct ht_sheet_limits *given,
                         struct ht_limit_set *own)
{
    *own = (struct ht_limit_set){
        .id = "sheet",
        .title = WORKUP_OWN_LIMITS,
        .source = WORKUP_OWN_SOURCE,
        .joint_max_rad = given->joint_max_rad,
        .joint_min_rad = given->joint_min_rad,
        .difference_max_rad = given->difference_max_rad,
        .axle_rad_s2 = given->axle_rad_s2,
        .shaft_rad_s2 = given->shaft_rad_s2,
        .leftover_max_rad = given->leftover_max_rad,
        .double_joint_max_rad = given->double_joint_max_rad,
        .odd_max_rad = given->odd_max_rad,
        .alone_max_rad = given->alone_max_rad,
    };
    const double figures[] = {
        own->joint_max_rad, own->joint_min_rad, own->difference_max_rad,
        own->axle_rad_s2, own->shaft_rad_s2, own->leftover_max_rad,
        own->double_joint_max_rad, own->odd_max_rad, own->alone_max_rad,
    };
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++)
        if (!isnan(figures[i]))
            return true;
    return false;
}

static size_t drivelines_of(const struct ht_sheet *sheet)
{
    return sheet->driveline_count ? sheet->driveline_count : 1;
}

static double shaft_speed_rad_s(const struct angles_request *request,
                                size_t driveline)
{
    if (request->readings_alone)
        return request->shaft_rad_s;
    return 2 * HT_PI * request->speed_m_s * request->turns_per_m *
           request->turns[driveline];
}

/* ---- the value ---------------------------------------------------------- */

static bool hash_angles(struct ht_digest *digest, const void *from)
{
    const struct angles_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    ht_digest_number(digest,
                     request->readings_alone ? request->shaft_rad_s : NAN);
    ht_digest_number(digest, request->speed_m_s);
    ht_digest_number(digest, request->turns_per_m);
    for (size_t d = 0; d < drivelines_of(&request->sheet); d++)
        ht_digest_number(digest, request->turns[d]);
    return true;
}

static enum ht_status make_line(struct ht_line_angles *line,
                                const struct angles_request *request,
                                struct ht_error *err)
{
    struct ht_driveline driveline;
    struct ht_limit_set own;
    struct ht_angles_options options = {
        .limits = request->limits,
        .limit_set = request->sheet.limits.name,
        .own = ht_stage_own_limits(&request->sheet.limits, &own) ? &own
                                                                  : NULL,
        .speed_m_s = request->speed_m_s,
        .shaft_rad_s = shaft_speed_rad_s(request, line->driveline_index),
    };
    line->shaft_turns = request->turns[line->driveline_index];
    enum ht_status status =
        ht_driveline_from_sheet(&driveline, &request->sheet,
                                line->driveline_index, line->set_index, err);
    return status == HT_OK
               ? ht_angles_compute(&line->angles, &driveline, &options, err)
               : status;
}

/* Which of several sets a refusal is about. */
static enum ht_status in_set(size_t set, struct ht_error *err)
{
    char text[sizeof err->text];
    (void)snprintf(text, sizeof text, "%s", err->text);
    return ht_fail(err, WORKUP_IN_SET, set + 1, text);
}

static enum ht_status make_angles(void *result, const void *from,
                                  struct ht_error *err)
{
    const struct angles_request *request = from;
    struct ht_sets *lines = result;
    enum ht_status status = HT_OK;
    if (!ht_sets_open(lines, &request->sheet))
        return ht_fail(err, WORKUP_NO_MEMORY, ht_stage_name(HT_STAGE_ANGLES));
    for (size_t i = 0; i < lines->count && status == HT_OK; i++) {
        status = make_line(&lines->line[i], request, err);
        if (status == HT_BAD_FILE && request->sheet.angles_count > 1)
            status = in_set(lines->line[i].set_index, err);
    }
    if (status != HT_OK)
        ht_sets_free(lines);
    return status;
}

static void clear_angles(void *result)
{
    ht_sets_free(result);
}

static size_t behind_angles(const void *result)
{
    return ((const struct ht_sets *)result)->arena.used_bytes;
}

/* ---- the stage ---------------------------------------------------------- */

static void say_speed(const struct stage *stage,
                      const struct angles_request *request)
{
    bool known = true;
    if (request->readings_alone)
        return;
    for (size_t d = 0; d < drivelines_of(&request->sheet); d++)
        known = known && !isnan(shaft_speed_rad_s(request, d));
    if (isnan(request->speed_m_s))
        ht_stage_missing(stage->workup, WORKUP_NO_SPEED_FOR_ANGLES);
    else if (!known)
        ht_stage_missing(stage->workup, WORKUP_NO_SHAFT_SPEED);
    else if (isnan(stage->sheet->vehicle.top_speed_m_s))
        ht_stage_assumed(stage->workup, WORKUP_COMPLAINT_SPEED_USED);
}

static void say_assumed_limits(const struct stage *stage)
{
    struct ht_limit_set own;
    const struct ht_sheet_limits *limits = &stage->sheet->limits;
    if (!limits->name && !ht_stage_own_limits(limits, &own))
        ht_stage_assumed(stage->workup, WORKUP_ALL_SETS_SHOWN);
}

static void show_lines(struct ht_workup *workup, const struct ht_sets *lines)
{
    workup->lines = lines->line;
    workup->line_count = lines->count;
    workup->angles = lines->line[0].angles;
    workup->has_angles = true;
}

static enum ht_status get_lines(const struct stage *stage,
                                const struct angles_request *request)
{
    static const struct stage_kind kind = { .stage = HT_STAGE_ANGLES,
                                            .uses = USES(LIMITS),
                                            .size = sizeof(struct ht_sets),
                                            .hash = hash_angles,
                                            .make = make_angles,
                                            .clear = clear_angles,
                                            .bytes_behind = behind_angles };
    const void *result;
    say_speed(stage, request);
    say_assumed_limits(stage);
    enum ht_status status = ht_stage_get(stage, &kind, request, &result);
    if (status != HT_OK)
        return status;
    show_lines(stage->workup, result);
    ht_sets_say(stage, result);
    ht_slips_say(stage, result);
    return HT_OK;
}

/* Of each driveline's shafts per wheel turn; NULL: no memory. */
static double *turns_of(const struct stage *stage)
{
    const struct ht_rotation *rotation = &stage->workup->rotation;
    const struct ht_sheet *sheet = stage->sheet;
    bool known = stage->workup->has_rotation;
    double *turns = ht_allocate(drivelines_of(sheet), sizeof *turns);
    if (!turns)
        return NULL;
    turns[0] = known ? ht_rotation_line_turns(rotation, NULL) : NAN;
    for (size_t d = 0; known && d < sheet->driveline_count; d++)
        turns[d] = ht_rotation_line_turns(rotation, &sheet->drivelines[d]);
    return turns;
}

static enum ht_status get_angles(const struct stage *stage)
{
    static const char *const read[] = { "driveline", "angles", "limits", NULL };
    struct angles_request request = {
        .limits = &stage->workup->limits,
        .readings_alone = stage->options->readings_alone,
        .shaft_rad_s = stage->options->shaft_rad_s,
        .speed_m_s = ht_stage_highest_speed(stage->sheet),
        .turns_per_m = 1 / stage->workup->rotation.circumference_m,
    };
    double *turns = turns_of(stage);
    if (!turns)
        return ht_fail(stage->err, WORKUP_NO_MEMORY,
                       ht_stage_name(HT_STAGE_ANGLES));
    request.turns = turns;
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    enum ht_status status = get_lines(stage, &request);
    ht_release(turns);
    return status;
}

/* A set that is not there is refused also where nothing is judged by it. */
static enum ht_status read_limits(const struct stage *stage)
{
    const struct ht_limit_set *named;
    const char *name = stage->sheet->limits.name;
    enum ht_status status = ht_stage_limits(stage);
    return status == HT_OK && name
               ? ht_limits_find(&named, &stage->workup->limits, name,
                                stage->err)
               : status;
}

enum ht_status ht_stage_angles(const struct stage *stage)
{
    const struct ht_sheet *sheet = stage->sheet;
    enum ht_status status = read_limits(stage);
    if (status != HT_OK)
        return status;
    for (size_t i = 0; i < sheet->angles_count; i++)
        if (ht_set_was_read(&sheet->angles[i]))
            return get_angles(stage);
    ht_stage_missing(stage->workup, WORKUP_NO_ANGLES);
    return HT_OK;
}
