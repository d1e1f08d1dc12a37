#include "riff.h"
#include "texts.h"

#include "common/limits.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { CHUNKS_MAX = 4096 };

static uint32_t read_32(const unsigned char *b)
{
    return (uint32_t)b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 |
           (uint32_t)b[3] << 24;
}

static unsigned read_16(const unsigned char *b)
{
    return (unsigned)b[0] | (unsigned)b[1] << 8;
}

static enum ht_status read_format(const char *path, FILE *file, uint32_t size,
                                  struct riff *riff, struct ht_error *err)
{
    unsigned char b[16];
    if (size < sizeof b || fread(b, 1, sizeof b, file) != sizeof b)
        return ht_fail(err, RECORDING_WAV_FORMAT_DAMAGED, path);
    riff->channels = read_16(b + 2);
    riff->rate_hz = read_32(b + 4);
    riff->bits = read_16(b + 14);
    if (riff->channels == 0 || riff->channels > HT_CHANNELS_MAX)
        return ht_fail(err, RECORDING_WAV_CHANNELS, path, riff->channels,
                       HT_CHANNELS_MAX);
    if (riff->rate_hz == 0 || riff->rate_hz > HT_RATE_HZ_MAX)
        return ht_fail(err, RECORDING_WAV_RATE, path, riff->rate_hz,
                       HT_RATE_HZ_MAX);
    return HT_OK;
}

/* The size of the sound in RF64's chunk of sizes: behind that of the file. */
static uint64_t read_long_size(FILE *file)
{
    unsigned char b[16];
    if (fread(b, 1, sizeof b, file) != sizeof b)
        return 0;
    return read_32(b + 8) | (uint64_t)read_32(b + 12) << 32;
}

static void take_data(struct riff *riff, uint64_t at, uint32_t size,
                      uint64_t file_bytes)
{
    bool elsewhere = riff->is_64 && size == UINT32_MAX;
    riff->there_bytes = file_bytes - at - 8;
    riff->size_at = at + 4;
    if (!elsewhere)
        riff->claimed_bytes = size;
    riff->cut_short = riff->claimed_bytes > riff->there_bytes ||
                      (size == 0 && !elsewhere);
}

/* Walks the chunks up to `data`. RF64 gives 0xFFFFFFFF for the sizes that its
 * ds64 chunk holds. */
static enum ht_status walk(const char *path, FILE *file, uint64_t file_bytes,
                           struct riff *riff, struct ht_error *err)
{
    bool format_seen = false;
    uint64_t at = 12;
    for (int chunk = 0; chunk < CHUNKS_MAX; chunk++) {
        unsigned char head[8];
        if (fseeko(file, (off_t)at, SEEK_SET) != 0 ||
            fread(head, 1, sizeof head, file) != sizeof head)
            return format_seen ? ht_fail(err, RECORDING_WAV_NO_SOUND, path)
                               : ht_fail(err, RECORDING_WAV_HEAD_CUT, path);
        uint32_t size = read_32(head + 4);
        if (memcmp(head, "data", 4) == 0) {
            if (!format_seen)
                return ht_fail(err, RECORDING_WAV_NO_FORMAT, path);
            take_data(riff, at, size, file_bytes);
            return HT_OK;
        }
        if (riff->is_64 && memcmp(head, "ds64", 4) == 0)
            riff->claimed_bytes = read_long_size(file);
        if (memcmp(head, "fmt ", 4) == 0) {
            if (format_seen)
                return ht_fail(err, RECORDING_WAV_TWO_FORMATS, path);
            enum ht_status status = read_format(path, file, size, riff, err);
            if (status != HT_OK)
                return status;
            format_seen = true;
        }
        at += 8 + (uint64_t)size + (size & 1);
        if (at >= file_bytes)
            return ht_fail(err, RECORDING_WAV_CHUNK_TOO_LONG, path);
    }
    return ht_fail(err, RECORDING_WAV_CHUNKS, path);
}

enum ht_status ht_riff_check(const char *path, struct riff *riff,
                             struct ht_error *err)
{
    unsigned char head[12];
    *riff = (struct riff){ 0 };
    FILE *file = fopen(path, "rb");
    if (!file)
        return ht_fail(err, RECORDING_CANNOT_OPEN, path, strerror(errno));
    enum ht_status status;
    off_t end = fseeko(file, 0, SEEK_END) == 0 ? ftello(file) : -1;
    if (end < 0 || fseeko(file, 0, SEEK_SET) != 0)
        status = ht_fail(err, RECORDING_CANNOT_READ, path, strerror(errno));
    else if (fread(head, 1, sizeof head, file) != sizeof head)
        status = ht_fail(err, RECORDING_WAV_HEAD_CUT, path);
    else if (memcmp(head + 8, "WAVE", 4) != 0)
        status = ht_fail(err, RECORDING_WAV_OTHER_RIFF, path);
    else {
        riff->is_64 = memcmp(head, "RF64", 4) == 0;
        status = walk(path, file, (uint64_t)end, riff, err);
    }
    (void)fclose(file);
    return status;
}
