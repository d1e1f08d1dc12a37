#include "collect.h"

#include "common/constants.h"
#include "common/memory.h"
#include "notes.h"
#include "texts.h"
#include "signal/dot.h"
#include "signal/lanes.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double DEFAULT_HIGHEST_HZ = 500;
static const double LEAST_RATE_HZ = 1000;   /* slower files are kept as is */
static const double PASS_SHARE = 0.8;       /* of the Nyquist rate */
static const float FULL_SCALE = 0.9999F;    /* 16 bit ends at 32767/32768 */
static const float VALUE_MAX = HT_SENSOR_VALUE_MAX;
static const double COPY_CORRELATION = 0.999;
/* Encoders pad and trim by some frames of theirs, a tenth of a second. */
static const double SHORT_S = 0.5;

static enum ht_status no_memory(const struct collector *collector,
                                struct ht_error *err)
{
    return ht_fail(err, RECORDING_NO_MEMORY, collector->path);
}

static enum ht_status check_channels(const struct collector *collector,
                                     const struct sound_format *format,
                                     struct ht_error *err)
{
    size_t named = collector->options->channels;
    if (named == 0 || named == format->channels)
        return HT_OK;
    if (named < format->channels)
        return ht_fail(err, RECORDING_MORE_CHANNELS, collector->path,
                       format->channels, named);
    return format->channels == 1
               ? ht_fail(err, RECORDING_ONE_CHANNEL, collector->path, named)
               : ht_fail(err, RECORDING_FEWER_CHANNELS, collector->path,
                         format->channels, named);
}

/* The unit it is kept in; *scale from the file's. A scale in the sheet says
 * m/s2 for each file unit. */
static enum ht_unit choose_unit(double *scale,
                                const struct ht_sheet_channel *named,
                                enum ht_unit usual)
{
    bool scaled = named && !isnan(named->scale);
    enum ht_unit unit = named && named->unit ? named->unit : usual;
    *scale = scaled ? named->scale : 1;
    if (unit == HT_UNIT_UNKNOWN)
        return scaled ? HT_UNIT_M_S2 : HT_UNIT_FULL_SCALE;
    if (unit != HT_UNIT_G)
        return unit;
    *scale *= HT_M_S2_PER_G;
    return HT_UNIT_M_S2;
}

static void describe_channel(struct collector *collector, size_t c)
{
    const struct ht_recording_options *options = collector->options;
    struct ht_channel *channel = &collector->recording->channel[c];
    const struct ht_sheet_channel *named =
        c < options->channels ? &options->channel[c] : NULL;
    channel->unit = choose_unit(&collector->scale[c], named, options->unit);
    channel->axis = named ? named->axis : HT_AXIS_UNKNOWN;
    channel->place = named && named->place ? named->place : options->place;
    if (named && named->name)
        (void)snprintf(channel->name, sizeof channel->name, "%s",
                       named->name);
    else
        (void)snprintf(channel->name, sizeof channel->name, RECORDING_CHANNEL,
                       c + 1);
}

static size_t choose_factor(const struct collector *collector, double rate_hz)
{
    double highest = collector->options->highest_hz;
    if (isnan(highest))
        highest = DEFAULT_HIGHEST_HZ;
    double wanted = fmax(2 * highest / PASS_SHARE, LEAST_RATE_HZ);
    return (size_t)fmax(1, floor(rate_hz / wanted));
}

enum ht_status ht_collect_begin(void *context,
                                const struct sound_format *format,
                                struct ht_error *err)
{
    struct collector *collector = context;
    struct ht_recording *recording = collector->recording;
    enum ht_status status = check_channels(collector, format, err);
    if (status != HT_OK)
        return status;
    if (format->frames > 0)
        collector->promise.length_s =
            (double)format->frames / format->rate_hz;
    size_t factor = choose_factor(collector, format->rate_hz);
    memcpy(recording->format, format->name, sizeof recording->format);
    recording->file_rate_hz = format->rate_hz;
    recording->rate_hz = format->rate_hz / (double)factor;
    recording->band_hz =
        recording->rate_hz / 2 * (factor > 1 ? PASS_SHARE : 1);
    recording->channel =
        ht_allocate(format->channels, sizeof *recording->channel);
    if (!recording->channel)
        return no_memory(collector, err);
    recording->channels = format->channels;
    collector->still = ht_still_begin(format->channels, format->rate_hz);
    for (size_t c = 0; c < format->channels; c++) {
        describe_channel(collector, c);
        collector->decimator[c] = ht_decimator_create(factor, PASS_SHARE);
        if (!collector->decimator[c])
            return no_memory(collector, err);
    }
    return HT_OK;
}

/* Whether every value is a number below full scale: nearly every block. */
HT_WIDE
static bool is_ordinary(const float *values, size_t n)
{
    ht_lanes_i all = { -1, -1, -1, -1, -1, -1, -1, -1 };
    bool rest = true;
    size_t i = 0;
    for (; i + HT_LANES <= n; i += HT_LANES) {
        ht_lanes_f v;
        HT_LANES_LOAD(v, values + i);
        all &= (v < FULL_SCALE) & (v > -FULL_SCALE);
    }
    for (; i < n; i++)
        rest = rest && fabsf(values[i]) < FULL_SCALE;
    for (size_t j = 0; j < HT_LANES; j++)
        rest = rest && all[j];
    return rest;
}

/* Counts full scale, refuses what is no number or none of a sensor. */
static enum ht_status look_at_channel(struct collector *collector, size_t c,
                                      const float *frames, size_t count,
                                      struct ht_error *err)
{
    struct ht_recording *recording = collector->recording;
    size_t channels = recording->channels, clipped = 0;
    for (size_t i = 0; i < count; i++) {
        float value = frames[i * channels + c];
        if (!isfinite(value))
            return ht_fail(err, RECORDING_NOT_FINITE, collector->path, c + 1,
                           (double)(collector->frames + i) /
                               recording->file_rate_hz);
        if (fabsf(value) > VALUE_MAX)
            return ht_fail(err, RECORDING_SAMPLE_TOO_LARGE, collector->path,
                           c + 1, (double)value,
                           (double)(collector->frames + i) /
                               recording->file_rate_hz);
        clipped += fabsf(value) >= FULL_SCALE;
    }
    recording->channel[c].clipped += clipped;
    return HT_OK;
}

/* Whether a channel ever moves: most do within the first samples. */
static void look_for_life(struct collector *collector, const float *frames,
                          size_t count)
{
    size_t channels = collector->recording->channels;
    for (size_t c = 0; c < channels; c++) {
        if (collector->frames == 0)
            collector->first[c] = frames[c];
        for (size_t i = 0; i < count && !collector->lives[c]; i++)
            collector->lives[c] =
                frames[i * channels + c] != collector->first[c];
    }
}

/* One channel out of the interleaved block, scaled. */
static void take_channel(const float *from, size_t channels, size_t count,
                         float scale, float *to)
{
    size_t i = 0;
    for (; i + 4 <= count; i += 4, from += 4 * channels) {
        to[i] = from[0] * scale;
        to[i + 1] = from[channels] * scale;
        to[i + 2] = from[2 * channels] * scale;
        to[i + 3] = from[3 * channels] * scale;
    }
    for (; i < count; i++, from += channels)
        to[i] = *from * scale;
}

static bool goes_on(const struct collector *collector)
{
    const struct ht_recording_options *options = collector->options;
    double all = collector->promise.length_s *
                 collector->recording->file_rate_hz;
    return !options->go_on ||
           options->go_on(options->context,
                          all > 0 ? (double)collector->frames / all
                                  : (double)NAN);
}

enum ht_status ht_collect_block(void *context, const float *frames,
                                size_t count, struct ht_error *err)
{
    struct collector *collector = context;
    struct ht_recording *recording = collector->recording;
    if (!goes_on(collector))
        return ht_fail(err, RECORDING_STOPPED, collector->path);
    if (!ht_grow((void **)&collector->one, &collector->one_room, count,
                 sizeof *collector->one))
        return no_memory(collector, err);
    bool ordinary = is_ordinary(frames, count * recording->channels);
    look_for_life(collector, frames, count);
    for (size_t c = 0; c < recording->channels; c++) {
        enum ht_status status =
            ordinary ? HT_OK
                     : look_at_channel(collector, c, frames, count, err);
        if (status != HT_OK)
            return status;
        take_channel(frames + c, recording->channels, count,
                     (float)collector->scale[c], collector->one);
        if (!ht_decimator_push(collector->decimator[c], collector->one, count,
                               &recording->channel[c].samples,
                               &collector->room[c], &collector->count[c]))
            return no_memory(collector, err);
    }
    collector->frames += count;
    return ht_still_push(&collector->still, frames, count)
               ? HT_OK
               : no_memory(collector, err);
}

static double remove_mean(const struct ht_recording *recording, float *samples)
{
    double mean = ht_gaps_mean(recording, samples);
    for (size_t i = 0; i < recording->frames; i++)
        samples[i] = (float)((double)samples[i] - mean);
    return mean;
}

static double energy(const float *a, const float *b, size_t frames)
{
    /* float products summed in blocks: enough digits for a correlation */
    double sum = 0;
    for (size_t at = 0; at < frames; at += 4096) {
        size_t n = frames - at < 4096 ? frames - at : 4096;
        sum += (double)ht_dot_f(a + at, b + at, n);
    }
    return sum;
}

static bool is_copy(const struct ht_channel *a, const struct ht_channel *b,
                    size_t frames)
{
    double aa = energy(a->samples, a->samples, frames);
    double bb = energy(b->samples, b->samples, frames);
    double ab = energy(a->samples, b->samples, frames);
    return aa > 0 && bb > 0 && ab > COPY_CORRELATION * sqrt(aa * bb);
}

/* Two equal channels are one observation, not two. */
static void drop_copies(struct ht_recording *recording)
{
    for (size_t c = 1; c < recording->channels; c++)
        for (size_t d = 0; d < c; d++) {
            if (!is_copy(&recording->channel[d], &recording->channel[c],
                         recording->frames))
                continue;
            ht_recording_note(recording,
                              RECORDING_COPIED,
                              recording->channel[c].name,
                              recording->channel[d].name);
            ht_recording_drop(recording, c--);
            break;
        }
}

static void note_channel(struct ht_recording *recording,
                         const struct ht_channel *channel)
{
    if (channel->clipped == 1)
        ht_recording_note(recording, RECORDING_CLIPPED_ONCE, channel->name);
    else if (channel->clipped > 1)
        ht_recording_note(recording, RECORDING_CLIPPED, channel->name,
                          channel->clipped);
}

static void note_short(struct collector *collector)
{
    struct ht_recording *recording = collector->recording;
    double there_s = (double)collector->frames / recording->file_rate_hz;
    double promised_s = collector->promise.length_s;
    if (promised_s - there_s > SHORT_S)
        ht_recording_note(recording, RECORDING_SHORT, promised_s, there_s);
    else if (collector->promise.no_end)
        ht_recording_note(recording, RECORDING_NO_END, there_s);
}

/* Stretches that stand still, on the time of the decimated frames. */
static bool find_gaps(struct collector *collector)
{
    struct still *still = &collector->still;
    if (!ht_still_end(still))
        return false;
    double *time_s = ht_allocate(2 * still->runs + 1, sizeof *time_s);
    for (size_t r = 0; time_s && r < still->runs; r++) {
        double rate_hz = collector->recording->file_rate_hz;
        time_s[2 * r] = (double)still->run[r].from / rate_hz;
        time_s[2 * r + 1] = (double)still->run[r].to / rate_hz;
    }
    bool fine = time_s &&
                ht_still_to_gaps(still, time_s, collector->recording);
    ht_release(time_s);
    return fine;
}

static bool any_lives(const struct collector *collector)
{
    for (size_t c = 0; c < collector->recording->channels; c++)
        if (collector->lives[c])
            return true;
    return false;
}

enum ht_status ht_collect_finish(struct collector *collector,
                                 struct ht_error *err)
{
    struct ht_recording *recording = collector->recording;
    if (collector->frames == 0)
        return ht_fail(err, RECORDING_NO_SOUND, collector->path);
    if (!any_lives(collector))
        return ht_fail(err, RECORDING_ALL_THE_SAME, collector->path);
    note_short(collector);
    for (size_t c = 0; c < recording->channels; c++) {
        if (!ht_decimator_finish(collector->decimator[c],
                                 &recording->channel[c].samples,
                                 &collector->room[c], &collector->count[c]))
            return no_memory(collector, err);
        recording->frames = collector->count[c];
        note_channel(recording, &recording->channel[c]);
    }
    ht_recording_drop_still(recording, collector->lives);
    if (!find_gaps(collector))
        return no_memory(collector, err);
    for (size_t c = 0; c < recording->channels; c++)
        recording->channel[c].mean =
            remove_mean(recording, recording->channel[c].samples);
    drop_copies(recording);
    if (!ht_recording_make_slow(recording))
        return no_memory(collector, err);
    for (size_t c = 0; c < recording->channels; c++)
        ht_gaps_empty(recording, recording->channel[c].samples);
    return HT_OK;
}

void ht_collect_free(struct collector *collector)
{
    for (size_t c = 0; c < HT_CHANNELS_MAX; c++)
        ht_decimator_free(collector->decimator[c]);
    ht_still_free(&collector->still);
    ht_release(collector->one);
}
