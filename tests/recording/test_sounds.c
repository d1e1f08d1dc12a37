/* Sound files: formats, levels, decimation, what is counted and said. Files
 * are written with the library that reads them or, WAV heads, by hand. */
#include "close.h"
#include "random.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "signal/fft.h"
#include "signal/window.h"

#include <complex.h>
#include <math.h>
#include <sndfile.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const double TURN = 6.283185307179586;
enum { RATE = 48000, SECONDS = 4, FRAMES = RATE * SECONDS };

static float frames[2 * FRAMES];

/* Left: 0.5 at 40 Hz. Right: 0.25 at 110 Hz and 0.25 at 5 kHz. */
static void fill_frames(void)
{
    for (int i = 0; i < FRAMES; i++) {
        double t = (double)i / RATE;
        frames[2 * i] = (float)(0.5 * cos(TURN * 40 * t));
        frames[2 * i + 1] = (float)(0.25 * cos(TURN * 110 * t) +
                                    0.25 * cos(TURN * 5000 * t));
    }
}

static const char *write_sound(const char *name, int format, int channels)
{
    SF_INFO info = { .samplerate = RATE, .channels = channels,
                     .format = format };
    const char *path = scratch_path(name);
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);
    if (!file)
        return NULL;
    sf_count_t want = 2 * FRAMES / channels;
    for (sf_count_t at = 0; at < want; at += 4000)
        assert_int_equal(
            sf_writef_float(file, frames + at * channels, 4000), 4000);
    (void)sf_close(file);
    return path;
}

static struct ht_recording read_or_fail(const char *path, double highest_hz)
{
    struct ht_recording recording;
    struct ht_recording_options options = { .highest_hz = highest_hz };
    struct ht_error err = { 0 };
    if (ht_recording_read(&recording, path, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
    return recording;
}

static bool noted(const struct ht_recording *recording, const char *words)
{
    for (size_t i = 0; i < recording->notes; i++)
        if (strstr(recording->note[i], words))
            return true;
    return false;
}

static double amplitude(const struct ht_recording *r, size_t channel,
                        double hz)
{
    size_t from = r->frames / 10, to = r->frames - from;
    double cc = 0, cs = 0, ss = 0, xc = 0, xs = 0;
    for (size_t i = from; i < to; i++) {
        double turn = TURN * hz * (double)i / r->rate_hz;
        double c = cos(turn), s = sin(turn);
        double x = (double)r->channel[channel].samples[i];
        cc += c * c;
        cs += c * s;
        ss += s * s;
        xc += x * c;
        xs += x * s;
    }
    double det = cc * ss - cs * cs;
    return hypot((xc * ss - xs * cs) / det, (xs * cc - xc * cs) / det);
}

/* Lossless: 0.1 %, the decimation's flatness. Lossy: 0.5 dB (6 %), the level
 * shift that encoders bring at these frequencies, measured. */
static const struct {
    const char *name, *said;
    int format;
    double tolerance;
} kinds[] = {
    { "a.wav", "WAV, 16 bit", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 0.001 },
    { "b.wav", "WAV, 24 bit", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 0.001 },
    { "c.wav", "WAV, 32 bit float", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 0.001 },
    { "d.wav", "WAV, 16 bit", SF_FORMAT_WAVEX | SF_FORMAT_PCM_16, 0.001 },
    { "e.rf64", "RF64, 16 bit", SF_FORMAT_RF64 | SF_FORMAT_PCM_16, 0.001 },
    { "f.flac", "FLAC, 16 bit", SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 0.001 },
    { "g.aiff", "AIFF, 16 bit", SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 0.001 },
    { "h.caf", "CAF, 16 bit", SF_FORMAT_CAF | SF_FORMAT_PCM_16, 0.001 },
    { "i.ogg", "Ogg, compressed", SF_FORMAT_OGG | SF_FORMAT_VORBIS, 0.06 },
    { "j.mp3", "MP3, compressed",
      SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, 0.06 },
};

static void every_kind_of_sound_file_reads_with_its_levels(void **state)
{
    (void)state;
    fill_frames();
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        const char *path = write_sound(kinds[k].name, kinds[k].format, 2);
        assert_non_null(path);
        struct ht_recording r = read_or_fail(path, 300);
        assert_string_equal(r.format, kinds[k].said);
        assert_int_equal(r.channels, 2);
        assert_close(r.file_rate_hz, RATE, 0);
        assert_true(r.band_hz >= 300);
        assert_true(r.rate_hz >= 1000 && r.rate_hz <= 4000);
        assert_close((double)r.frames / r.rate_hz, SECONDS, 0.06);
        assert_close_relative(amplitude(&r, 0, 40), 0.5, kinds[k].tolerance);
        assert_close_relative(amplitude(&r, 1, 110), 0.25,
                              kinds[k].tolerance);
        assert_int_equal(r.channel[0].unit, HT_UNIT_FULL_SCALE);
        assert_int_equal(r.channel[0].clipped, 0);
        assert_null(r.channel[0].slow);
        assert_false(noted(&r, "not finished"));
        ht_recording_free(&r);
    }
}

/* The decimated cosine lies on the formula at time k / rate: 0.1 % of 0.5 and
 * half a step of 16 bit; a delay of 5 us would show. */
static void decimation_moves_nothing_in_time(void **state)
{
    (void)state;
    fill_frames();
    struct ht_recording r = read_or_fail(
        write_sound("a.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2), 500);
    double worst = 0;
    for (size_t k = 100; k + 100 < r.frames; k++)
        worst = fmax(worst,
                     fabs((double)r.channel[0].samples[k] -
                          0.5 * cos(TURN * 40 * (double)k / r.rate_hz)));
    printf("largest deviation of 0.5 full scale at 40 Hz: %.2g\n", worst);
    assert_close(worst, 0, 0.0005);
    ht_recording_free(&r);
}

static void the_wanted_band_decides_the_rate(void **state)
{
    (void)state;
    fill_frames();
    const char *path =
        write_sound("a.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2);
    char kept[500];
    (void)snprintf(kept, sizeof kept, "%s", path);
    static const double wanted[] = { 50, 200, 500, 900, 1500 };
    for (size_t i = 0; i < 5; i++) {
        struct ht_recording r = read_or_fail(kept, wanted[i]);
        assert_true(r.band_hz >= wanted[i]);
        assert_true(r.rate_hz >= 1000);
        double factor = r.file_rate_hz / r.rate_hz;
        assert_close(factor, round(factor), 1e-12);
        ht_recording_free(&r);
    }
}

static void equal_channels_count_once_and_clipping_is_counted(void **state)
{
    (void)state;
    struct random_source random = { 2 };
    size_t full = 0;
    for (int i = 0; i < FRAMES; i++) {
        double x = 0.6 * random_normal(&random);
        full += fabs(x) >= 0.9999; /* 16 bit ends at 0.99997 */
        x = fmax(-1, fmin(1, x));
        frames[2 * i] = frames[2 * i + 1] = (float)x;
    }
    struct ht_recording r = read_or_fail(
        write_sound("c.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2), 300);
    assert_int_equal(r.channels, 1);
    assert_true(noted(&r, "copy"));
    assert_true(full > 1000);
    assert_int_equal(r.channel[0].clipped, full);
    assert_true(noted(&r, "too loud"));
    ht_recording_free(&r);
}

static void the_sheets_scale_makes_metres_per_second_squared(void **state)
{
    (void)state;
    fill_frames();
    const char *path =
        write_sound("a.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2);
    struct ht_sheet_channel named[2] = {
        { .name = "floor", .unit = HT_UNIT_G, .scale = 2,
          .axis = HT_AXIS_UP },
        { .name = "seat", .unit = HT_UNIT_M_S2, .scale = 40 },
    };
    struct ht_recording_options options = { .highest_hz = 300,
                                            .channel = named, .channels = 2 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    assert_int_equal(ht_recording_read(&r, path, &options, &err), HT_OK);
    assert_int_equal(r.channel[0].unit, HT_UNIT_M_S2);
    assert_int_equal(r.channel[0].axis, HT_AXIS_UP);
    assert_string_equal(r.channel[1].name, "seat");
    assert_close_relative(amplitude(&r, 0, 40), 0.5 * 2 * 9.80665, 0.001);
    assert_close_relative(amplitude(&r, 1, 110), 0.25 * 40, 0.001);
    ht_recording_free(&r);
    options.channels = 1;
    assert_int_equal(ht_recording_read(&r, path, &options, &err),
                     HT_BAD_FILE);
}

/* A sound of Debian's dustracing2d-data: its strongest line was measured
 * elsewhere at 87.1 Hz; the tolerance is half a bin of 1 Hz. */
static void a_recorded_engine_has_its_line_at_87_hz(void **state)
{
    (void)state;
    static const char path[] =
        "/usr/share/games/dustracing2d/sounds/carEngine.ogg";
    if (access(path, R_OK) != 0) {
        print_message("dustracing2d-data is not installed: skipped\n");
        skip();
    }
    struct ht_recording r = read_or_fail(path, 500);
    struct ht_fft *fft = ht_fft_create(r.frames * 8);
    double *w = malloc(r.frames * sizeof *w);
    assert_non_null(fft);
    assert_non_null(w);
    memset(ht_fft_input(fft), 0, r.frames * 8 * sizeof *w);
    (void)ht_window_fill(HT_WINDOW_HANN, w, r.frames);
    for (size_t i = 0; i < r.frames; i++)
        ht_fft_input(fft)[i] = w[i] * (double)r.channel[0].samples[i];
    const double complex *bins = ht_fft_run(fft);
    size_t best = 1;
    for (size_t k = 1; k <= r.frames * 4; k++)
        if (cabs(bins[k]) > cabs(bins[best]))
            best = k;
    double hz = (double)best * r.rate_hz / (double)(r.frames * 8);
    printf("carEngine.ogg: %.2f s, strongest line %.2f Hz\n",
           (double)r.frames / r.rate_hz, hz);
    assert_close(hz, 87.1, 0.5);
    free(w);
    ht_fft_free(fft);
    ht_recording_free(&r);
}

/* The decoder, its pipe and its own process change no bit. */
static void samples_of_a_caller_give_what_their_file_gives(void **state)
{
    (void)state;
    fill_frames();
    const char *path =
        write_sound("same.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2);
    struct ht_sheet_channel named[2] = {
        { .name = "seat", .scale = 9.81, .axis = HT_AXIS_UP },
        { .name = "floor", .unit = HT_UNIT_G, .scale = NAN }
    };
    struct ht_recording_options options = { .highest_hz = 300,
                                            .channel = named, .channels = 2 };
    struct ht_samples samples = { "mine", frames, FRAMES, 2, RATE };
    struct ht_recording file, own;
    struct ht_error err = { 0 };
    assert_int_equal(ht_recording_read(&file, path, &options, &err), HT_OK);
    assert_int_equal(
        ht_recording_from_samples(&own, &samples, &options, &err), HT_OK);
    assert_int_equal(own.channels, 2);
    assert_int_equal(own.frames, file.frames);
    assert_close(own.rate_hz, file.rate_hz, 0);
    assert_close(own.band_hz, file.band_hz, 0);
    for (size_t c = 0; c < 2; c++) {
        assert_memory_equal(own.channel[c].samples, file.channel[c].samples,
                            own.frames * sizeof(float));
        assert_memory_equal(own.channel[c].slow, file.channel[c].slow,
                            own.slow_frames * sizeof(float));
        assert_string_equal(own.channel[c].name, named[c].name);
        assert_int_equal(own.channel[c].unit, HT_UNIT_M_S2);
    }
    /* 0.5 of full scale at 9.81 m/s2 each; the decimation's flatness */
    assert_close(amplitude(&own, 0, 40), 0.5 * 9.81, 0.005);
    ht_recording_free(&file);
    ht_recording_free(&own);
}

static void samples_that_cannot_be_are_refused_by_name(void **state)
{
    (void)state;
    static float values[4000];
    static const struct {
        struct ht_samples samples;
        enum ht_status status;
        const char *said;
    } rows[] = {
        { { "mine", values, 10, 0, 2000 }, HT_BAD_USE, "mine: 0 channels" },
        { { "mine", values, 10, 65, 2000 }, HT_BAD_USE, "65 channels" },
        { { "mine", values, 10, 1, 0 }, HT_BAD_USE, "0 samples a second" },
        { { "mine", values, 10, 1, (double)NAN }, HT_BAD_USE, "nan samples" },
        { { "mine", values, 10, 1, 2e6 }, HT_BAD_USE, "1 to 1000000" },
        { { "mine", values, 200000, 1, 1 }, HT_TOO_BIG, "6 hours" },
        { { "mine", values, 0, 1, 2000 }, HT_BAD_FILE, "no sound" },
        { { NULL, values, 4000, 1, 2000 }, HT_BAD_FILE,
          "samples: every sample is the same" },
    };
    const struct ht_recording_options options = { .highest_hz = NAN };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_recording r;
        struct ht_error err = { 0 };
        enum ht_status status = ht_recording_from_samples(
            &r, &rows[i].samples, &options, &err);
        if (status != rows[i].status || !strstr(err.text, rows[i].said))
            fail_msg("row %zu: status %d: %s", i, (int)status, err.text);
        assert_null(r.channel);
    }
    values[3000] = (float)INFINITY;
    const struct ht_samples odd = { NULL, values, 4000, 1, 2000 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    assert_int_equal(ht_recording_from_samples(&r, &odd, &options, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "1.500 s"));
}

/* The limit of tables, 1e9, holds for sounds of floats too. */
static void samples_that_no_sensor_reads_are_refused(void **state)
{
    (void)state;
    static float values[4000];
    const struct ht_samples samples = { NULL, values, 4000, 1, 2000 };
    const struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_recording r;
    struct ht_error err = { 0 };
    values[2000] = -1e9F;
    assert_int_equal(ht_recording_from_samples(&r, &samples, &options, &err),
                     HT_OK);
    ht_recording_free(&r);
    values[2000] = -2e9F;
    assert_int_equal(ht_recording_from_samples(&r, &samples, &options, &err),
                     HT_BAD_FILE);
    assert_string_equal(err.text,
                        "samples: channel 1 holds -2e+09, at 1.000 s; no "
                        "sensor reads that. Save the recording again, as 16 "
                        "or 24 bit.");
    assert_null(r.channel);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_of_sound_file_reads_with_its_levels),
        cmocka_unit_test(decimation_moves_nothing_in_time),
        cmocka_unit_test(the_wanted_band_decides_the_rate),
        cmocka_unit_test(equal_channels_count_once_and_clipping_is_counted),
        cmocka_unit_test(the_sheets_scale_makes_metres_per_second_squared),
        cmocka_unit_test(samples_of_a_caller_give_what_their_file_gives),
        cmocka_unit_test(samples_that_cannot_be_are_refused_by_name),
        cmocka_unit_test(samples_that_no_sensor_reads_are_refused),
        cmocka_unit_test(a_recorded_engine_has_its_line_at_87_hz),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
