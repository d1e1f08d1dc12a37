/* Recordings that nobody here made. */
#include "close.h"

#include "halfturn/recording.h"
#include "signal/fft.h"
#include "signal/window.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct ht_recording_options plain = { .highest_hz = NAN };

/* Debian's dustracing2d-data: an engine idling, made for a game. */
static const char ENGINE[] =
    "/usr/share/games/dustracing2d/sounds/carEngine.ogg";

static double highest_peak_hz(const struct ht_recording *recording)
{
    enum { N = 16384 };
    struct ht_fft *fft = ht_fft_create(N);
    double *input = ht_fft_input(fft), best = 0, hz = 0;
    size_t n = recording->frames < N ? recording->frames : N;
    (void)ht_window_fill(HT_WINDOW_HANN, input, n);
    for (size_t i = 0; i < N; i++)
        input[i] =
            i < n ? input[i] * (double)recording->channel[0].samples[i] : 0;
    const double complex *bins = ht_fft_run(fft);
    for (int k = 1; k < N / 2; k++)
        if (cabs(bins[k]) > best) {
            best = cabs(bins[k]);
            hz = k * recording->rate_hz / N;
        }
    ht_fft_free(fft);
    return hz;
}

/* 0.5 Hz: the file lasts about 2 s, a bin is a quarter of that wide. */
static void an_engine_sound_peaks_at_87_hz(void **state)
{
    (void)state;
    struct ht_recording recording;
    struct ht_error err = { 0 };
    if (access(ENGINE, R_OK) != 0) {
        print_message("skipped: %s is not installed\n", ENGINE);
        skip();
    }
    if (ht_recording_read(&recording, ENGINE, &plain, &err) != HT_OK)
        fail_msg("%s", err.text);
    assert_close(highest_peak_hz(&recording), 87.1, 0.5);
    ht_recording_free(&recording);
}

static void a_phones_table_is_read_with_its_axes(void **state)
{
    (void)state;
    char path[1024];
    struct ht_recording recording;
    struct ht_error err = { 0 };
    const char *shared = getenv("HALFTURN_SHARED");
    (void)snprintf(path, sizeof path, "%s/road-a/imu.csv",
                   shared ? shared : HALFTURN_SOURCE_DIR "/../shared");
    if (access(path, R_OK) != 0) {
        print_message("skipped: no real drive at %s\n", path);
        skip();
    }
    if (ht_recording_read(&recording, path, &plain, &err) != HT_OK)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < recording.notes; i++)
        print_message("note: %s\n", recording.note[i]);
    assert_int_equal(recording.channels, 3);
    assert_close(recording.rate_hz, 104.26, 0.1);
    assert_int_equal(recording.channel[0].axis, HT_AXIS_FORWARD);
    assert_int_equal(recording.channel[1].axis, HT_AXIS_RIGHT);
    assert_int_equal(recording.channel[2].axis, HT_AXIS_DOWN);
    assert_close(recording.channel[2].mean, -9.7, 0.2);
    ht_recording_free(&recording);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_engine_sound_peaks_at_87_hz),
        cmocka_unit_test(a_phones_table_is_read_with_its_axes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
