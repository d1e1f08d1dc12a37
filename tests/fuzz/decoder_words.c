/* The two words that the decoder program may be called with: a place in the
 * file, and eight hexadecimal digits. The first byte says how long the first
 * of them is. */
#include "harness.h"

#include <inttypes.h>
#include <stdlib.h>
#include <strings.h>

/* Its source itself: what reads the words is for nobody else. */
int decoder_main(int count, char **arguments);
#define main decoder_main
#include "recording/decoder/main.c"
#undef main

enum ht_status ht_sound_decode(FILE *file, const struct sound_patch *patch,
                               const struct sound_sink *sink,
                               struct ht_error *err)
{
    (void)file;
    (void)patch;
    (void)sink;
    return ht_fail(err, HT_BUG, "no sound is decoded here");
}

static void read_words(const char *bytes, size_t length)
{
    struct sound_patch patch = { 0 };
    if (length == 0)
        return;
    size_t first = (unsigned char)bytes[0];
    bytes++;
    length--;
    first = first < length ? first : length;
    char *at = strndup(bytes, first);
    char *four = strndup(bytes + first, length - first);
    FUZZ_DEMAND(at && four);
    if (read_patch(&patch, at, four)) {
        char again[24];
        (void)snprintf(again, sizeof again, "%02x%02x%02x%02x", patch.byte[0],
                       patch.byte[1], patch.byte[2], patch.byte[3]);
        FUZZ_DEMAND(strcasecmp(again, four) == 0);
        (void)snprintf(again, sizeof again, "%" PRIu64, patch.at);
        FUZZ_DEMAND(strcmp(again, at + strspn(at, "0")) == 0 ||
                    (patch.at == 0 && at[0] == '0'));
    }
    free(at);
    free(four);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_words, data, size);
}
