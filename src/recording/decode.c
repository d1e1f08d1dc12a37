#include "decode.h"

#include "common/limits.h"
#include "common/memory.h"

#include <sndfile.h>
#include <stdio.h>

enum { BLOCK_FRAMES = 65536 };

static const struct {
    int format;
    const char *name;
} major_names[] = {
    { SF_FORMAT_WAV, "WAV" },   { SF_FORMAT_WAVEX, "WAV" },
    { SF_FORMAT_RF64, "RF64" }, { SF_FORMAT_FLAC, "FLAC" },
    { SF_FORMAT_OGG, "Ogg" },   { SF_FORMAT_AIFF, "AIFF" },
    { SF_FORMAT_CAF, "CAF" },   { SF_FORMAT_MPEG, "MP3" },
};

static const struct {
    int format;
    const char *name;
} sample_names[] = {
    { SF_FORMAT_PCM_S8, "8 bit" },    { SF_FORMAT_PCM_U8, "8 bit" },
    { SF_FORMAT_PCM_16, "16 bit" },   { SF_FORMAT_PCM_24, "24 bit" },
    { SF_FORMAT_PCM_32, "32 bit" },   { SF_FORMAT_FLOAT, "32 bit float" },
    { SF_FORMAT_DOUBLE, "64 bit float" },
};

/* NULL: a kind that this program does not read. */
static const char *major_name(int format)
{
    for (size_t i = 0; i < sizeof major_names / sizeof major_names[0]; i++)
        if ((format & SF_FORMAT_TYPEMASK) == major_names[i].format)
            return major_names[i].name;
    return NULL;
}

static void describe(struct sound_format *format, const SF_INFO *info)
{
    const char *sample = "compressed";
    for (size_t i = 0; i < sizeof sample_names / sizeof sample_names[0]; i++)
        if ((info->format & SF_FORMAT_SUBMASK) == sample_names[i].format)
            sample = sample_names[i].name;
    (void)snprintf(format->name, sizeof format->name, "%s, %s",
                   major_name(info->format), sample);
    format->channels = (size_t)info->channels;
    format->rate_hz = info->samplerate;
    /* a stream of unknown length says the largest number */
    format->frames = info->frames > 0 && info->frames < ((sf_count_t)1 << 48)
                         ? (uint64_t)info->frames
                         : 0;
}

static enum ht_status check_info(const char *path, const SF_INFO *info,
                                 struct ht_error *err)
{
    if (!major_name(info->format))
        return ht_fail(err, HT_BAD_FILE,
                       "%s: this kind of sound file is not read. Wanted: WAV, "
                       "FLAC, Ogg, MP3, AIFF or CAF.",
                       path);
    if (info->channels < 1 || info->channels > HT_CHANNELS_MAX ||
        info->samplerate < 1 || info->samplerate > HT_RATE_HZ_MAX)
        return ht_fail(err, HT_BAD_FILE,
                       "%s: its head claims %d channels at %d samples a "
                       "second; that cannot be.",
                       path, info->channels, info->samplerate);
    return HT_OK;
}

static enum ht_status pump(const char *path, SNDFILE *file, size_t channels,
                           double rate_hz, const struct sound_sink *sink,
                           struct ht_error *err)
{
    float *block = ht_allocate(BLOCK_FRAMES * channels, sizeof *block);
    if (!block)
        return ht_fail(err, HT_NO_MEMORY, "%s: out of memory", path);
    enum ht_status status = HT_OK;
    double seconds = 0;
    while (status == HT_OK) {
        sf_count_t got = sf_readf_float(file, block, BLOCK_FRAMES);
        if (got <= 0)
            break;
        seconds += (double)got / rate_hz;
        status = seconds > HT_RECORDING_SECONDS_MAX
                     ? ht_fail(err, HT_TOO_BIG,
                               "%s: longer than %d hours. Cut out the drive.",
                               path, HT_RECORDING_SECONDS_MAX / 3600)
                     : sink->block(sink->context, block, (size_t)got, err);
    }
    ht_release(block);
    return status;
}

enum ht_status ht_decode(const char *path, const struct sound_sink *sink,
                         struct ht_error *err)
{
    SF_INFO info = { 0 };
    SNDFILE *file = sf_open(path, SFM_READ, &info);
    if (!file)
        return ht_fail(err, HT_BAD_FILE,
                       "%s: this sound file cannot be decoded (%s). Is it "
                       "complete?",
                       path, sf_strerror(NULL));
    struct sound_format format = { 0 };
    enum ht_status status = check_info(path, &info, err);
    if (status == HT_OK) {
        describe(&format, &info);
        status = sink->begin(sink->context, &format, err);
    }
    if (status == HT_OK)
        status = pump(path, file, format.channels, format.rate_hz, sink, err);
    (void)sf_close(file);
    return status;
}
