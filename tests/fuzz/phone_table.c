/* An accelerometer table, up to the channels that the analysis gets. */
#include "harness.h"

#include "recording/phone.h"

#include <math.h>
#include <string.h>

static void look_at_channel(const struct ht_recording *recording, size_t c)
{
    const struct ht_channel *channel = &recording->channel[c];
    FUZZ_DEMAND(memchr(channel->name, 0, sizeof channel->name) != NULL);
    FUZZ_DEMAND(channel->samples != NULL);
    FUZZ_DEMAND(isfinite(channel->mean));
    for (size_t i = 0; i < recording->frames; i++)
        FUZZ_DEMAND(isfinite(channel->samples[i]));
    for (size_t i = 0; channel->slow && i < recording->slow_frames; i++)
        FUZZ_DEMAND(isfinite(channel->slow[i]));
}

static void look_at(const struct ht_recording *recording)
{
    double end_s = (double)recording->frames / recording->rate_hz;
    FUZZ_DEMAND(isfinite(recording->rate_hz) && recording->rate_hz > 0);
    FUZZ_DEMAND(isfinite(recording->start_s));
    FUZZ_DEMAND(recording->frames > 0 && recording->channels > 0);
    for (size_t c = 0; c < recording->channels; c++)
        look_at_channel(recording, c);
    for (size_t g = 0; g < recording->gaps; g++) {
        const struct ht_gap *gap = &recording->gap[g];
        FUZZ_DEMAND(gap->from_s >= 0 && gap->to_s > gap->from_s);
        FUZZ_DEMAND(gap->to_s <= end_s * (1 + 1e-9));
    }
    for (size_t n = 0; n < recording->notes; n++)
        FUZZ_DEMAND(memchr(recording->note[n], 0,
                           sizeof recording->note[n]) != NULL);
}

static void read_phone(const char *bytes, size_t length)
{
    struct ht_recording recording = { 0 };
    struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_error err = { 0 };
    enum ht_status status = ht_recording_from_table(
        &recording, fuzz_file(bytes, length), &options, &err);
    if (fuzz_was_read(status, &err))
        look_at(&recording);
    ht_recording_free(&recording);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_phone, data, size);
}
