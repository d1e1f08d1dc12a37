/* Accelerometer tables with an odd column: read or named for what it is, never
 * taken for a lack of memory. */
#include "close.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "halfturn/text.h"

#include <math.h>
#include <string.h>

static enum ht_status read_table(struct ht_recording *r,
                                 const struct ht_text *text,
                                 struct ht_error *err)
{
    struct ht_recording_options options = { .highest_hz = NAN };
    return ht_recording_read(r, scratch_text("odd.csv", ht_text_get(text)),
                             &options, err);
}

/* 40 rows at 100 Hz; the stamp of one is wrong, an axis holds nothing and is
 * left out. */
static void an_empty_axis_beside_a_late_stamp_is_read(void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    ht_text_add(&text, "time_s,x,y,z\n");
    for (int i = 0; i < 40; i++)
        ht_text_addf(&text, "0.%d%d,0.%d,,9.%d\n", i == 8 ? 8 : i / 10,
                     i % 10, i % 7, i % 3);
    if (read_table(&r, &text, &err) != HT_OK)
        fail_msg("%s", err.text);
    assert_int_equal(r.channels, 2);
    assert_string_equal(r.channel[0].name, "x");
    assert_string_equal(r.channel[1].name, "z");
    ht_recording_free(&r);
    ht_text_free(&text);
}

/* More than half of the steps are none. */
static void a_time_that_stands_still_is_named(void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    ht_text_add(&text, "t,x,y\n");
    for (int i = 0; i < 10; i++)
        ht_text_addf(&text, "%d,%d,1\n", i > 5 ? i - 5 : 0, i);
    assert_int_equal(read_table(&r, &text, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "millionth of a second"));
    ht_recording_free(&r);
    ht_text_free(&text);
}

/* Where an axis begins late its first value stands for what is missing: the
 * very first sample as well. */
static void an_axis_that_begins_late_begins_at_its_first_value(void **state)
{
    (void)state;
    struct ht_text text = { 0 };
    struct ht_recording r;
    struct ht_error err = { 0 };
    ht_text_add(&text, "time_s,x,y,z\n");
    for (int i = 0; i < 40; i++)
        ht_text_addf(&text, "0.%02d,0.%d,%s,9.8\n", i, i % 7,
                     i < 5 ? "" : i < 20 ? "2.5" : "3.5");
    if (read_table(&r, &text, &err) != HT_OK)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < r.frames; i++)
        assert_close((double)r.channel[1].samples[i], i < 20 ? -0.5 : 0.5, 0);
    assert_close(r.channel[1].mean, 3, 0);
    ht_recording_free(&r);
    ht_text_free(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_axis_beside_a_late_stamp_is_read),
        cmocka_unit_test(a_time_that_stands_still_is_named),
        cmocka_unit_test(an_axis_that_begins_late_begins_at_its_first_value),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
