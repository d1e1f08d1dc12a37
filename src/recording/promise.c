#include "promise.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static uint32_t big_32(const unsigned char *b)
{
    return (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 |
           b[3];
}

static size_t read_at(FILE *file, uint64_t at, unsigned char *to, size_t size)
{
    return fseeko(file, (off_t)at, SEEK_SET) == 0 ? fread(to, 1, size, file)
                                                  : 0;
}

/* An ID3 tag in front: ten bytes, then as many as seven bits of each of the
 * last four say (ID3v2.4.0, 3.1). */
static uint64_t behind_tag(const unsigned char *head)
{
    if (memcmp(head, "ID3", 3) != 0)
        return 0;
    return 10 + (((uint64_t)head[6] & 0x7f) << 21 |
                 ((uint64_t)head[7] & 0x7f) << 14 |
                 ((uint64_t)head[8] & 0x7f) << 7 | (head[9] & 0x7f));
}

/* Of one frame of layer III, seconds; 0: no such frame. *skip: from its start
 * to the tag, behind the side information. */
static double frame_length(const unsigned char *head, size_t *skip)
{
    static const double rates[] = { 44100, 48000, 32000 };
    unsigned version = head[1] >> 3 & 3, rate = head[2] >> 2 & 3;
    bool mono = head[3] >> 6 == 3, first = version == 3;
    if (head[0] != 0xff || head[1] >> 5 != 7 || (head[1] >> 1 & 3) != 1 ||
        version == 1 || rate == 3)
        return 0;
    size_t check = head[1] & 1 ? 0 : 2;
    *skip = 4 + check + (first ? (mono ? 17U : 32U) : (mono ? 9U : 17U));
    double hz = rates[rate] / (first ? 1 : version == 2 ? 2 : 4);
    return (first ? 1152 : 576) / hz;
}

static double mp3_length(FILE *file)
{
    unsigned char head[48 + 12] = { 0 };
    size_t skip = 0;
    if (read_at(file, 0, head, 10) != 10)
        return NAN;
    uint64_t at = behind_tag(head);
    if (read_at(file, at, head, sizeof head) != sizeof head)
        return NAN;
    double frame_s = frame_length(head, &skip);
    if (frame_s == 0)
        return NAN;
    const unsigned char *tag = head + skip;
    bool counted = (memcmp(tag, "Xing", 4) == 0 ||
                    memcmp(tag, "Info", 4) == 0) && (tag[7] & 1);
    return counted ? frame_s * big_32(tag + 8) : NAN;
}

enum { PAGE_HEAD = 27, PAGE_MOST = PAGE_HEAD + 255 + 255 * 255 };

/* A whole page, whose flags say that it ends its stream. */
static bool ends_stream(const unsigned char *page, size_t left)
{
    if (left < PAGE_HEAD || memcmp(page, "OggS", 4) != 0)
        return false;
    size_t segments = page[26], length = PAGE_HEAD + segments;
    for (size_t i = 0; i < segments && PAGE_HEAD + i < left; i++)
        length += page[PAGE_HEAD + i];
    return length <= left && (page[5] & 4);
}

static bool lacks_end(FILE *file)
{
    static const size_t most = PAGE_MOST;
    unsigned char bytes[PAGE_MOST];
    off_t end = fseeko(file, 0, SEEK_END) == 0 ? ftello(file) : -1;
    if (end < 0)
        return false;
    size_t size = (uint64_t)end < most ? (size_t)end : most;
    if (read_at(file, (uint64_t)end - size, bytes, size) != size)
        return false;
    for (size_t i = 0; i < size; i++)
        if (ends_stream(bytes + i, size - i))
            return false;
    return true;
}

struct promise ht_promise_read(const char *path)
{
    struct promise promise = { .length_s = NAN };
    unsigned char head[4];
    FILE *file = fopen(path, "rb");
    if (!file)
        return promise;
    if (read_at(file, 0, head, sizeof head) == sizeof head) {
        if (memcmp(head, "OggS", 4) == 0)
            promise.no_end = lacks_end(file);
        else
            promise.length_s = mp3_length(file);
    }
    (void)fclose(file);
    return promise;
}
