/* What comes through the decoder's pipe, byte by byte. */
#include "close.h"
#include "random.h"

#include "recording/stream.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct bytes {
    const unsigned char *at;
    size_t left;
};

static size_t take(void *context, void *to, size_t length)
{
    struct bytes *bytes = context;
    size_t part = length < bytes->left ? length : bytes->left;
    memcpy(to, bytes->at, part);
    bytes->at += part;
    bytes->left -= part;
    return part;
}

static enum ht_status count_begin(void *context,
                                  const struct sound_format *format,
                                  struct ht_error *err)
{
    (void)context;
    (void)err;
    assert_in_range(format->channels, 1, 64);
    assert_true(format->rate_hz >= 1 && format->rate_hz <= 1e6);
    assert_non_null(memchr(format->name, 0, sizeof format->name));
    return HT_OK;
}

static enum ht_status count_block(void *context, const float *frames,
                                  size_t count, struct ht_error *err)
{
    (void)frames;
    (void)err;
    *(size_t *)context += count;
    return HT_OK;
}

static void add(unsigned char *to, size_t *length, const void *from, size_t n)
{
    memcpy(to + *length, from, n);
    *length += n;
}

/* Two channels: a head, three blocks of 5 frames, the second of shorts, an end
 * or a refusal. */
static size_t make_stream(unsigned char *to, bool refused)
{
    static const float frames[10] = { 0.5F };
    static const int16_t shorts[10] = { 16384 };
    const struct stream_mark short_block = { STREAM_SHORTS, 5, 0 };
    const struct stream_mark begin = { STREAM_HEAD, 2, 0 };
    const struct stream_mark block = { STREAM_BLOCK, 5, 0 };
    const struct stream_mark end = { STREAM_END, 0, 15 };
    const struct stream_mark refusal = { STREAM_REFUSAL, 9, HT_BAD_FILE };
    const struct stream_head head = { STREAM_MAGIC, STREAM_VERSION, 2, 48000,
                                      15, "WAV, 16 bit" };
    size_t length = 0;
    add(to, &length, &begin, sizeof begin);
    add(to, &length, &head, sizeof head);
    for (int i = 0; i < 3; i++) {
        add(to, &length, i == 1 ? &short_block : &block, sizeof block);
        if (i == 1)
            add(to, &length, shorts, sizeof shorts);
        else
            add(to, &length, frames, sizeof frames);
    }
    add(to, &length, refused ? &refusal : &end, sizeof end);
    if (refused)
        add(to, &length, "no sound.", 9);
    return length;
}

static enum stream_end read_bytes(const unsigned char *from, size_t length,
                                  size_t *frames)
{
    /* a copy of its own size: a sanitizer sees each step beyond it */
    unsigned char *copy = malloc(length + !length);
    assert_non_null(copy);
    memcpy(copy, from, length);
    struct bytes bytes = { copy, length };
    const struct stream_source source = { &bytes, take };
    const struct sound_sink sink = { frames, count_begin, count_block,
                                     NULL };
    struct ht_error err = { 0 };
    enum ht_status status;
    *frames = 0;
    enum stream_end end =
        ht_stream_read(&source, "x.wav", &sink, &status, &err);
    assert_int_equal(end == STREAM_REFUSED, status != HT_OK);
    if (status != HT_OK)
        assert_memory_equal(err.text, "x.wav: ", 7);
    free(copy);
    return end;
}

static void a_stream_cut_anywhere_is_noticed(void **state)
{
    (void)state;
    unsigned char stream[512];
    size_t length = make_stream(stream, false), frames;
    assert_int_equal(read_bytes(stream, length, &frames), STREAM_COMPLETE);
    assert_int_equal(frames, 15);
    for (size_t cut = 0; cut < length; cut++)
        assert_int_equal(read_bytes(stream, cut, &frames), STREAM_CUT);
}

static float kept[22];

static enum ht_status keep_block(void *context, const float *frames,
                                 size_t count, struct ht_error *err)
{
    (void)context;
    (void)err;
    assert_int_equal(count, 11);
    memcpy(kept, frames, sizeof kept);
    return HT_OK;
}

/* 22 values: two groups of eight and a rest. */
static void shorts_arrive_as_shares_of_full_scale(void **state)
{
    (void)state;
    static const int16_t shorts[22] = { -32768, 32767, 1,     -1,  0,   16384,
                                        -3,     300,   -4096, 255, 256, 257,
                                        -32767, 32766, 12345, 7,   8,   9,
                                        -9999,  -8,    4,     -16385 };
    const struct stream_mark begin = { STREAM_HEAD, 2, 0 };
    const struct stream_mark block = { STREAM_SHORTS, 11, 0 };
    const struct stream_mark last = { STREAM_END, 0, 11 };
    const struct stream_head head = { STREAM_MAGIC, STREAM_VERSION, 2, 48000,
                                      11, "WAV, 16 bit" };
    unsigned char stream[512];
    size_t length = 0, frames = 0;
    add(stream, &length, &begin, sizeof begin);
    add(stream, &length, &head, sizeof head);
    add(stream, &length, &block, sizeof block);
    add(stream, &length, shorts, sizeof shorts);
    add(stream, &length, &last, sizeof last);
    struct bytes bytes = { stream, length };
    const struct stream_source source = { &bytes, take };
    const struct sound_sink sink = { &frames, count_begin, keep_block, NULL };
    struct ht_error err = { 0 };
    enum ht_status status;
    assert_int_equal(ht_stream_read(&source, "x.wav", &sink, &status, &err),
                     STREAM_COMPLETE);
    for (size_t i = 0; i < 22; i++)
        assert_close((double)kept[i], shorts[i] / 32768.0, 0);
}

static void mutated_streams_do_no_harm(void **state)
{
    (void)state;
    size_t ends[STREAM_GARBLED + 1] = { 0 };
    for (uint64_t seed = 1; seed <= 50000; seed++) {
        struct random_source random = { seed };
        unsigned char stream[512];
        size_t length = make_stream(stream, seed % 2), frames;
        for (uint64_t n = 1 + random_bits(&random) % 3; n > 0; n--) {
            size_t at = random_bits(&random) % length;
            uint64_t flip = 1u << random_bits(&random) % 8;
            stream[at] = (unsigned char)(random_bits(&random) % 2
                                             ? random_bits(&random)
                                             : stream[at] ^ flip);
        }
        ends[read_bytes(stream, length, &frames)]++;
    }
    printf("50000 mutated streams: %zu complete, %zu refused, %zu cut, %zu "
           "foreign, %zu garbled\n",
           ends[STREAM_COMPLETE], ends[STREAM_REFUSED], ends[STREAM_CUT],
           ends[STREAM_FOREIGN], ends[STREAM_GARBLED]);
    for (int end = 0; end <= STREAM_GARBLED; end++)
        assert_true(ends[end] > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_stream_cut_anywhere_is_noticed),
        cmocka_unit_test(shorts_arrive_as_shares_of_full_scale),
        cmocka_unit_test(mutated_streams_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
