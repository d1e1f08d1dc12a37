/* phone_units.c - from the table's numbers to m/s2, gravity taken out. */
#include "phone_work.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "common/statistics.h"
#include "notes.h"
#include "still.h"
#include "texts.h"

#include <math.h>
#include <string.h>

enum ht_status ht_phone_no_memory(struct phone *phone)
{
    return ht_fail(phone->err, RECORDING_NO_MEMORY, phone->path);
}

/* Middle length of the acceleration vector, of at most 20 000 samples. */
static bool median_norm(const struct ht_recording *recording, double *middle)
{
    size_t step = recording->frames / 20000 + 1, count = 0;
    double *norm = ht_allocate(recording->frames / step + 1, sizeof *norm);
    if (!norm)
        return false;
    for (size_t i = 0; i < recording->frames; i += step) {
        double square = 0;
        for (size_t c = 0; c < recording->channels; c++)
            square += (double)recording->channel[c].samples[i] *
                      (double)recording->channel[c].samples[i];
        norm[count++] = sqrt(square);
    }
    *middle = ht_median(norm, count);
    ht_release(norm);
    return true;
}

/* Gravity tells g from m/s2: 0.9 to 1.1 or 8.8 to 10.8. */
static enum ht_unit unit_by_gravity(struct phone *phone, double norm)
{
    if (norm > 0.9 && norm < 1.1) {
        ht_recording_note(phone->recording, RECORDING_TAKEN_IN_G, norm);
        return HT_UNIT_G;
    }
    if (norm > 8.8 && norm < 10.8)
        ht_recording_note(phone->recording, RECORDING_TAKEN_IN_M_S2, norm);
    else
        ht_recording_note(phone->recording, RECORDING_NO_GRAVITY);
    return HT_UNIT_M_S2;
}

static const struct ht_sheet_channel *
named_channel(const struct ht_recording_options *options, const char *name)
{
    for (size_t i = 0; i < options->channels; i++)
        if (options->channel[i].name &&
            strcmp(options->channel[i].name, name) == 0)
            return &options->channel[i];
    return NULL;
}

static double scale_of(struct phone *phone, size_t a, enum ht_unit whole)
{
    struct ht_channel *channel = &phone->recording->channel[a];
    const struct ht_sheet_channel *named =
        named_channel(phone->options, channel->name);
    enum ht_unit unit = phone->options->unit;
    double scale = 1;
    if (named && named->unit)
        unit = named->unit;
    if (unit == HT_UNIT_UNKNOWN)
        unit = phone->columns.unit[a] ? phone->columns.unit[a] : whole;
    if (named && !isnan(named->scale))
        scale = named->scale;
    if (named && named->axis)
        channel->axis = named->axis;
    if (named && named->place)
        channel->place = named->place;
    channel->unit = HT_UNIT_M_S2;
    return unit == HT_UNIT_G ? scale * HT_M_S2_PER_G : scale;
}

/* The axis that carries gravity points up (a resting accelerometer reads +1 g
 * on the axis that points up). */
static void name_vertical(struct ht_recording *recording)
{
    const double enough = 0.9 * HT_M_S2_PER_G;
    for (size_t c = 0; c < recording->channels; c++) {
        struct ht_channel *channel = &recording->channel[c];
        if (channel->axis != HT_AXIS_UNKNOWN || fabs(channel->mean) < enough)
            continue;
        channel->axis = channel->mean > 0 ? HT_AXIS_UP : HT_AXIS_DOWN;
        ht_recording_note(recording,
                          channel->mean > 0 ? RECORDING_POINTS_UP
                                            : RECORDING_POINTS_DOWN,
                          channel->name);
    }
}

/* A number that differs from the first one in its column. */
static bool lives(const struct phone *phone, size_t column)
{
    double first = NAN;
    for (size_t r = 0; r < phone->rows; r++) {
        double value = ht_phone_cell(phone, r, column);
        if (isnan(first))
            first = value;
        else if (!isnan(value) && value != first)
            return true;
    }
    return false;
}

/* Axes that stand still are left out, after their gravity told the unit. */
static enum ht_status drop_still(struct phone *phone)
{
    bool lively[HT_AXES_MAX] = { false }, any = false;
    for (size_t a = 0; a < phone->columns.axes; a++) {
        lively[a] = lives(phone, phone->columns.axis_column[a]);
        any = any || lively[a];
    }
    if (!any)
        return ht_fail(phone->err, RECORDING_ALL_THE_SAME, phone->path);
    ht_recording_drop_still(phone->recording, lively);
    return HT_OK;
}

/* The axes of a recording and the scale of each. */
struct scaling {
    struct ht_recording *recording;
    double scale[HT_AXES_MAX];
};

static void settle_axis(void *context, size_t axis)
{
    const struct scaling *scaling = context;
    const size_t frames = scaling->recording->frames;
    struct ht_channel *channel = &scaling->recording->channel[axis];
    double scale = scaling->scale[axis];
    float *samples = channel->samples;
    double mean = ht_gaps_mean(scaling->recording, samples);
    for (size_t i = 0; i < frames; i++)
        samples[i] = (float)(((double)samples[i] - mean) * scale);
    channel->mean = mean * scale;
}

enum ht_status ht_phone_finish(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    bool known = phone->options->unit != HT_UNIT_UNKNOWN;
    for (size_t a = 0; a < recording->channels; a++)
        known = known || phone->columns.unit[a];
    double norm = 0;
    if (!known && !median_norm(recording, &norm))
        return ht_phone_no_memory(phone);
    enum ht_unit whole = known ? HT_UNIT_M_S2 : unit_by_gravity(phone, norm);
    struct scaling scaling = { .recording = recording };
    for (size_t a = 0; a < recording->channels; a++)
        scaling.scale[a] = scale_of(phone, a, whole);
    ht_parallel(recording->channels, settle_axis, &scaling);
    if (drop_still(phone) != HT_OK)
        return HT_BAD_FILE;
    name_vertical(recording);
    if (!ht_recording_make_slow(recording))
        return ht_phone_no_memory(phone);
    for (size_t a = 0; a < recording->channels; a++)
        ht_gaps_empty(recording, recording->channel[a].samples);
    return HT_OK;
}
