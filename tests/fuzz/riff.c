/* The head of a file: what kind it is, and the look at a WAV file before the
 * decoding library gets it. */
#include "harness.h"

#include "common/limits.h"
#include "recording/riff.h"
#include "recording/sniff.h"

#include <string.h>

static void look_at(const struct riff *riff, size_t length)
{
    FUZZ_DEMAND(riff->channels >= 1 && riff->channels <= HT_CHANNELS_MAX);
    FUZZ_DEMAND(riff->rate_hz >= 1 && riff->rate_hz <= HT_RATE_HZ_MAX);
    FUZZ_DEMAND(riff->size_at >= 16 && riff->size_at + 4 <= length);
    FUZZ_DEMAND(riff->there_bytes == length - riff->size_at - 4);
    /* what the decoder will be told is not more than there is */
    FUZZ_DEMAND(riff->cut_short || riff->claimed_bytes <= riff->there_bytes ||
                riff->is_64);
}

static void read_head(const char *bytes, size_t length)
{
    const char *path = fuzz_file(bytes, length);
    enum file_kind kind = FILE_TABLE;
    struct riff riff;
    struct ht_error err = { 0 };
    bool known = fuzz_was_read(ht_sniff_file(path, &kind, &err), &err);
    if (known && kind == FILE_RIFF)
        FUZZ_DEMAND(length >= 4 && bytes[0] == 'R');
    /* also without the sniffer's leave */
    if (fuzz_was_read(ht_riff_check(path, &riff, &err), &err))
        look_at(&riff, length);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_head, data, size);
}
