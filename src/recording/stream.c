#include "stream.h"
#include "texts.h"

#include "common/limits.h"
#include "common/memory.h"
#include "signal/lanes.h"

#include <string.h>

struct reading {
    const struct stream_source *source;
    const char *path;
    const struct sound_sink *sink;
    struct sound_format format;
    bool begun;
    float *block;
    int16_t *shorts;
    size_t room, shorts_room;
    uint64_t frames;        /* read so far */
    enum ht_status status;
    struct ht_error *err;
};

/* What a mark leads to: on to the next one, or an end. */
enum step { STEP_ON = -1 };

static bool fill(struct reading *reading, void *to, size_t length)
{
    const struct stream_source *source = reading->source;
    return source->read(source->context, to, length) == length;
}

static int refuse(struct reading *reading, enum ht_status status)
{
    reading->status = status;
    return status == HT_OK ? STEP_ON : STREAM_REFUSED;
}

static void make_printable(char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (text[i] < 0x20 || text[i] > 0x7e)
            text[i] = '?';
}

static int read_head(struct reading *reading, const struct stream_mark *mark)
{
    struct stream_head head;
    struct sound_format *format = &reading->format;
    if (!fill(reading, &head, sizeof head))
        return STREAM_CUT;
    if (memcmp(head.magic, STREAM_MAGIC, sizeof head.magic) != 0 ||
        head.version != STREAM_VERSION)
        return STREAM_FOREIGN;
    if (reading->begun || mark->count != head.channels || head.channels < 1 ||
        head.channels > HT_CHANNELS_MAX || !(head.rate_hz >= 1) ||
        !(head.rate_hz <= HT_RATE_HZ_MAX) ||
        !memchr(head.name, '\0', sizeof head.name))
        return STREAM_GARBLED;
    make_printable(head.name, strlen(head.name));
    memcpy(format->name, head.name, sizeof format->name);
    format->channels = head.channels;
    format->rate_hz = head.rate_hz;
    format->frames = head.frames;
    reading->begun = true;
    return refuse(reading, reading->sink->begin(reading->sink->context, format,
                                                reading->err));
}

/* Whether a block can be, and room for it: STEP_ON, or an end. */
static int admit_block(struct reading *reading, const struct stream_mark *mark,
                       size_t values)
{
    if (!reading->begun || mark->count < 1 ||
        mark->count > STREAM_BLOCK_FRAMES)
        return STREAM_GARBLED;
    reading->frames += mark->count;
    if ((double)reading->frames / reading->format.rate_hz >
        HT_RECORDING_SECONDS_MAX)
        return refuse(reading,
                      ht_fail(reading->err, RECORDING_TOO_LONG, reading->path,
                              HT_RECORDING_SECONDS_MAX / 3600));
    if (!ht_grow((void **)&reading->block, &reading->room, values,
                 sizeof *reading->block))
        return refuse(reading, ht_fail(reading->err, RECORDING_NO_MEMORY,
                                       reading->path));
    return STEP_ON;
}

static int pass_block(struct reading *reading, size_t count)
{
    const struct sound_sink *sink = reading->sink;
    return refuse(reading, sink->block(sink->context, reading->block, count,
                                       reading->err));
}

static int read_block(struct reading *reading, const struct stream_mark *mark)
{
    size_t values = mark->count * reading->format.channels;
    int step = admit_block(reading, mark, values);
    if (step != STEP_ON)
        return step;
    if (!fill(reading, reading->block, values * sizeof *reading->block))
        return STREAM_CUT;
    return pass_block(reading, mark->count);
}

typedef int16_t eight_shorts
    __attribute__((vector_size(HT_LANES * sizeof(int16_t))));

/* A power of two: exact. */
HT_WIDE
static void to_floats(const int16_t *from, size_t n, float *to)
{
    const float step = 1 / 32768.0F;
    size_t i = 0;
    for (; i + HT_LANES <= n; i += HT_LANES) {
        eight_shorts whole;
        HT_LANES_LOAD(whole, from + i);
        ht_lanes_f real = __builtin_convertvector(whole, ht_lanes_f);
        real *= step;
        HT_LANES_STORE(to + i, real);
    }
    for (; i < n; i++)
        to[i] = (float)from[i] * step;
}

static int read_shorts(struct reading *reading, const struct stream_mark *mark)
{
    size_t values = mark->count * reading->format.channels;
    int step = admit_block(reading, mark, values);
    if (step != STEP_ON)
        return step;
    if (!ht_grow((void **)&reading->shorts, &reading->shorts_room, values,
                 sizeof *reading->shorts))
        return refuse(reading, ht_fail(reading->err, RECORDING_NO_MEMORY,
                                       reading->path));
    if (!fill(reading, reading->shorts, values * sizeof *reading->shorts))
        return STREAM_CUT;
    to_floats(reading->shorts, values, reading->block);
    return pass_block(reading, mark->count);
}

static int read_end(struct reading *reading, const struct stream_mark *mark)
{
    char more;
    bool counted = reading->begun && mark->total == reading->frames;
    return counted && !fill(reading, &more, 1) ? STREAM_COMPLETE
                                               : STREAM_GARBLED;
}

static int read_refusal(struct reading *reading,
                        const struct stream_mark *mark)
{
    char text[STREAM_TEXT_MAX + 1] = "";
    if (mark->count < 1 || mark->count > STREAM_TEXT_MAX ||
        mark->total == HT_OK || mark->total >= HT_STATUS_COUNT)
        return STREAM_GARBLED;
    if (!fill(reading, text, mark->count))
        return STREAM_CUT;
    make_printable(text, mark->count);
    return refuse(reading, ht_fail(reading->err, (enum ht_status)mark->total,
                                   RECORDING_DECODER_SAYS, reading->path,
                                   text));
}

static int read_mark(struct reading *reading)
{
    static int (*const readers[])(struct reading *,
                                  const struct stream_mark *) = {
        [STREAM_HEAD] = read_head,
        [STREAM_BLOCK] = read_block,
        [STREAM_END] = read_end,
        [STREAM_REFUSAL] = read_refusal,
        [STREAM_SHORTS] = read_shorts,
    };
    struct stream_mark mark;
    if (!fill(reading, &mark, sizeof mark))
        return STREAM_CUT;
    if (mark.kind < STREAM_HEAD || mark.kind > STREAM_SHORTS)
        return reading->begun ? STREAM_GARBLED : STREAM_FOREIGN;
    return readers[mark.kind](reading, &mark);
}

enum stream_end ht_stream_read(const struct stream_source *source,
                               const char *path,
                               const struct sound_sink *sink,
                               enum ht_status *status, struct ht_error *err)
{
    struct reading reading = { .source = source, .path = path, .sink = sink,
                               .status = HT_OK, .err = err };
    int end = STEP_ON;
    while (end == STEP_ON)
        end = read_mark(&reading);
    ht_release(reading.block);
    ht_release(reading.shorts);
    *status = reading.status;
    return (enum stream_end)end;
}
