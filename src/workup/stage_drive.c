/* The road test: recording, speed, orders of the sheet's first drive. */
#include "stages.h"
#include "texts.h"

#include <math.h>
#include <stdint.h>

/* The gear that the recording showed takes the place of an unknown one. */
static enum ht_status adopt_gear(const struct stage *stage)
{
    const struct ht_turns *turns = &stage->workup->turns;
    if (!turns->gear_found || turns->gear == 0)
        return HT_OK;
    return ht_stage_gear(stage, turns->gear);
}

/* ---- orders ------------------------------------------------------------ */

struct orders_request {
    const struct ht_recording *recording;
    const struct ht_rotation *rotation;
    const struct ht_turns *turns;
    double healthy_m_s2;
    struct ht_ask ask;
};

static bool hash_orders(struct ht_digest *digest, const void *from)
{
    const struct orders_request *request = from;
    ht_digest_number(digest, request->healthy_m_s2);
    return true;
}

static enum ht_status make_orders(void *result, const void *from,
                                  struct ht_error *err)
{
    const struct orders_request *request = from;
    return ht_orders_find(result, request->recording, request->rotation,
                          request->turns, request->healthy_m_s2, &request->ask,
                          err);
}

static void clear_orders(void *result)
{
    ht_orders_free(result);
}

static size_t behind_orders(const void *result)
{
    const struct ht_orders *orders = result;
    size_t cells = orders->map.across * orders->map.up;
    return orders->results * sizeof orders->result[0] +
           cells * sizeof(float) * (orders->map.whole ? 2 : 1);
}

static enum ht_status get_orders(const struct stage *stage,
                                 const struct ht_sheet_drive *drive)
{
    static const struct stage_kind kind = {
        .stage = HT_STAGE_ORDERS,
        .uses = USES(PARTS) | USES(PLACE) | USES(SPEED) | USES(GEAR),
        .size = sizeof(struct ht_orders),
        .hash = hash_orders,
        .make = make_orders,
        .clear = clear_orders,
        .bytes_behind = behind_orders,
    };
    struct ht_workup *workup = stage->workup;
    struct orders_request request = { &workup->recording, &workup->rotation,
                                      &workup->turns, NAN,
                                      { ht_stage_still_wanted,
                                        (void *)stage } };
    bool calibrated = workup->recording.channels > 0 &&
                      workup->recording.channel[0].unit == HT_UNIT_M_S2;
    double edge;
    const void *result;
    request.healthy_m_s2 = ht_healthy_m_s2(drive->place, calibrated, &edge);
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        workup->orders = *(const struct ht_orders *)result;
    workup->has_orders = status == HT_OK;
    return status;
}

/* Says only what is begun: nothing more after a step that failed. Shares as
 * measured on half an hour of three axes; stage_recording.c says its own. */
static enum ht_status work_drive(const struct stage *stage,
                                 const struct ht_sheet_drive *drive)
{
    enum ht_status status = ht_stage_recording(stage, drive);
    if (status != HT_OK)
        return status;
    status = ht_stage_progress(stage, "speed", RECORDING_UNTIL);
    if (status == HT_OK)
        status = ht_stage_speed(stage, drive);
    if (status == HT_OK)
        status = ht_stage_place(stage, drive);
    if (status != HT_OK || !stage->workup->has_turns)
        return status;
    status = adopt_gear(stage);
    if (status != HT_OK)
        return status;
    status = ht_stage_progress(stage, "orders", 0.7);
    return status == HT_OK ? get_orders(stage, drive) : status;
}

enum ht_status ht_stage_drive(const struct stage *stage)
{
    struct ht_workup *workup = stage->workup;
    if (!stage->options->drive)
        return HT_OK;
    if (stage->sheet->drive_count == 0 || !stage->sheet->drives[0].recording) {
        ht_stage_missing(workup, WORKUP_NO_DRIVE);
        return HT_OK;
    }
    return work_drive(stage, &stage->sheet->drives[0]);
}
