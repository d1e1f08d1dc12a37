/* Channels and stretches in which nothing was measured: a plug that is out
 * reads the same number on and on. */
#include "close.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "halfturn/text.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_table_that_stands_still_is_refused),
        cmocka_unit_test(a_dead_axis_is_named_and_left_out),
        cmocka_unit_test(a_dead_channel_of_a_sound_is_named_and_left_out),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
