/* Files that were cut off or damaged: what is there is read, and it is said
 * that it is not all. Whole files say nothing of the kind. */
#include "close.h"
#include "random.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "recording/promise.h"

#include <math.h>
#include <sndfile.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RATE = 44100, SECONDS = 8 };

/* Noise: every piece of it takes about as many bytes. */
static void write_noise(const char *path, int format)
{
    static float frames[RATE];
    struct random_source random = { 5 };
    SF_INFO info = { .samplerate = RATE, .channels = 1, .format = format };
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);
    assert_non_null(file);
    for (int s = 0; s < SECONDS; s++) {
        for (int i = 0; i < RATE; i++)
            frames[i] = (float)(0.1 * random_normal(&random));
        assert_int_equal(sf_writef_float(file, frames, RATE), RATE);
    }
    assert_int_equal(sf_close(file), 0);
}

struct bytes {
    unsigned char *at;
    size_t length;
};

static struct bytes take_file(const char *path)
{
    struct bytes bytes = { NULL, 0 };
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    assert_int_equal(fseek(file, 0, SEEK_END), 0);
    bytes.length = (size_t)ftell(file);
    rewind(file);
    bytes.at = malloc(bytes.length);
    assert_non_null(bytes.at);
    assert_int_equal(fread(bytes.at, 1, bytes.length, file), bytes.length);
    assert_int_equal(fclose(file), 0);
    return bytes;
}

static struct ht_recording read_bytes(const char *name,
                                      const unsigned char *bytes,
                                      size_t length)
{
    struct ht_recording r;
    struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_error err = { 0 };
    if (ht_recording_read(&r, scratch_file(name, bytes, length), &options,
                          &err) != HT_OK)
        fail_msg("%s: %s", name, err.text);
    return r;
}

static bool noted(const struct ht_recording *r, const char *words)
{
    for (size_t i = 0; i < r->notes; i++)
        if (strstr(r->note[i], words))
            return true;
    return false;
}

static const struct {
    const char *name, *said;
    int format;
    bool counts; /* what is lost in the middle is known, too */
} kinds[] = {
    { "n.flac", "By its head the file holds 8.0 s",
      SF_FORMAT_FLAC | SF_FORMAT_PCM_16, true },
    { "n.ogg", "The file lacks its end", SF_FORMAT_OGG | SF_FORMAT_VORBIS,
      false },
    { "n.mp3", "By its head the file holds 8.",
      SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, false },
    { "n.rf64", "The WAV file was not finished",
      SF_FORMAT_RF64 | SF_FORMAT_PCM_16, false },
};
enum { KINDS = sizeof kinds / sizeof *kinds };

static void a_file_that_was_cut_off_says_so(void **state)
{
    (void)state;
    for (size_t k = 0; k < KINDS; k++) {
        write_noise(scratch_path(kinds[k].name), kinds[k].format);
        struct bytes all = take_file(scratch_path(kinds[k].name));
        struct ht_recording r =
            read_bytes(kinds[k].name, all.at, all.length);
        assert_close((double)r.frames / r.rate_hz, SECONDS, 0.1);
        if (noted(&r, "file"))
            fail_msg("whole %s: %s", kinds[k].name, r.note[0]);
        ht_recording_free(&r);
        r = read_bytes(kinds[k].name, all.at, all.length * 3 / 5);
        double there_s = (double)r.frames / r.rate_hz;
        printf("%s, three fifths: %.2f s: %s\n", kinds[k].name, there_s,
               r.notes ? r.note[0] : "");
        assert_true(there_s > 3 && there_s < 6);
        if (!noted(&r, kinds[k].said))
            fail_msg("cut %s says nothing", kinds[k].name);
        ht_recording_free(&r);
        free(all.at);
    }
}

static void a_flac_that_is_damaged_inside_says_so(void **state)
{
    (void)state;
    write_noise(scratch_path("d.flac"), SF_FORMAT_FLAC | SF_FORMAT_PCM_16);
    struct bytes all = take_file(scratch_path("d.flac"));
    memset(all.at + all.length / 2, 0, 40);
    struct ht_recording r = read_bytes("d.flac", all.at, all.length);
    assert_true(noted(&r, "damaged or cut off"));
    ht_recording_free(&r);
    free(all.at);
}

/* 0.4 s of 8 s: encoders pad and trim by up to a tenth. */
static void what_lacks_less_than_half_a_second_is_whole(void **state)
{
    (void)state;
    write_noise(scratch_path("s.flac"), SF_FORMAT_FLAC | SF_FORMAT_PCM_16);
    struct bytes all = take_file(scratch_path("s.flac"));
    struct ht_recording r =
        read_bytes("s.flac", all.at, all.length * 19 / 20);
    assert_close((double)r.frames / r.rate_hz, 7.6, 0.15);
    assert_false(noted(&r, "By its head"));
    ht_recording_free(&r);
    free(all.at);
}

/* Frame heads of ISO/IEC 11172-3, 2.4.1.3 (and 13818-3 for the lower rates):
 * 0xfffb90: MPEG-1, layer III, no check word, 44.1 kHz; 0xfff3: MPEG-2; the
 * tag stands behind side information of 32, 17 or 9 bytes. */
static void an_mp3s_count_of_frames_is_found(void **state)
{
    (void)state;
    static const struct {
        const char *what;
        unsigned char head[4];
        size_t tag;
        const char *name;
        unsigned char flags;
        double length_s; /* of 1000 frames; NAN: not said */
    } rows[] = {
        { "MPEG-1 stereo", { 0xff, 0xfb, 0x90, 0x00 }, 36, "Xing", 1,
          1000 * 1152 / 44100.0 },
        { "MPEG-1 mono, 48 kHz", { 0xff, 0xfb, 0x94, 0xc0 }, 21, "Info", 15,
          1000 * 1152 / 48000.0 },
        { "with a check word", { 0xff, 0xfa, 0x90, 0x00 }, 38, "Info", 1,
          1000 * 1152 / 44100.0 },
        { "MPEG-2 stereo", { 0xff, 0xf3, 0x90, 0x00 }, 21, "Xing", 1,
          1000 * 576 / 22050.0 },
        { "MPEG-2.5 mono", { 0xff, 0xe3, 0x98, 0xc0 }, 13, "Xing", 1,
          1000 * 576 / 8000.0 },
        { "no count", { 0xff, 0xfb, 0x90, 0x00 }, 36, "Xing", 2,
          (double)NAN },
        { "no tag", { 0xff, 0xfb, 0x90, 0x00 }, 36, "Lost", 1, (double)NAN },
        { "layer II", { 0xff, 0xfd, 0x90, 0x00 }, 36, "Xing", 1,
          (double)NAN },
        { "no rate", { 0xff, 0xfb, 0x9c, 0x00 }, 36, "Xing", 1, (double)NAN },
    };
    for (size_t i = 0; i < 2 * sizeof rows / sizeof *rows; i++) {
        unsigned char bytes[300] = "ID3\4\0\0\0\0\1\2"; /* 130 behind it */
        size_t row = i / 2, start = i % 2 ? 140 : 0;
        memcpy(bytes + start, rows[row].head, 4);
        memcpy(bytes + start + rows[row].tag, rows[row].name, 4);
        bytes[start + rows[row].tag + 7] = rows[row].flags;
        bytes[start + rows[row].tag + 10] = 1000 >> 8;
        bytes[start + rows[row].tag + 11] = 1000 & 0xff;
        struct promise promise =
            ht_promise_read(scratch_file("p.mp3", bytes, sizeof bytes));
        if (isnan(rows[row].length_s) != isnan(promise.length_s))
            fail_msg("%s: %g s", rows[row].what, promise.length_s);
        if (!isnan(promise.length_s))
            assert_close_relative(promise.length_s, rows[row].length_s,
                                  1e-15);
        assert_false(promise.no_end);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_that_was_cut_off_says_so),
        cmocka_unit_test(a_flac_that_is_damaged_inside_says_so),
        cmocka_unit_test(what_lacks_less_than_half_a_second_is_whole),
        cmocka_unit_test(an_mp3s_count_of_frames_is_found),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
