/* The road test: recording, speed, orders of the sheet's first drive. */
#include "stages.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

/* A path in the sheet's folder; NULL: out of memory. */
static char *path_beside(const char *folder, const char *name)
{
    if (!folder || name[0] == '/')
        return ht_copy_text(name, strlen(name));
    size_t head = strlen(folder), tail = strlen(name);
    char *path = ht_allocate(head + tail + 2, 1);
    if (!path)
        return NULL;
    memcpy(path, folder, head);
    path[head] = '/';
    memcpy(path + head + 1, name, tail + 1);
    return path;
}

/* The band to keep: the highest named order at the highest speed of the
 * sheet + 20 %, or at 160 km/h; between 200 Hz and 1800 Hz. */
static double wanted_band_hz(const struct stage *stage)
{
    const struct ht_rotation *rotation = &stage->workup->rotation;
    double speed = 1.2 * ht_stage_highest_speed(stage->sheet);
    double highest = 0;
    if (isnan(speed))
        speed = 160 * HT_M_S_PER_KM_H;
    for (size_t i = 0; i < rotation->orders; i++) {
        double hz = ht_order_hz(rotation, &rotation->order[i], speed);
        if (hz > highest)
            highest = hz;
    }
    return fmin(fmax(highest, 200), 1800);
}

static enum ht_status read_recording(const struct stage *stage,
                                     const struct ht_sheet_drive *drive)
{
    struct ht_recording_options options = {
        .highest_hz = wanted_band_hz(stage),
        .unit = drive->unit,
        .channel = drive->channels,
        .channels = drive->channel_count,
        .place = drive->place,
    };
    char *path = path_beside(stage->options->folder, drive->recording);
    if (!path)
        return ht_fail(stage->err, HT_NO_MEMORY, "%s: out of memory",
                       drive->recording);
    enum ht_status status = ht_recording_read(&stage->workup->recording, path,
                                              &options, stage->err);
    stage->workup->has_recording = status == HT_OK;
    ht_release(path);
    return status;
}

static enum ht_status read_log(const struct stage *stage,
                               const struct ht_sheet_speed *speed,
                               struct ht_speed_log *log)
{
    char *path = path_beside(stage->options->folder, speed->file);
    if (!path)
        return ht_fail(stage->err, HT_NO_MEMORY, "%s: out of memory",
                       speed->file);
    enum ht_status status = ht_speed_log_read(log, path, speed, stage->err);
    ht_release(path);
    return status;
}

static enum ht_status find_turns(const struct stage *stage,
                                 const struct ht_sheet_drive *drive)
{
    struct ht_workup *workup = stage->workup;
    struct ht_speed_log log = { 0 };
    enum ht_status status = HT_OK;
    if (drive->speed.file)
        status = read_log(stage, &drive->speed, &log);
    if (status != HT_OK)
        return status;
    struct ht_speed_request request = {
        .recording = &workup->recording,
        .rotation = &workup->rotation,
        .log = drive->speed.file ? &log : NULL,
        .steady_m_s = drive->speed.steady_m_s,
    };
    status = ht_turns_find(&workup->turns, &request, stage->err);
    ht_speed_log_free(&log);
    if (status != HT_OK)
        return status;
    workup->has_turns = workup->turns.state != HT_SPEED_REFUSED;
    if (!workup->has_turns)
        ht_stage_missing(workup, "%s", workup->turns.reason);
    return HT_OK;
}

/* The gear that the recording showed takes the place of an unknown one. */
static enum ht_status adopt_gear(const struct stage *stage)
{
    struct ht_workup *workup = stage->workup;
    if (!workup->turns.gear_found || workup->turns.gear == 0)
        return HT_OK;
    return ht_rotation_from_vehicle(&workup->rotation, &stage->sheet->vehicle,
                                    workup->turns.gear, stage->err);
}

static enum ht_status find_orders(const struct stage *stage,
                                  const struct ht_sheet_drive *drive)
{
    struct ht_workup *workup = stage->workup;
    const struct ht_recording *recording = &workup->recording;
    bool calibrated = recording->channels > 0 &&
                      recording->channel[0].unit == HT_UNIT_M_S2;
    double edge;
    double healthy = ht_healthy_m_s2(drive->place, calibrated, &edge);
    enum ht_status status =
        ht_orders_find(&workup->orders, recording, &workup->rotation,
                       &workup->turns, healthy, stage->err);
    workup->has_orders = status == HT_OK;
    return status;
}

enum ht_status ht_stage_drive(const struct stage *stage)
{
    struct ht_workup *workup = stage->workup;
    if (!stage->options->drive)
        return HT_OK;
    if (stage->sheet->drive_count == 0 || !stage->sheet->drives[0].recording) {
        ht_stage_missing(workup, "No drive was recorded.");
        return HT_OK;
    }
    const struct ht_sheet_drive *drive = &stage->sheet->drives[0];
    enum ht_status status = read_recording(stage, drive);
    if (status == HT_OK)
        status = find_turns(stage, drive);
    if (status == HT_OK && workup->has_turns)
        status = adopt_gear(stage);
    if (status == HT_OK && workup->has_turns)
        status = find_orders(stage, drive);
    return status;
}
