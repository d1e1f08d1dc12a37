/* read.c - a recording of any kind, by what it is. */
#include "halfturn/recording.h"

#include "collect.h"
#include "common/memory.h"
#include "decode.h"
#include "notes.h"
#include "phone.h"
#include "riff.h"
#include "sniff.h"

static enum ht_status read_patched(struct ht_recording *recording,
                                   const char *path,
                                   const struct sound_patch *patch,
                                   const struct ht_recording_options *options,
                                   struct ht_error *err)
{
    struct collector *collector = ht_allocate(1, sizeof *collector);
    if (!collector)
        return ht_fail(err, HT_NO_MEMORY, "%s: out of memory", path);
    collector->recording = recording;
    collector->options = options;
    collector->path = path;
    struct sound_sink sink = { collector, ht_collect_begin,
                               ht_collect_block };
    enum ht_status status = ht_decode(path, patch, &sink, err);
    if (status == HT_OK)
        status = ht_collect_finish(collector, err);
    ht_collect_free(collector);
    ht_release(collector);
    return status;
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
        ht_recording_note(recording,
                          "The WAV file was not finished; what is there, "
                          "%.1f s, is read.",
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
