#include "drive_bridge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define SLOW_HZ 5.0

static void fill_vehicle(struct drive_bridge *bridge)
{
    struct drive_vehicle *from = &bridge->drive->vehicle;
    struct ht_sheet_vehicle *to = &bridge->sheet.vehicle;
    ht_sheet_clear(&bridge->sheet);
    to->class = HT_CLASS_CAR;
    to->tyre = from->tyre;
    to->drive = HT_DRIVE_REAR;
    to->gearbox = HT_GEARBOX_MANUAL;
    to->axle_ratio = from->axle_ratio;
    to->gear_ratios = (struct ht_numbers){ from->gear_ratio, from->gears };
    to->engine_cylinders = from->cylinders;
    to->engine_strokes = 4;
    to->top_speed_m_s = 150 / 3.6;
}

/* Means of 1 / SLOW_HZ s. */
static float *slowed(const struct drive *drive, int axis, size_t *count)
{
    size_t each = (size_t)(drive->rate_hz / SLOW_HZ);
    *count = drive->frames / each;
    float *slow = calloc(*count + 1, sizeof *slow);
    for (size_t i = 0; slow && i < *count; i++) {
        double sum = 0;
        for (size_t k = 0; k < each; k++)
            sum += (double)drive->samples[axis][i * each + k];
        slow[i] = (float)(sum / (double)each);
    }
    return slow;
}

static bool fill_channel(struct drive_bridge *bridge, int axis)
{
    static const enum ht_axis axes[] = { HT_AXIS_FORWARD, HT_AXIS_LEFT,
                                         HT_AXIS_UP };
    const struct drive *drive = bridge->drive;
    struct ht_channel *channel = &bridge->channel[axis];
    channel->unit = HT_UNIT_M_S2;
    channel->axis = axes[axis];
    channel->place = HT_PLACE_SEAT_RAIL;
    snprintf(channel->name, sizeof channel->name, "%c", "xyz"[axis]);
    channel->slow = slowed(drive, axis, &bridge->recording.slow_frames);
    channel->samples = calloc(drive->frames, sizeof(float));
    if (!channel->slow || !channel->samples)
        return false;
    for (size_t i = 0; i < drive->frames; i++)
        channel->mean += (double)drive->samples[axis][i];
    channel->mean /= (double)drive->frames;
    for (size_t i = 0; i < drive->frames; i++)
        channel->samples[i] =
            (float)((double)drive->samples[axis][i] - channel->mean);
    return true;
}

struct drive_bridge *drive_bridge_make(const struct drive_request *request)
{
    struct drive_bridge *bridge = calloc(1, sizeof *bridge);
    if (!bridge)
        return NULL;
    bridge->drive = drive_make(request);
    bool fine = bridge->drive != NULL;
    if (fine) {
        const struct drive *drive = bridge->drive;
        fill_vehicle(bridge);
        fine = ht_rotation_from_vehicle(
                   &bridge->rotation, &bridge->sheet.vehicle,
                   request->shifts ? 0 : drive->vehicle.gear, NULL) == HT_OK;
        bridge->recording =
            (struct ht_recording){ .rate_hz = drive->rate_hz,
                                   .file_rate_hz = drive->rate_hz,
                                   .band_hz = 0.45 * drive->rate_hz,
                                   .slow_rate_hz = SLOW_HZ,
                                   .frames = drive->frames,
                                   .channels = DRIVE_AXES,
                                   .channel = bridge->channel };
        bridge->log.time_s = drive->log_time_s;
        bridge->log.speed_m_s = drive->log_speed_m_s;
        bridge->log.rows = drive->log_rows;
    }
    for (int axis = 0; axis < DRIVE_AXES; axis++)
        fine = fine && fill_channel(bridge, axis);
    if (fine)
        return bridge;
    drive_bridge_free(bridge);
    return NULL;
}

void drive_bridge_free(struct drive_bridge *bridge)
{
    if (!bridge)
        return;
    for (int axis = 0; axis < DRIVE_AXES; axis++) {
        free(bridge->channel[axis].samples);
        free(bridge->channel[axis].slow);
    }
    drive_free(bridge->drive);
    free(bridge);
}
