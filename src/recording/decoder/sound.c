#include "sound.h"

#include "common/limits.h"
#include "common/memory.h"
#include "recording/stream.h"
#include "recording/texts.h"

#include <sndfile.h>

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
    const char *sample = RECORDING_COMPRESSED;
    for (size_t i = 0; i < sizeof sample_names / sizeof sample_names[0]; i++)
        if ((info->format & SF_FORMAT_SUBMASK) == sample_names[i].format)
            sample = sample_names[i].name;
    (void)snprintf(format->name, sizeof format->name, RECORDING_FORMAT_SOUND,
                   major_name(info->format), sample);
    format->channels = (size_t)info->channels;
    format->rate_hz = info->samplerate;
    /* a stream of unknown length says the largest number; the length of an MP3
     * is a guess from its first frame */
    bool told = info->frames > 0 && info->frames < ((sf_count_t)1 << 48) &&
                (info->format & SF_FORMAT_TYPEMASK) != SF_FORMAT_MPEG;
    format->frames = told ? (uint64_t)info->frames : 0;
}

static enum ht_status check_info(const SF_INFO *info, struct ht_error *err)
{
    if (!major_name(info->format))
        return ht_fail(err, RECORDING_SOUND_KIND);
    if (info->channels < 1 || info->channels > HT_CHANNELS_MAX ||
        info->samplerate < 1 || info->samplerate > HT_RATE_HZ_MAX)
        return ht_fail(err, RECORDING_SOUND_HEAD, info->channels,
                       info->samplerate);
    return HT_OK;
}

static enum ht_status pump(SNDFILE *file, size_t channels,
                           const struct sound_sink *sink, struct ht_error *err)
{
    float *block = ht_allocate(STREAM_BLOCK_FRAMES * channels, sizeof *block);
    if (!block)
        return ht_fail(err, RECORDING_SOUND_NO_MEMORY);
    enum ht_status status = HT_OK;
    while (status == HT_OK) {
        sf_count_t got = sf_readf_float(file, block, STREAM_BLOCK_FRAMES);
        if (got <= 0)
            break;
        status = sink->block(sink->context, block, (size_t)got, err);
    }
    ht_release(block);
    return status;
}

static bool holds_shorts(const SF_INFO *info)
{
    int sample = info->format & SF_FORMAT_SUBMASK;
    return sample == SF_FORMAT_PCM_16 || sample == SF_FORMAT_PCM_S8 ||
           sample == SF_FORMAT_PCM_U8;
}

/* As they are in the file: less to convert, and half of the bytes. */
static enum ht_status pump_shorts(SNDFILE *file, size_t channels,
                                  const struct sound_sink *sink,
                                  struct ht_error *err)
{
    int16_t *block = ht_allocate(STREAM_BLOCK_FRAMES * channels, sizeof *block);
    if (!block)
        return ht_fail(err, RECORDING_SOUND_NO_MEMORY);
    enum ht_status status = HT_OK;
    while (status == HT_OK) {
        sf_count_t got = sf_readf_short(file, block, STREAM_BLOCK_FRAMES);
        if (got <= 0)
            break;
        status = sink->shorts(sink->context, block, (size_t)got, err);
    }
    ht_release(block);
    return status;
}

/* A file as the library sees it: with the patch laid over. */
struct patched {
    FILE *file;
    const struct sound_patch *patch;
};

static sf_count_t file_length(void *user)
{
    FILE *file = ((struct patched *)user)->file;
    off_t here = ftello(file), end = -1;
    if (fseeko(file, 0, SEEK_END) == 0)
        end = ftello(file);
    return fseeko(file, here, SEEK_SET) == 0 ? (sf_count_t)end : -1;
}

static sf_count_t file_seek(sf_count_t offset, int whence, void *user)
{
    FILE *file = ((struct patched *)user)->file;
    return fseeko(file, (off_t)offset, whence) == 0 ? (sf_count_t)ftello(file)
                                                    : -1;
}

static sf_count_t file_read(void *to, sf_count_t count, void *user)
{
    const struct patched *patched = user;
    const struct sound_patch *patch = patched->patch;
    off_t from = ftello(patched->file);
    size_t got = fread(to, 1, (size_t)count, patched->file);
    for (size_t i = 0; patch && from >= 0 && i < sizeof patch->byte; i++) {
        uint64_t at = patch->at + i;
        if (at >= (uint64_t)from && at - (uint64_t)from < got)
            ((unsigned char *)to)[at - (uint64_t)from] = patch->byte[i];
    }
    return (sf_count_t)got;
}

static sf_count_t file_write(const void *from, sf_count_t count, void *user)
{
    (void)from;
    (void)count;
    (void)user;
    return 0;
}

static sf_count_t file_tell(void *user)
{
    return (sf_count_t)ftello(((struct patched *)user)->file);
}

static enum ht_status decode_open(SNDFILE *file, const SF_INFO *info,
                                  const struct sound_sink *sink,
                                  struct ht_error *err)
{
    struct sound_format format = { 0 };
    enum ht_status status = check_info(info, err);
    if (status == HT_OK) {
        describe(&format, info);
        status = sink->begin(sink->context, &format, err);
    }
    if (status == HT_OK)
        status = sink->shorts && holds_shorts(info)
                     ? pump_shorts(file, format.channels, sink, err)
                     : pump(file, format.channels, sink, err);
    return status;
}

enum ht_status ht_sound_decode(FILE *file, const struct sound_patch *patch,
                               const struct sound_sink *sink,
                               struct ht_error *err)
{
    SF_VIRTUAL_IO io = { file_length, file_seek, file_read, file_write,
                         file_tell };
    SF_INFO info = { 0 };
    struct patched patched = { file, patch };
    SNDFILE *sound = sf_open_virtual(&io, SFM_READ, &info, &patched);
    if (!sound)
        return ht_fail(err, RECORDING_SOUND_DAMAGED, sf_strerror(NULL));
    enum ht_status status = decode_open(sound, &info, sink, err);
    (void)sf_close(sound);
    return status;
}
