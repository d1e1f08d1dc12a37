/* Channels and stretches in which nothing was measured: a plug that is out
 * reads the same number on and on. */
#include "close.h"
#include "random.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "halfturn/text.h"
#include "recording/still.h"

#include <math.h>
#include <string.h>

static const double TURN = 6.283185307179586;

static enum ht_status read_columns(struct ht_recording *r, const char *header,
                                   const char *format, struct ht_error *err)
{
    struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_text text = { 0 };
    ht_text_addf(&text, "%s\n", header);
    for (int i = 0; i < 600; i++) {
        ht_text_addf(&text, "%.2f", 0.01 * i);
        for (const char *kind = format; *kind; kind++)
            if (*kind == 'a') /* alive */
                ht_text_addf(&text, ",%.4f", sin(TURN * 0.12 * i));
            else if (*kind == 'b')
                ht_text_addf(&text, ",%.4f", 9.8 + cos(TURN * 0.07 * i));
            else
                ht_text_add(&text, *kind == 'e' ? "," : ",-8.1921");
        ht_text_add(&text, "\n");
    }
    *err = (struct ht_error){ 0 };
    enum ht_status status = ht_recording_read(
        r, scratch_text("still.csv", ht_text_get(&text)), &options, err);
    ht_text_free(&text);
    return status;
}

static bool noted(const struct ht_recording *r, const char *words)
{
    for (size_t i = 0; i < r->notes; i++)
        if (strstr(r->note[i], words))
            return true;
    return false;
}

static void a_table_that_stands_still_is_refused(void **state)
{
    (void)state;
    static const char *const still[] = { "s", "ss", "sse", "e" };
    static const char *const header[] = {
        "time_s,x_mps2", "time_s,x_mps2,y_mps2",
        "time_s,x_mps2,y_mps2,z_mps2", "time_s,x_mps2"
    };
    for (size_t i = 0; i < sizeof still / sizeof *still; i++) {
        struct ht_recording r;
        struct ht_error err;
        assert_int_equal(read_columns(&r, header[i], still[i], &err),
                         HT_BAD_FILE);
        if (!strstr(err.text, "every sample is the same. Was the sensor "
                              "plugged in?"))
            fail_msg("%s", err.text);
        assert_null(r.channel);
    }
}

/* What is left is, bit for bit, the table without the dead columns. */
static void a_dead_axis_is_named_and_left_out(void **state)
{
    (void)state;
    struct ht_recording with, without;
    struct ht_error err;
    assert_int_equal(read_columns(&with, "time_s,left_mps2,x_mps2,up_mps2,"
                                         "z_mps2,y_mps2", "sasbe", &err),
                     HT_OK);
    assert_int_equal(read_columns(&without, "time_s,x_mps2,z_mps2", "ab",
                                  &err), HT_OK);
    assert_int_equal(with.channels, 2);
    assert_int_equal(without.channels, 2);
    assert_int_equal(with.frames, without.frames);
    for (size_t c = 0; c < 2; c++) {
        assert_string_equal(with.channel[c].name, without.channel[c].name);
        assert_memory_equal(with.channel[c].samples,
                            without.channel[c].samples,
                            with.frames * sizeof(float));
        assert_memory_equal(with.channel[c].slow, without.channel[c].slow,
                            with.slow_frames * sizeof(float));
    }
    assert_true(noted(&with, "'left_mps2' stands still: every sample is the "
                             "same. It is left out."));
    assert_true(noted(&with, "'up_mps2' stands still"));
    assert_true(noted(&with, "'y_mps2' stands still"));
    assert_false(noted(&without, "stands still"));
    ht_recording_free(&with);
    ht_recording_free(&without);
}

enum { FRAMES = 24000, RATE = 8000 };
static float sound[3 * FRAMES];

static struct ht_recording take(size_t channels)
{
    const struct ht_samples samples = { NULL, sound, FRAMES, channels, RATE };
    const struct ht_recording_options options = { .highest_hz = 300 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    if (ht_recording_from_samples(&r, &samples, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
    return r;
}

/* The ends of the decimation's filters ripple on a constant, in float: it is
 * the samples before them that tell. */
static void a_dead_channel_of_a_sound_is_named_and_left_out(void **state)
{
    (void)state;
    for (size_t i = 0; i < FRAMES; i++) {
        sound[3 * i] = -0.987654F;
        sound[3 * i + 1] = (float)(0.3 * sin(TURN * 40 * (double)i / RATE));
        sound[3 * i + 2] = 0.1234567F;
    }
    struct ht_recording r = take(3);
    assert_int_equal(r.channels, 1);
    assert_string_equal(r.channel[0].name, "channel 2");
    assert_true(noted(&r, "'channel 1' stands still"));
    assert_true(noted(&r, "'channel 3' stands still"));
    ht_recording_free(&r);
}

/* ---- stretches ----------------------------------------------------------- */

static void fill_lively(void)
{
    struct random_source random = { 7 };
    for (size_t i = 0; i < 2 * FRAMES; i++)
        sound[i] = (float)(0.25 + 0.1 * random_normal(&random));
}

/* 0.5 s of 3 s repeat one frame far off: neither the level of the gap nor its
 * mean is left in the rest. */
static void a_stretch_that_stands_still_is_a_gap(void **state)
{
    (void)state;
    fill_lively();
    for (size_t i = 8000; i < 12000; i++)
        memcpy(sound + 2 * i, (const float[]){ -0.9F, -0.8F },
               2 * sizeof *sound);
    struct ht_recording r = take(2);
    assert_int_equal(r.gaps, 1);
    assert_close(r.gap[0].from_s, 1, 1e-12);
    assert_close(r.gap[0].to_s, 1.5, 1e-12);
    size_t from = (size_t)round(r.rate_hz), to = (size_t)round(1.5 * r.rate_hz);
    for (size_t c = 0; c < 2; c++) {
        for (size_t i = from; i < to; i++)
            assert_true(r.channel[c].samples[i] == 0);
        /* five standard errors of 20 000 values */
        assert_close(r.channel[c].mean, 0.25, 5 * 0.1 / sqrt(20000));
    }
    assert_true(noted(&r, "Nothing moves from 1.0 s to 1.5 s"));
    ht_recording_free(&r);
    for (size_t i = 16000; i < 17600; i++)
        sound[2 * i] = sound[2 * i + 1] = 0;
    r = take(2);
    assert_int_equal(r.gaps, 2);
    assert_close(r.gap[1].to_s, 2.2, 1e-12);
    assert_true(noted(&r, "In 2 stretches, 0.7 s in all, the first at 1.0 s"));
    ht_recording_free(&r);
}

static void what_may_stand_still_in_a_drive_is_no_gap(void **state)
{
    (void)state;
    fill_lively();
    for (size_t i = 8000; i < 8790; i++) /* not for 0.1 s */
        sound[2 * i] = sound[2 * i + 1] = 0;
    for (size_t i = 16000; i < 20000; i++) /* one channel alone */
        sound[2 * i] = 0;
    struct ht_recording r = take(2);
    assert_int_equal(r.gaps, 0);
    ht_recording_free(&r);
    /* a slow sound of 0.6 of a 16 bit step: held for up to 0.16 s */
    for (size_t i = 0; i < FRAMES; i++)
        sound[i] = (float)(round(0.6 * sin(TURN * 2 * (double)i / RATE)) /
                           32768);
    r = take(1);
    assert_int_equal(r.gaps, 0);
    ht_recording_free(&r);
    /* a sensor of 50 Hz in a file of 8 kHz; then it hangs */
    struct random_source random = { 9 };
    for (size_t i = 0; i < FRAMES; i++)
        sound[i] = i % 160 || i >= 20000 ? sound[i ? i - 1 : 0]
                                         : (float)random_normal(&random);
    r = take(1);
    assert_int_equal(r.gaps, 1);
    assert_close(r.gap[0].from_s, 2.48, 1e-9);
    assert_close(r.gap[0].to_s, 3, 1e-9);
    ht_recording_free(&r);
}

/* 100 Hz. Rows 200 to 260 hang, 300 to 350 are empty and 350 to 400 absent:
 * what touches is one gap. */
static void a_table_that_hangs_or_is_empty_has_gaps(void **state)
{
    (void)state;
    struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_recording r;
    struct ht_error err = { 0 };
    struct ht_text text = { 0 };
    ht_text_add(&text, "time_s,x_mps2,y_mps2\n");
    for (int i = 0; i < 1000; i++) {
        int shown = i >= 200 && i < 260 ? 200 : i;
        if (i >= 350 && i < 400)
            continue;
        ht_text_addf(&text, "%.2f", 0.01 * i);
        if (i >= 300 && i < 350)
            ht_text_add(&text, ",,\n");
        else
            ht_text_addf(&text, ",%.5f,%.5f\n", sin(0.7 * shown),
                         9.8 + cos(0.4 * shown));
    }
    if (ht_recording_read(&r, scratch_text("hang.csv", ht_text_get(&text)),
                          &options, &err) != HT_OK)
        fail_msg("%s", err.text);
    ht_text_free(&text);
    assert_int_equal(r.gaps, 2);
    assert_close(r.gap[0].from_s, 2, 0.001);
    assert_close(r.gap[0].to_s, 2.6, 0.001);
    assert_close(r.gap[1].from_s, 3, 0.001);
    assert_close(r.gap[1].to_s, 4, 0.001);
    for (size_t i = 305; i < 395; i++)
        assert_true(r.channel[0].samples[i] == 0);
    ht_recording_free(&r);
}

/* Against the plain loop, in blocks of any size. */
static void runs_are_found_whatever_the_blocks(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        struct random_source random = { seed };
        enum { N = 1500 };
        size_t channels = 1 + seed % 3, from = 0, found = 0, changes = 0;
        struct still still = ht_still_begin(channels, 200); /* 20 frames */
        for (size_t i = 0; i < N * channels; i++)
            sound[i] = (float)random_normal(&random);
        for (int run = 0; run < 20; run++) {
            size_t at = random_bits(&random) % N;
            size_t end = at + 1 + random_bits(&random) % 45;
            for (size_t i = (at + 1) * channels;
                 i < (end < N ? end : N) * channels; i++)
                sound[i] = sound[i - channels];
        }
        for (size_t at = 0, n; at < N; at += n) {
            n = 1 + random_bits(&random) % 90;
            n = n < N - at ? n : N - at;
            assert_true(ht_still_push(&still, sound + at * channels, n));
        }
        assert_int_equal(still.frames, N);
        assert_true(ht_still_add(
            &still, (struct still_run){ N - still.held, N }));
        for (size_t i = channels; i < N * channels; i++)
            changes += sound[i] != sound[i - channels];
        assert_int_equal(still.changes, changes);
        for (size_t i = 1; i <= N; i++) {
            bool same = i < N && memcmp(sound + i * channels,
                                        sound + (i - 1) * channels,
                                        channels * sizeof *sound) == 0;
            if (same)
                continue;
            if (i - from >= 20 && found < still.runs) {
                assert_int_equal(still.run[found].from, from);
                assert_int_equal(still.run[found].to, i);
            }
            found += i - from >= 20;
            from = i;
        }
        if (found != still.runs)
            fail_msg("seed %llu: %zu runs, not %zu",
                     (unsigned long long)seed, still.runs, found);
        ht_still_free(&still);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_table_that_stands_still_is_refused),
        cmocka_unit_test(a_dead_axis_is_named_and_left_out),
        cmocka_unit_test(a_dead_channel_of_a_sound_is_named_and_left_out),
        cmocka_unit_test(a_stretch_that_stands_still_is_a_gap),
        cmocka_unit_test(what_may_stand_still_in_a_drive_is_no_gap),
        cmocka_unit_test(a_table_that_hangs_or_is_empty_has_gaps),
        cmocka_unit_test(runs_are_found_whatever_the_blocks),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
