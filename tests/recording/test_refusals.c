/* Refusals that no other test of this room comes by: each is made to happen
 * and is the sentence of the room's table. */
#include "close.h"
#include "refused.h"
#include "scratch.h"
#include "wav_bytes.h"

#include "common/limits.h"
#include "halfturn/recording.h"
#include "recording/texts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static struct ht_error err;

static enum ht_status read_named(const char *path, size_t channels,
                                 const struct ht_decoder *decoder)
{
    static const struct ht_sheet_channel named[4];
    struct ht_recording recording;
    struct ht_recording_options options = { .highest_hz = NAN,
                                            .channel = named,
                                            .channels = channels,
                                            .decoder = decoder };
    err = (struct ht_error){ 0 };
    enum ht_status status = ht_recording_read(&recording, path, &options,
                                              &err);
    ht_recording_free(&recording);
    return status;
}

static enum ht_status read_table(const char *path)
{
    struct ht_table table;
    err = (struct ht_error){ 0 };
    enum ht_status status = ht_table_read(&table, path, 0, NULL, &err);
    ht_table_free(&table);
    return status;
}

/* Opened, either would wait for somebody to write. */
static void a_pipe_is_no_recording_and_no_table(void **state)
{
    (void)state;
    const char *path = scratch_path("pipe.csv");
    assert_int_equal(mkfifo(path, 0600), 0);
    assert_refused(read_named(path, 0, NULL), RECORDING_IS_PIPE, path);
    assert_refused(read_table(path), RECORDING_TABLE_PIPE, path);
    assert_int_equal(unlink(path), 0);
}

static void a_table_beyond_a_gibibyte_is_not_begun(void **state)
{
    (void)state;
    const char *path = scratch_text("long.csv", "t,a\n");
    assert_int_equal(truncate(path, ((off_t)1 << 30) + 1), 0);
    assert_refused(read_table(path), RECORDING_TABLE_BYTES, path, 1073.741825,
                   (size_t)1024);
}

/* Rows of one digit: 40 MB. */
static void a_table_of_too_many_rows_is_not_read_to_its_end(void **state)
{
    (void)state;
    static char block[1 << 20];
    const char *path = scratch_text("rows.csv", "");
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    for (size_t i = 0; i < sizeof block; i += 2)
        memcpy(block + i, "1\n", 2);
    for (size_t left = HT_TABLE_ROWS_MAX + 1; left > 0;) {
        size_t rows = left < sizeof block / 2 ? left : sizeof block / 2;
        assert_int_equal(fwrite(block, 2, rows, file), rows);
        left -= rows;
    }
    assert_int_equal(fclose(file), 0);
    assert_refused(read_table(path), RECORDING_TABLE_ROWS, path,
                   HT_TABLE_ROWS_MAX);
    assert_int_equal(unlink(path), 0);
}

static void columns_without_names_are_named_by_their_place(void **state)
{
    (void)state;
    const char *path = scratch_text("bare.csv", "1.5;2.5\n2.5;3,5\n");
    assert_refused(read_table(path), RECORDING_CELL_COMMA, path, (size_t)2, 3,
                   "3,5", (size_t)2);
    path = scratch_text("falls.csv", "0.00,0.1\n0.01,0.2\n0.02,0.3\n"
                                     "0.03,0.4\n0.04,0.5\n0.05,0.6\n"
                                     "0.06,0.7\n0.07,0.8\n0.08,0.9\n"
                                     "-5,0.4\n0.10,0.5\n");
    assert_refused(read_named(path, 0, NULL), RECORDING_TIME_FALLS, path,
                   (size_t)10, -5.0, 0.08, (size_t)1);
}

static size_t put_chunk(unsigned char *at, const char *name, size_t length)
{
    memcpy(at, name, 4);
    wav_little(at + 4, length, 4);
    return 8 + length;
}

static void thousands_of_chunks_are_not_walked_through(void **state)
{
    (void)state;
    enum { CHUNKS = 5000 };
    static unsigned char wav[12 + 8 * CHUNKS];
    size_t used = put_chunk(wav, "RIFF", 0);
    memcpy(wav + used, "WAVE", 4);
    used += 4;
    for (int i = 0; i < CHUNKS; i++)
        used += put_chunk(wav + used, "junk", 0);
    const char *path = scratch_file("chunks.wav", wav, used);
    assert_refused(read_named(path, 0, NULL), RECORDING_WAV_CHUNKS, path);
}

/* Two channels of one sample after the other are as long as one of them. */
static void channels_and_names_must_be_as_many(void **state)
{
    (void)state;
    static unsigned char wav[44 + 4 * 2000];
    size_t length = wav_make(wav, 4000);
    const char *path = scratch_file("one.wav", wav, length);
    assert_refused(read_named(path, 2, NULL), RECORDING_ONE_CHANNEL, path,
                   (size_t)2);
    wav_little(wav + 22, 2, 2);
    wav_little(wav + 32, 4, 2);
    path = scratch_file("two.wav", wav, length);
    assert_refused(read_named(path, 3, NULL), RECORDING_FEWER_CHANNELS, path,
                   (size_t)2, (size_t)3);
    assert_refused(read_named(path, 1, NULL), RECORDING_MORE_CHANNELS, path,
                   (size_t)2, (size_t)1);
}

/* A link to itself: neither there nor not there. */
static void a_decoder_that_cannot_be_started_says_why(void **state)
{
    (void)state;
    char program[600];
    (void)snprintf(program, sizeof program, "%s", scratch_path("loop"));
    assert_int_equal(symlink(program, program), 0);
    struct ht_decoder loop = { .program = program };
    const char *path = scratch_text("loop.flac", "fLaC");
    assert_refused(read_named(path, 0, &loop), RECORDING_DECODER_NOT_STARTED,
                   path, program, "Too many levels of symbolic links");
    assert_int_equal(unlink(program), 0);
}

/* An IFF 8SVX voice: begins like an AIFF file (EA IFF 85, 8SVX: VHDR of 20
 * bytes, then BODY). */
static void another_kind_in_the_same_dress_is_not_read(void **state)
{
    (void)state;
    static const unsigned char voice[] =
        "FORM\0\0\0\x34" "8SVX" "VHDR\0\0\0\x14" "\0\0\0\x08" "\0\0\0\0"
        "\0\0\0\x20" "\x1f\x40" "\x01\0" "\0\1\0\0" "BODY\0\0\0\x08"
        "\1\2\3\4\5\6\7\x08";
    const char *path = scratch_file("voice.aif", voice, sizeof voice - 1);
    assert_int_equal(read_named(path, 0, NULL), HT_BAD_FILE);
    assert_non_null(strstr(err.text, ": this kind of sound file is not read."));
}

/* An AIFF head of 100 channels at 8 kHz (AIFF 1.3: COMM of 18 bytes with the
 * rate as an 80-bit float, then SSND). */
static void a_head_that_cannot_be_is_refused(void **state)
{
    (void)state;
    static unsigned char aiff[54 + 400] =
        "FORM\0\0\1\xbe" "AIFF" "COMM\0\0\0\x12" "\0\x64" "\0\0\0\2" "\0\x10"
        "\x40\x0b\xfa\0\0\0\0\0\0\0" "SSND\0\0\1\x98" "\0\0\0\0" "\0\0\0\0";
    const char *path = scratch_file("many.aif", aiff, sizeof aiff);
    assert_int_equal(read_named(path, 0, NULL), HT_BAD_FILE);
    assert_non_null(strstr(err.text, ": its head claims 100 channels at 8000 "
                                     "samples a second;"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pipe_is_no_recording_and_no_table),
        cmocka_unit_test(a_table_beyond_a_gibibyte_is_not_begun),
        cmocka_unit_test(a_table_of_too_many_rows_is_not_read_to_its_end),
        cmocka_unit_test(columns_without_names_are_named_by_their_place),
        cmocka_unit_test(thousands_of_chunks_are_not_walked_through),
        cmocka_unit_test(channels_and_names_must_be_as_many),
        cmocka_unit_test(a_decoder_that_cannot_be_started_says_why),
        cmocka_unit_test(another_kind_in_the_same_dress_is_not_read),
        cmocka_unit_test(a_head_that_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
