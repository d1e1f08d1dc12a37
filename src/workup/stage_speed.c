/* The speed log of a drive, and the turn history. */
#include "slice.h"
#include "stages.h"

#include <stdint.h>

/* ---- speed log --------------------------------------------------------- */

struct log_request {
    struct ht_sheet_speed how;  /* column, unit, clock */
    struct stage_file file;
};

static const struct ht_schema *speed_schema(void)
{
    return ht_slice_child(ht_stage_drive_schema(), "speed");
}

static bool hash_log(struct ht_digest *digest, const void *from)
{
    const struct log_request *request = from;
    ht_slice_hash(digest, &request->how, speed_schema());
    return ht_stage_file_hash(digest, &request->file);
}

static void clear_log(void *result)
{
    ht_speed_log_free(result);
}

static enum ht_status make_log(void *result, const void *from,
                               struct ht_error *err)
{
    const struct log_request *request = from;
    enum ht_status status =
        ht_speed_log_read(result, request->file.path, &request->how, err);
    if (status != HT_OK)
        return status;
    status = ht_stage_file_same(&request->file, err);
    if (status != HT_OK)
        clear_log(result);
    return status;
}

static size_t behind_log(const void *result)
{
    return ((const struct ht_speed_log *)result)->rows * 2 * sizeof(double);
}

/* *log stays NULL without one. */
static enum ht_status get_log(const struct stage *stage,
                              const struct ht_sheet_speed *speed,
                              const struct ht_speed_log **log)
{
    static const char *const read[] = { "column", "unit", "clock", NULL };
    static const struct stage_kind kind = {
        .stage = HT_STAGE_SPEED_LOG,
        .size = sizeof(struct ht_speed_log),
        .hash = hash_log,
        .make = make_log,
        .clear = clear_log,
        .bytes_behind = behind_log,
    };
    struct log_request request;
    const void *result;
    *log = NULL;
    if (!speed->file)
        return HT_OK;
    ht_slice(&request.how, speed, speed_schema(), read);
    enum ht_status status =
        ht_stage_file_open(&request.file, stage, speed->file);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        *log = result;
    ht_stage_file_close(&request.file);
    return status;
}

/* ---- speed ------------------------------------------------------------- */

static bool hash_speed(struct ht_digest *digest, const void *from)
{
    const struct ht_speed_request *request = from;
    ht_digest_number(digest, request->steady_m_s);
    ht_digest_number(digest, request->top_m_s);
    return true;
}

static enum ht_status make_speed(void *result, const void *request,
                                 struct ht_error *err)
{
    return ht_turns_find(result, request, err);
}

static void clear_speed(void *result)
{
    ht_turns_free(result);
}

static size_t behind_speed(const void *result)
{
    return ((const struct ht_turns *)result)->points *
           (3 * sizeof(double) + 1);
}

enum ht_status ht_stage_speed(const struct stage *stage,
                              const struct ht_sheet_drive *drive)
{
    static const struct stage_kind kind = {
        .stage = HT_STAGE_SPEED,
        .uses = USES(PARTS) | USES(RECORDING) | USES(SPEED_LOG),
        .size = sizeof(struct ht_turns),
        .hash = hash_speed,
        .make = make_speed,
        .clear = clear_speed,
        .bytes_behind = behind_speed,
    };
    struct ht_workup *workup = stage->workup;
    struct ht_speed_request request = { .ask = { ht_stage_still_wanted,
                                                 (void *)stage },
                                        .recording = &workup->recording,
                                        .rotation = &workup->rotation,
                                        .steady_m_s =
                                            drive->speed.steady_m_s,
                                        .top_m_s = stage->sheet->vehicle
                                                       .top_speed_m_s };
    const void *result;
    enum ht_status status = get_log(stage, &drive->speed, &request.log);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &request, &result);
    if (status != HT_OK)
        return status;
    workup->turns = *(const struct ht_turns *)result;
    workup->has_turns = workup->turns.state != HT_SPEED_REFUSED;
    if (!workup->has_turns)
        ht_stage_missing(workup, "%s", workup->turns.reason);
    return HT_OK;
}
