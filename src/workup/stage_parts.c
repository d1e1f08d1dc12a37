/* Turning parts, and the limits that angles are judged by. */
#include "slice.h"
#include "stages.h"

static unsigned gear_of(const struct ht_sheet *sheet)
{
    if (sheet->drive_count == 0 || !(sheet->drives[0].gear >= 1))
        return 0;
    return (unsigned)sheet->drives[0].gear;
}

/* ---- parts ------------------------------------------------------------- */

struct parts_request {
    struct ht_sheet sheet;      /* vehicle */
    unsigned gear;
};

static bool hash_parts(struct ht_digest *digest, const void *from)
{
    const struct parts_request *request = from;
    ht_slice_hash(digest, &request->sheet, ht_sheet_schema());
    ht_digest_count(digest, request->gear);
    return true;
}

static enum ht_status make_parts(void *result, const void *from,
                                 struct ht_error *err)
{
    const struct parts_request *request = from;
    return ht_rotation_from_vehicle(result, &request->sheet.vehicle,
                                    request->gear, err);
}

static enum ht_status get_parts(const struct stage *stage, enum ht_stage which,
                                unsigned gear)
{
    static const char *const read[] = { "vehicle", NULL };
    const struct stage_kind kind = { .stage = which,
                                     .size = sizeof(struct ht_rotation),
                                     .hash = hash_parts,
                                     .make = make_parts };
    struct parts_request request = { .gear = gear };
    const void *result;
    ht_slice(&request.sheet, stage->sheet, ht_sheet_schema(), read);
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        stage->workup->rotation = *(const struct ht_rotation *)result;
    return status;
}

enum ht_status ht_stage_rotation(const struct stage *stage)
{
    if (stage->options->readings_alone)
        return HT_OK;
    enum ht_status status =
        get_parts(stage, HT_STAGE_PARTS, gear_of(stage->sheet));
    stage->workup->has_rotation = status == HT_OK;
    return status;
}

enum ht_status ht_stage_gear(const struct stage *stage, unsigned gear)
{
    return get_parts(stage, HT_STAGE_GEAR, gear);
}

/* ---- limits ------------------------------------------------------------ */

static bool hash_file(struct ht_digest *digest, const void *file)
{
    return ht_stage_file_hash(digest, file);
}

static enum ht_status make_limits(void *result, const void *from,
                                  struct ht_error *err)
{
    const struct stage_file *file = from;
    enum ht_status status = ht_limits_read(result, file->path, err);
    return status == HT_OK ? ht_stage_file_same(file, err) : status;
}

enum ht_status ht_stage_limits(const struct stage *stage)
{
    static const struct stage_kind kind = { .stage = HT_STAGE_LIMITS,
                                            .size = sizeof(struct ht_limits),
                                            .hash = hash_file,
                                            .make = make_limits };
    struct stage_file file;
    const void *result;
    enum ht_status status =
        ht_stage_file_option(&file, stage, stage->options->limits_path);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &file, &result);
    if (status == HT_OK)
        stage->workup->limits = *(const struct ht_limits *)result;
    ht_stage_file_close(&file);
    return status;
}

