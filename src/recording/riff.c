#include "riff.h"

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

static enum ht_status bad(const char *path, const char *what,
                          struct ht_error *err)
{
    return ht_fail(err, HT_BAD_FILE,
                   "%s: this WAV file %s. Copy it from the recorder again.",
                   path, what);
}

static enum ht_status read_format(const char *path, FILE *file, uint32_t size,
                                  struct riff *riff, struct ht_error *err)
{
    unsigned char b[16];
    if (size < sizeof b || fread(b, 1, sizeof b, file) != sizeof b)
        return bad(path, "has a damaged format chunk", err);
    riff->channels = read_16(b + 2);
    riff->rate_hz = read_32(b + 4);
    riff->bits = read_16(b + 14);
    if (riff->channels == 0 || riff->channels > HT_CHANNELS_MAX)
        return ht_fail(err, HT_BAD_FILE,
                       "%s: the WAV head claims %u channels; 1 to %d are read.",
                       path, riff->channels, HT_CHANNELS_MAX);
    if (riff->rate_hz == 0 || riff->rate_hz > HT_RATE_HZ_MAX)
        return ht_fail(err, HT_BAD_FILE,
                       "%s: the WAV head claims %u samples a second; 1 to %d "
                       "are read.",
                       path, riff->rate_hz, HT_RATE_HZ_MAX);
    return HT_OK;
}

/* Walks the chunks up to `data`. RF64 gives 0xFFFFFFFF for the sizes that its
 * ds64 chunk holds; the data then simply reach to the end of the file. */
static enum ht_status walk(const char *path, FILE *file, uint64_t file_bytes,
                           struct riff *riff, struct ht_error *err)
{
    bool format_seen = false;
    uint64_t at = 12;
    for (int chunk = 0; chunk < CHUNKS_MAX; chunk++) {
        unsigned char head[8];
        if (fseeko(file, (off_t)at, SEEK_SET) != 0 ||
            fread(head, 1, sizeof head, file) != sizeof head)
            return bad(path, format_seen ? "ends before its sound begins"
                                         : "is cut off in its head",
                       err);
        uint32_t size = read_32(head + 4);
        if (memcmp(head, "data", 4) == 0) {
            if (!format_seen)
                return bad(path, "has no format before its sound", err);
            riff->claimed_bytes = size;
            riff->there_bytes = file_bytes - at - 8;
            riff->size_at = at + 4;
            riff->cut_short = size == 0 || (size > riff->there_bytes &&
                                            !(riff->is_64 &&
                                              size == UINT32_MAX));
            return HT_OK;
        }
        if (memcmp(head, "fmt ", 4) == 0) {
            if (format_seen)
                return bad(path, "has two formats", err);
            enum ht_status status = read_format(path, file, size, riff, err);
            if (status != HT_OK)
                return status;
            format_seen = true;
        }
        at += 8 + (uint64_t)size + (size & 1);
        if (at >= file_bytes)
            return bad(path, "has a chunk that reaches beyond its end", err);
    }
    return bad(path, "has thousands of chunks and no sound", err);
}

enum ht_status ht_riff_check(const char *path, struct riff *riff,
                             struct ht_error *err)
{
    unsigned char head[12];
    *riff = (struct riff){ 0 };
    FILE *file = fopen(path, "rb");
    if (!file)
        return ht_fail(err, HT_CANNOT_READ, "%s: %s", path, strerror(errno));
    enum ht_status status;
    off_t end = fseeko(file, 0, SEEK_END) == 0 ? ftello(file) : -1;
    if (end < 0 || fseeko(file, 0, SEEK_SET) != 0)
        status = ht_fail(err, HT_CANNOT_READ, "%s: %s", path, strerror(errno));
    else if (fread(head, 1, sizeof head, file) != sizeof head)
        status = bad(path, "is cut off in its head", err);
    else if (memcmp(head + 8, "WAVE", 4) != 0)
        status = bad(path, "is a RIFF file of another kind", err);
    else {
        riff->is_64 = memcmp(head, "RF64", 4) == 0;
        status = walk(path, file, (uint64_t)end, riff, err);
    }
    (void)fclose(file);
    return status;
}
