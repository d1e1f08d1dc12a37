/* The recording of a drive, decoded; then with the place of its sensor. */
#include "slice.h"
#include "stages.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <stdint.h>

/* The band to keep: the highest named order at the highest speed of the
 * sheet + 20 %, or at 160 km/h, up to the next of three steps. The steps are
 * coarse so that another tyre does not decode again; they lie apart from
 * where axle meshes crowd (common practice, no source). What follows the gear
 * is left out, so that another gear does not either: eight cylinders fire at
 * 400 Hz at 6000 turns a minute. */
static double wanted_band_hz(const struct stage *stage)
{
    static const double steps_hz[] = { 400, 900, 1800 };
    const struct ht_rotation *rotation = &stage->workup->rotation;
    double speed = 1.2 * ht_stage_highest_speed(stage->sheet);
    double highest = 0;
    size_t step = 0;
    if (isnan(speed))
        speed = 160 * HT_M_S_PER_KM_H;
    for (size_t i = 0; i < rotation->orders; i++) {
        const struct ht_order *order = &rotation->order[i];
        double hz = ht_order_hz(rotation, order, speed);
        if (!rotation->part[order->part].follows_gear && hz > highest)
            highest = hz;
    }
    while (step + 1 < sizeof steps_hz / sizeof steps_hz[0] &&
           highest > steps_hz[step])
        step++;
    return steps_hz[step];
}

const struct ht_schema *ht_stage_drive_schema(void)
{
    return ht_slice_child(ht_sheet_schema(), "drive");
}

/* ---- recording --------------------------------------------------------- */

struct recording_request {
    struct ht_sheet_drive drive; /* unit, channels */
    double band_hz;
    struct stage_file file;
    const struct stage *stage;  /* told of the progress; changes nothing */
};

static bool go_on(void *context, double share)
{
    const struct recording_request *request = context;
    double all = RECORDING_FROM +
                 share * (RECORDING_UNTIL - RECORDING_FROM);
    return ht_stage_progress(request->stage, "recording",
                             isfinite(all) ? all : RECORDING_FROM) ==
           HT_OK;
}

static bool hash_recording(struct ht_digest *digest, const void *from)
{
    const struct recording_request *request = from;
    ht_slice_hash(digest, &request->drive, ht_stage_drive_schema());
    ht_digest_number(digest, request->band_hz);
    return ht_stage_file_hash(digest, &request->file);
}

static void clear_recording(void *result)
{
    ht_recording_free(result);
}

static enum ht_status make_recording(void *result, const void *from,
                                     struct ht_error *err)
{
    const struct recording_request *request = from;
    struct ht_recording_options options = {
        .highest_hz = request->band_hz,
        .unit = request->drive.unit,
        .channel = request->drive.channels,
        .channels = request->drive.channel_count,
        .go_on = go_on,
        .context = (void *)request, /* only read */
    };
    enum ht_status status =
        ht_recording_read(result, request->file.path, &options, err);
    if (status != HT_OK)
        return status;
    status = ht_stage_file_same(&request->file, err);
    if (status != HT_OK)
        clear_recording(result);
    return status;
}

static size_t behind_recording(const void *result)
{
    const struct ht_recording *recording = result;
    size_t bytes = recording->gaps * sizeof recording->gap[0];
    for (size_t c = 0; c < recording->channels; c++) {
        const struct ht_channel *channel = &recording->channel[c];
        bytes += sizeof *channel +
                 sizeof(float) *
                     (recording->frames +
                      (channel->slow ? recording->slow_frames : 0));
    }
    return bytes;
}

enum ht_status ht_stage_recording(const struct stage *stage,
                                  const struct ht_sheet_drive *drive)
{
    static const char *const read[] = { "unit", "channels", NULL };
    static const struct stage_kind kind = {
        .stage = HT_STAGE_RECORDING,
        .size = sizeof(struct ht_recording),
        .hash = hash_recording,
        .make = make_recording,
        .clear = clear_recording,
        .bytes_behind = behind_recording,
    };
    struct recording_request request = { .band_hz = wanted_band_hz(stage),
                                         .stage = stage };
    const void *result;
    ht_slice(&request.drive, drive, ht_stage_drive_schema(), read);
    enum ht_status status =
        ht_stage_file_open(&request.file, stage, drive->recording);
    if (status == HT_OK)
        status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        stage->workup->recording = *(const struct ht_recording *)result;
    ht_stage_file_close(&request.file);
    return status;
}

/* ---- place ------------------------------------------------------------- */

/* Where the sensor sat decides how its levels are judged, not how the file
 * is decoded. */
struct place_request {
    const struct ht_recording *recording;
    enum ht_place place;
};

static bool hash_place(struct ht_digest *digest, const void *from)
{
    const struct place_request *request = from;
    ht_digest_count(digest, request->place);
    return true;
}

static void clear_place(void *result)
{
    ht_release(((struct ht_recording *)result)->channel);
}

static enum ht_status make_place(void *result, const void *from,
                                 struct ht_error *err)
{
    const struct place_request *request = from;
    struct ht_recording *placed = result;
    size_t channels = request->recording->channels;
    struct ht_channel *channel = ht_allocate(channels, sizeof *channel);
    if (!channel)
        return ht_fail(err, WORKUP_NO_MEMORY,
                       ht_stage_name(HT_STAGE_PLACE));
    *placed = *request->recording;
    placed->channel = channel;
    for (size_t c = 0; c < channels; c++) {
        channel[c] = request->recording->channel[c];
        if (channel[c].place == HT_PLACE_UNKNOWN)
            channel[c].place = request->place;
    }
    return HT_OK;
}

static size_t behind_place(const void *result)
{
    const struct ht_recording *recording = result;
    return recording->channels * sizeof recording->channel[0];
}

enum ht_status ht_stage_place(const struct stage *stage,
                              const struct ht_sheet_drive *drive)
{
    static const struct stage_kind kind = {
        .stage = HT_STAGE_PLACE,
        .uses = USES(RECORDING),
        .size = sizeof(struct ht_recording),
        .hash = hash_place,
        .make = make_place,
        .clear = clear_place,
        .bytes_behind = behind_place,
        .leans = USES(RECORDING), /* on its samples */
    };
    struct place_request request = { &stage->workup->recording, drive->place };
    const void *result;
    enum ht_status status = ht_stage_get(stage, &kind, &request, &result);
    if (status == HT_OK)
        stage->workup->recording = *(const struct ht_recording *)result;
    stage->workup->has_recording = status == HT_OK;
    return status;
}
