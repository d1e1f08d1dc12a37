/* What comes through the pipe from the decoder program. */
#include "harness.h"

#include "common/limits.h"
#include "recording/stream.h"

#include <string.h>

struct seen {
    const char *at;         /* what is left of the input */
    size_t left;
    size_t begun, channels;
    uint64_t frames;
    double sum;
};

static size_t take(void *context, void *to, size_t length)
{
    struct seen *seen = context;
    size_t part = length < seen->left ? length : seen->left;
    memcpy(to, seen->at, part);
    seen->at += part;
    seen->left -= part;
    return part;
}

static enum ht_status begin(void *context, const struct sound_format *format,
                            struct ht_error *err)
{
    struct seen *seen = context;
    (void)err;
    seen->channels = format->channels;
    FUZZ_DEMAND(seen->begun++ == 0);
    FUZZ_DEMAND(format->channels >= 1 && format->channels <= HT_CHANNELS_MAX);
    FUZZ_DEMAND(format->rate_hz >= 1 && format->rate_hz <= HT_RATE_HZ_MAX);
    FUZZ_DEMAND(memchr(format->name, '\0', sizeof format->name) != NULL);
    return HT_OK;
}

static enum ht_status block(void *context, const float *frames, size_t count,
                            struct ht_error *err)
{
    struct seen *seen = context;
    (void)err;
    FUZZ_DEMAND(seen->begun == 1 && count >= 1);
    FUZZ_DEMAND(count <= STREAM_BLOCK_FRAMES);
    for (size_t i = 0; i < count * seen->channels; i++)
        seen->sum += (double)frames[i];
    seen->frames += count;
    return HT_OK;
}

static void read_stream(const char *bytes, size_t length)
{
    struct seen seen = { .at = bytes, .left = length };
    const struct stream_source source = { &seen, take };
    const struct sound_sink sink = { &seen, begin, block, NULL };
    struct ht_error err = { 0 };
    enum ht_status status = HT_BUG;
    enum stream_end end =
        ht_stream_read(&source, "f.wav", &sink, &status, &err);
    FUZZ_DEMAND(end >= STREAM_COMPLETE && end <= STREAM_GARBLED);
    FUZZ_DEMAND((end == STREAM_REFUSED) == (status != HT_OK));
    if (end == STREAM_COMPLETE)
        FUZZ_DEMAND(seen.begun == 1 && seen.left == 0);
    else if (status == HT_BAD_FILE || status == HT_TOO_BIG)
        FUZZ_DEMAND(strncmp(err.text, "f.wav: ", 7) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_stream, data, size);
}
