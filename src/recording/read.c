/* read.c - a recording of any kind, by what it is. */
#include "halfturn/recording.h"

#include "collect.h"
#include "common/limits.h"
#include "common/memory.h"
#include "decode.h"
#include "notes.h"
#include "phone.h"
#include "riff.h"
#include "sniff.h"
#include "stream.h"
#include "texts.h"

static struct collector *new_collector(
    struct ht_recording *recording, const char *path,
    const struct ht_recording_options *options, struct ht_error *err)
{
    struct collector *collector = ht_allocate(1, sizeof *collector);
    if (!collector) {
        (void)ht_fail(err, RECORDING_NO_MEMORY, path);
        return NULL;
    }
    collector->recording = recording;
    collector->options = options;
    collector->path = path;
    return collector;
}

/* After the last block, or what went wrong before it. */
static enum ht_status end_collector(struct collector *collector,
                                    enum ht_status status,
                                    struct ht_error *err)
{
    if (status == HT_OK)
        status = ht_collect_finish(collector, err);
    ht_collect_free(collector);
    ht_release(collector);
    return status;
}

static enum ht_status read_patched(struct ht_recording *recording,
                                   const char *path,
                                   const struct sound_patch *patch,
                                   const struct ht_recording_options *options,
                                   struct ht_error *err)
{
    struct collector *collector = new_collector(recording, path, options, err);
    if (!collector)
        return HT_NO_MEMORY;
    collector->promise = ht_promise_read(path);
    struct sound_sink sink = { collector, ht_collect_begin,
                               ht_collect_block, NULL };
    enum ht_status status =
        ht_decode(path, patch, options->decoder, &sink, err);
    return end_collector(collector, status, err);
}

static enum ht_status read_sound(struct ht_recording *recording,
                                 const char *path,
                                 const struct ht_recording_options *options,
                                 struct ht_error *err)
{
    return read_patched(recording, path, NULL, options, err);
}

static enum ht_status read_wav(struct ht_recording *recording,
                               const char *path,
                               const struct ht_recording_options *options,
                               struct ht_error *err)
{
    struct riff riff;
    enum ht_status status = ht_riff_check(path, &riff, err);
    struct sound_patch size = { .at = riff.size_at };
    uint64_t there =
        riff.there_bytes < UINT32_MAX ? riff.there_bytes : UINT32_MAX - 1;
    for (int i = 0; i < 4; i++)
        size.byte[i] = (unsigned char)(there >> (8 * i) & 0xff);
    if (status == HT_OK)
        status = read_patched(recording, path, riff.cut_short ? &size : NULL,
                              options, err);
    if (status == HT_OK && riff.cut_short)
        ht_recording_note(recording, RECORDING_WAV_UNFINISHED,
                          (double)recording->frames / recording->rate_hz);
    return status;
}

enum ht_status ht_recording_read(struct ht_recording *recording,
                                 const char *path,
                                 const struct ht_recording_options *options,
                                 struct ht_error *err)
{
    static enum ht_status (*const readers[])(
        struct ht_recording *, const char *,
        const struct ht_recording_options *, struct ht_error *) = {
        [FILE_RIFF] = read_wav,
        [FILE_AUDIO] = read_sound,
        [FILE_TABLE] = ht_recording_from_table,
    };
    enum file_kind kind;
    *recording = (struct ht_recording){ 0 };
    enum ht_status status = ht_sniff_file(path, &kind, err);
    if (status == HT_OK)
        status = readers[kind](recording, path, options, err);
    if (status != HT_OK)
        ht_recording_free(recording);
    return status;
}

static enum ht_status check_samples(const struct ht_samples *samples,
                                    struct ht_error *err)
{
    if (samples->channels < 1 || samples->channels > HT_CHANNELS_MAX)
        return ht_fail(err, RECORDING_CHANNELS_OFF, samples->name,
                       samples->channels, HT_CHANNELS_MAX);
    if (!(samples->rate_hz >= 1) || !(samples->rate_hz <= HT_RATE_HZ_MAX))
        return ht_fail(err, RECORDING_RATE_OFF, samples->name,
                       samples->rate_hz, HT_RATE_HZ_MAX);
    if ((double)samples->count / samples->rate_hz > HT_RECORDING_SECONDS_MAX)
        return ht_fail(err, RECORDING_TOO_LONG, samples->name,
                       HT_RECORDING_SECONDS_MAX / 3600);
    return HT_OK;
}

static enum ht_status collect_samples(struct collector *collector,
                                      const struct ht_samples *samples,
                                      struct ht_error *err)
{
    const struct sound_format format = { RECORDING_SAMPLES, samples->channels,
                                         samples->rate_hz, samples->count };
    enum ht_status status = ht_collect_begin(collector, &format, err);
    for (size_t at = 0; status == HT_OK && at < samples->count;
         at += STREAM_BLOCK_FRAMES) {
        size_t left = samples->count - at;
        status = ht_collect_block(
            collector, samples->frames + at * samples->channels,
            left < STREAM_BLOCK_FRAMES ? left : STREAM_BLOCK_FRAMES, err);
    }
    return status;
}

enum ht_status ht_recording_from_samples(
    struct ht_recording *recording, const struct ht_samples *samples,
    const struct ht_recording_options *options, struct ht_error *err)
{
    struct ht_samples named = *samples;
    *recording = (struct ht_recording){ 0 };
    if (!named.name)
        named.name = RECORDING_SAMPLES;
    enum ht_status status = check_samples(&named, err);
    if (status != HT_OK)
        return status;
    struct collector *collector =
        new_collector(recording, named.name, options, err);
    if (!collector)
        return HT_NO_MEMORY;
    status = collect_samples(collector, &named, err);
    status = end_collector(collector, status, err);
    if (status != HT_OK)
        ht_recording_free(recording);
    return status;
}

void ht_recording_free(struct ht_recording *recording)
{
    for (size_t c = 0; c < recording->channels; c++) {
        ht_release(recording->channel[c].samples);
        ht_release(recording->channel[c].slow);
    }
    ht_release(recording->channel);
    ht_release(recording->gap);
    ht_release(recording->memory);
    *recording = (struct ht_recording){ 0 };
}
