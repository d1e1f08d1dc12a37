/* Bad input ends in the right status and in a sentence that names the file
 * and the place; broken bytes and missing memory never do harm. */
#include "close.h"
#include "random.h"
#include "scratch.h"
#include "wav_bytes.h"

#include "common/memory.h"
#include "halfturn/recording.h"
#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum ht_status read_file(const char *path, struct ht_recording *r,
                                struct ht_error *err)
{
    struct ht_recording_options options = { .highest_hz = NAN };
    *err = (struct ht_error){ 0 };
    return ht_recording_read(r, path, &options, err);
}

/* Rows at 100 Hz; `odd` stands in for line `odd_line` (header: line 1). */
static struct ht_text make_table(const char *header, int rows, int odd_line,
                                 const char *odd)
{
    struct ht_text text = { 0 };
    ht_text_add(&text, header);
    for (int i = 0; i < rows; i++) {
        if (i + 2 == odd_line)
            ht_text_add(&text, odd);
        else
            ht_text_addf(&text, "%d.%02d,0.%d,0.2,9.8%d\n", i / 100, i % 100,
                         i % 7, i % 10);
    }
    return text;
}

static const struct {
    const char *what, *odd;
    int line;
    const char *words[3];
} odd_lines[] = {
    { "decimal commas between commas", "0,58,0,1,0,2,9,8\n", 60,
      { "line 60", "8 values", "decimal mark" } },
    { "one value too few", "0.58,0.1,0.2\n", 60,
      { "line 60", "3 values", "the header has 4" } },
    { "a word", "0.58,0.1,oops,9.8\n", 60, { "line 60", "oops", "column 3" } },
    { "NaN", "0.58,0.1,NaN,9.8\n", 60, { "line 60", "NaN", "column 3" } },
    { "infinity", "0.58,inf,0.1,9.8\n", 60, { "line 60", "inf", "column 2" } },
    { "time that jumps back", "-70.1,0.1,0.2,9.8\n", 60,
      { "line 60", "time", "" } },
    { "no time", ",0.1,0.2,9.8\n", 60, { "line 60", "time", "" } },
};

static void an_odd_line_is_named_with_what_stands_in_it(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof odd_lines / sizeof odd_lines[0]; i++) {
        struct ht_text text = make_table("time_s,x,y,z\n", 300,
                                         odd_lines[i].line, odd_lines[i].odd);
        struct ht_recording r;
        struct ht_error err;
        enum ht_status status =
            read_file(scratch_text("odd.csv", ht_text_get(&text)), &r, &err);
        ht_text_free(&text);
        if (status != HT_BAD_FILE)
            fail_msg("%s: status %d '%s'", odd_lines[i].what, (int)status,
                     err.text);
        assert_non_null(strstr(err.text, "odd.csv"));
        for (size_t w = 0; w < 3; w++)
            if (!strstr(err.text, odd_lines[i].words[w]))
                fail_msg("%s: no '%s' in: %s", odd_lines[i].what,
                         odd_lines[i].words[w], err.text);
        assert_null(r.channel);
    }
}

/* A literal with its length, inner zeros counted. */
#define BYTES(text) text, sizeof(text) - 1

static void what_is_no_recording_is_refused_with_its_reason(void **state)
{
    (void)state;
    static const struct {
        const char *name, *bytes;
        size_t length;
        const char *word;
    } rows[] = {
        { "empty.csv", BYTES(""), "empty" },
        { "empty.wav", BYTES(""), "empty" },
        { "text.wav", BYTES("this is no sound at all\nnor this\n"), "text" },
        { "phone.m4a", BYTES("\0\0\0\x20" "ftypM4A \0\0\0\0M4A mp42"),
          "phone.wav" },
        { "phone.3gp", BYTES("\0\0\0\x18" "ftyp3gp4 \0\0\0\0isom"),
          "MPEG-4" },
        { "old.mov", BYTES("\0\0\0\x08" "wide\0\x12\x34\x56mdat"),
          "QuickTime" },
        { "voice.amr", BYTES("#!AMR\n\x3c\x91\x17"), "ffmpeg -n -i " },
        { "radio.aac", BYTES("\xff\xf1\x50\x80\x02\x1f\xfc"), "radio.wav" },
        { "memo.wma", BYTES("\x30\x26\xb2\x75\x8e\x66\xcf\x11\xa6\xd9"),
          "Windows Media" },
        { "wide.csv", BYTES("t_s,wide\n1,2\n"), "row" },
        { "photo.jpg", BYTES("\xff\xd8\xff\xe0\0\x10JFIF\0\1"),
          "ff d8 ff e0" },
        { "pointer.wav", BYTES("version https://example.org/spec/v1\noid 1\n"),
          "version https" },
        { "head.csv", BYTES("time_s,x,y,z\n"), "row" },
        { "swapped.csv",
          BYTES("x,y,z,time_s\n0.1,0.2,9.8,5\n0.1,0.2,9.8,4\n"
                "0.1,0.2,9.8,3\n0.1,0.2,9.8,2\n0.1,0.2,9.8,1\n"
                "0.1,0.2,9.8,0\n0.1,0.2,9.8,-1\n0.1,0.2,9.8,-2\n"
                "0.1,0.2,9.8,-3\n"), "swapped" },
        { "unit.csv",
          BYTES("time_s,x,y,z\n0,1,2,9\n10,1,2,9\n20,1,3,9\n30,1,2,9\n"
                "40,1,2,9\n50,1,2,9\n60,1,2,9\n70,1,2,9\n80,1,2,9\n"),
          "another unit" },
        { "flac.flac", BYTES("fLaC\0\0\0\x22 and no more"), "decoded" },
        { "riff.wav", BYTES("RIFF\x10\0\0\0WAVEfmt "), "cut off" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_recording r;
        struct ht_error err;
        enum ht_status status = read_file(
            scratch_file(rows[i].name, rows[i].bytes, rows[i].length), &r,
            &err);
        printf("%s\n", strrchr(err.text, '/') ? strrchr(err.text, '/') + 1
                                               : err.text);
        if (status != HT_BAD_FILE || !strstr(err.text, rows[i].name) ||
            !strstr(err.text, rows[i].word))
            fail_msg("%s: status %d, no '%s' in: %s", rows[i].name,
                     (int)status, rows[i].word, err.text);
        assert_int_equal(ht_status_exit_code(status), 65);
        assert_null(r.channel);
    }
}

static void missing_files_and_folders_cannot_be_read(void **state)
{
    (void)state;
    struct ht_recording r;
    struct ht_table table;
    struct ht_error err;
    const char *paths[] = { "no/such/file.wav", "no-such.csv", "/tmp" };
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(read_file(paths[i], &r, &err), HT_CANNOT_READ);
        assert_int_equal(ht_status_exit_code(err.status), 66);
        assert_non_null(strstr(err.text, paths[i]));
        assert_int_equal(ht_table_read(&table, paths[i], 0, NULL, &err),
                         HT_CANNOT_READ);
    }
}

static unsigned char wav[64 * 1024];

static bool noted(const struct ht_recording *r, const char *words)
{
    for (size_t i = 0; i < r->notes; i++)
        if (strstr(r->note[i], words))
            return true;
    return false;
}

/* Data size 0 (a recorder that lost power), 0xFFFFFFFF, and a file cut off:
 * every whole frame that is there is read, and it is said. */
static void an_unfinished_wav_gives_what_is_there(void **state)
{
    (void)state;
    static const size_t claimed[] = { 0, 0xffffffff, 40000, 16000 };
    for (size_t i = 0; i < 4; i++) {
        size_t length = wav_make(wav, 8000);
        wav_little(wav + 40, claimed[i], 4);
        if (i == 3)
            length -= 4001;
        struct ht_recording r;
        struct ht_error err;
        enum ht_status status =
            read_file(scratch_file("cut.wav", wav, length), &r, &err);
        if (status != HT_OK)
            fail_msg("data size %zu: %s", claimed[i], err.text);
        size_t there = (length - 44) / 2;
        assert_int_equal(r.frames, there);
        assert_true(noted(&r, "not finished"));
        ht_recording_free(&r);
    }
}

static void impossible_wav_heads_never_reach_the_decoder(void **state)
{
    (void)state;
    static const struct {
        size_t at, bytes, value;
        const char *word;
    } rows[] = { { 22, 2, 0, "0 channels" },
                 { 22, 2, 65, "65 channels" },
                 { 24, 4, 0, "0 samples" },
                 { 24, 4, 4000000000, "samples" },
                 { 16, 4, 4, "format" },
                 { 16, 4, 0xfffffff0, "beyond" },
                 { 12, 4, 0x61746164, "format" } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        size_t length = wav_make(wav, 4000);
        wav_little(wav + rows[i].at, rows[i].value, rows[i].bytes);
        struct ht_recording r;
        struct ht_error err;
        assert_int_equal(
            read_file(scratch_file("head.wav", wav, length), &r, &err),
            HT_BAD_FILE);
        if (!strstr(err.text, rows[i].word))
            fail_msg("row %zu: no '%s' in: %s", i, rows[i].word, err.text);
    }
    /* a second format chunk has crashed decoders */
    size_t length = wav_make(wav, 4000);
    memmove(wav + 36 + 24, wav + 36, length - 36);
    memcpy(wav + 36, wav + 12, 24);
    struct ht_recording r;
    struct ht_error err;
    assert_int_equal(
        read_file(scratch_file("two.wav", wav, length + 24), &r, &err),
        HT_BAD_FILE);
    assert_non_null(strstr(err.text, "two formats"));
}

static void silence_is_no_recording(void **state)
{
    (void)state;
    size_t length = wav_make(wav, 8000);
    memset(wav + 44, 0, length - 44);
    struct ht_recording r;
    struct ht_error err;
    assert_int_equal(
        read_file(scratch_file("still.wav", wav, length), &r, &err),
        HT_BAD_FILE);
    assert_non_null(strstr(err.text, "every sample is the same"));
}

static void numbers_that_are_none_in_a_float_file_are_placed(void **state)
{
    (void)state;
    size_t length = wav_make(wav, 8000);
    wav_little(wav + 20, 3, 2);
    wav_little(wav + 32, 4, 2);
    wav_little(wav + 34, 32, 2);
    memset(wav + 44, 0, length - 44);
    wav_little(wav + 44 + 4 * 1000, 0x7fc00000, 4);
    struct ht_recording r;
    struct ht_error err;
    assert_int_equal(
        read_file(scratch_file("nan.wav", wav, length), &r, &err),
        HT_BAD_FILE);
    assert_non_null(strstr(err.text, "0.500 s"));
}

/* Whatever a mutated file gives, it is a status with a text, or numbers that
 * are finite. Seeds are printed when one fails. */
static size_t judge(const char *path, uint64_t seed)
{
    struct ht_recording r;
    struct ht_error err;
    enum ht_status status = read_file(path, &r, &err);
    if (status != HT_OK) {
        if (!err.text[0] || r.channel)
            fail_msg("seed %llu: no sentence", (unsigned long long)seed);
        return 0;
    }
    for (size_t c = 0; c < r.channels; c++)
        for (size_t i = 0; i < r.frames; i++)
            if (!isfinite(r.channel[c].samples[i]))
                fail_msg("seed %llu: not finite", (unsigned long long)seed);
    ht_recording_free(&r);
    return 1;
}

static void mutate(unsigned char *bytes, size_t *length, size_t reach,
                   struct random_source *random)
{
    static const char spice[] = "0,;.\t\"\n-e9#\xff\x80";
    for (uint64_t n = 1 + random_bits(random) % 4; n > 0; n--) {
        if (*length == 0)
            return;
        size_t at = random_bits(random) % (reach < *length ? reach : *length);
        switch (random_bits(random) % 4) {
        case 0:
            bytes[at] ^= (unsigned char)(1 << random_bits(random) % 8);
            break;
        case 1:
            bytes[at] = (unsigned char)
                spice[random_bits(random) % (sizeof spice - 1)];
            break;
        case 2:
            memmove(bytes + at, bytes + at + 1, *length - at - 1);
            --*length;
            break;
        default:
            if (random_bits(random) % 8 == 0)
                *length = at + 1;
        }
    }
}

static void mutated_files_end_in_a_sentence_or_in_numbers(void **state)
{
    (void)state;
    size_t read = 0, tables = 0;
    for (uint64_t seed = 1; seed <= 1500; seed++) {
        struct random_source random = { seed };
        size_t length = wav_make(wav, 300);
        mutate(wav, &length, 60, &random);
        read += judge(scratch_file("m.wav", wav, length), seed);
        struct ht_text text = make_table("time_s,x,y,z\n", 40, 0, "");
        length = text.length;
        mutate((unsigned char *)text.bytes, &length, length, &random);
        tables += judge(scratch_file("m.csv", text.bytes, length), seed);
        ht_text_free(&text);
    }
    printf("1500 mutations each: %zu WAV, %zu tables still read\n", read,
           tables);
    /* both ways out must have been taken */
    assert_in_range(read, 1, 1499);
    assert_in_range(tables, 1, 1499);
}

static size_t asked, refuse_at;
static bool permit(size_t bytes)
{
    (void)bytes;
    return asked++ != refuse_at;
}

static size_t every_allocation_fails_once(const char *path)
{
    char kept[500];
    (void)snprintf(kept, sizeof kept, "%s", path);
    for (refuse_at = 0;; refuse_at++) {
        struct ht_recording r;
        struct ht_error err;
        asked = 0;
        ht_memory_permit = permit;
        enum ht_status status = read_file(kept, &r, &err);
        ht_memory_permit = NULL;
        if (asked <= refuse_at) {
            assert_int_equal(status, HT_OK);
            ht_recording_free(&r);
            return refuse_at;
        }
        if (status != HT_NO_MEMORY)
            fail_msg("allocation %zu of %s: status %d '%s'", refuse_at, kept,
                     (int)status, err.text);
        assert_null(r.channel);
        assert_null(r.gap);
    }
}

/* Leaks are caught by the sanitizer build. */
static void each_missing_allocation_is_a_status(void **state)
{
    (void)state;
    size_t length = wav_make(wav, 20000);
    wav_little(wav + 24, 48000, 4);
    size_t sound =
        every_allocation_fails_once(scratch_file("m.wav", wav, length));
    struct random_source random = { 3 };
    struct ht_text text = { 0 };
    ht_text_add(&text, "time_s,x,y,z\n");
    for (int i = 0; i < 2000; i++) {
        if (i == 700)
            i += 50; /* a gap */
        ht_text_number(&text, i * 0.01 + random_uniform(&random, 0, 0.004), 5);
        ht_text_addf(&text, ",0.%d,0.1,9.8\n", i % 9);
    }
    size_t table = every_allocation_fails_once(
        scratch_text("m.csv", ht_text_get(&text)));
    ht_text_free(&text);
    printf("allocations refused: %zu in a sound file, %zu in a table\n", sound,
           table);
    assert_true(sound >= 5 && table >= 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_odd_line_is_named_with_what_stands_in_it),
        cmocka_unit_test(what_is_no_recording_is_refused_with_its_reason),
        cmocka_unit_test(missing_files_and_folders_cannot_be_read),
        cmocka_unit_test(an_unfinished_wav_gives_what_is_there),
        cmocka_unit_test(impossible_wav_heads_never_reach_the_decoder),
        cmocka_unit_test(silence_is_no_recording),
        cmocka_unit_test(numbers_that_are_none_in_a_float_file_are_placed),
        cmocka_unit_test(mutated_files_end_in_a_sentence_or_in_numbers),
        cmocka_unit_test(each_missing_allocation_is_a_status),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
