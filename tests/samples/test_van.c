/* The sample case from its files to its orders: what the van is known to do,
 * because samples/make.c put it there. */
#include "close.h"

#include "halfturn/orders.h"
#include "halfturn/recording.h"
#include "halfturn/rotation.h"
#include "halfturn/sheet.h"
#include "halfturn/speed.h"

#include <math.h>
#include <stdlib.h>

#define VAN HALFTURN_SOURCE_DIR "/samples/van/"

static struct ht_sheet sheet;
static struct ht_rotation rotation;
static struct ht_recording recording;
static struct ht_speed_log speed_log;
static struct ht_turns turns;
static struct ht_orders orders;
static struct ht_error err;

static void done(enum ht_status status)
{
    if (status != HT_OK)
        fail_msg("%s", err.text);
}

static int read_and_find(void **state)
{
    (void)state;
    done(ht_sheet_read(&sheet, VAN "case.yaml", NULL, &err));
    const struct ht_sheet_drive *drive = &sheet.drives[0];
    done(ht_rotation_from_vehicle(&rotation, &sheet.vehicle,
                                  (unsigned)drive->gear, &err));
    struct ht_recording_options options = { .highest_hz = NAN,
                                            .unit = drive->unit,
                                            .channel = drive->channels,
                                            .channels = drive->channel_count,
                                            .place = drive->place };
    done(ht_recording_read(&recording, VAN "drive.flac", &options, &err));
    done(ht_speed_log_read(&speed_log, VAN "speed.csv", &drive->speed, &err));
    struct ht_speed_request request = { .recording = &recording,
                                        .rotation = &rotation,
                                        .log = &speed_log,
                                        .steady_m_s = NAN };
    done(ht_turns_find(&turns, &request, &err));
    done(ht_orders_find(&orders, &recording, &rotation, &turns, 0.04, NULL,
                        &err));
    return 0;
}

static int forget(void **state)
{
    (void)state;
    ht_orders_free(&orders);
    ht_turns_free(&turns);
    ht_speed_log_free(&speed_log);
    ht_recording_free(&recording);
    ht_sheet_free(&sheet);
    return 0;
}

/* 256 s at 500 Hz, three axes in m/s2; the upright one holds gravity less the
 * cosines of its 0.03 and 0.05 rad of tilt. */
static void the_recording_is_read_in_its_unit(void **state)
{
    (void)state;
    assert_int_equal(recording.channels, 3);
    assert_close((double)recording.frames / recording.rate_hz, 256, 0.5);
    assert_int_equal(recording.channel[2].axis, HT_AXIS_UP);
    assert_int_equal(recording.channel[2].unit, HT_UNIT_M_S2);
    assert_close(recording.channel[2].mean, 9.80665 * cos(0.03) * cos(0.05),
                 0.02);
    assert_int_equal(recording.channel[2].clipped, 0);
}

/* The log was made 0.7 s late, the tyre 1.2 % shorter than its code: goals of
 * 0.1 s and 0.2 %. */
static void lag_and_circumference_are_found(void **state)
{
    (void)state;
    assert_int_equal(turns.state, HT_SPEED_ACCEPTED);
    assert_close(turns.lag_s, 0.7, 0.1);
    assert_close_relative(turns.circumference_m, 2.171295 * 0.988, 0.002);
}

/* Level x |H| of the damped mode at 62 Hz, relative to 95 km/h where it is
 * 0.17 m/s2: samples/make.c. 5 %: the goal of 3 % median, and the bins' width
 * of 4 km/h, which a law of speed squared turns into 1 %. */
static void the_hum_is_measured_as_it_was_made(void **state)
{
    (void)state;
    const struct ht_order_result *hum = ht_orders_get(&orders, "shaft", 2);
    assert_non_null(hum);
    assert_int_equal(hum->state, HT_SEEN);
    double hz = hum->at_m_s / turns.circumference_m * 2 * 41 / 11;
    double r = hz / 62, r0 = 95 / 3.6 / (2.171295 * 0.988) * 82 / 11 / 62;
    double h = r * r / hypot(1 - r * r, 0.7 * r);
    double h0 = r0 * r0 / hypot(1 - r0 * r0, 0.7 * r0);
    double truth = 0.17 * pow(hum->at_m_s * 3.6 / 95, 2) * h / h0;
    assert_close_relative(hum->level.value, truth, 0.05);
    /* The slope from 58 to 108 km/h is 2.08 by the same law; it runs from 3.8
     * to 1.5 in between, so weights move a fit: 0.3. */
    assert_close(hum->exponent, 2.08, 0.3);
    assert_true(fabs(hum->pull_db) < 1);
}

static void nothing_else_of_the_van_is_loud(void **state)
{
    (void)state;
    for (size_t i = 0; i < orders.results; i++) {
        const struct ht_order_result *one = &orders.result[i];
        if (one->channel != -1 || one == ht_orders_get(&orders, "shaft", 2) ||
            one->state != HT_SEEN)
            continue;
        if (one->level.low > 0.04)
            fail_msg("%s is read as %.3f", one->order.name, one->level.value);
    }
    assert_int_not_equal(ht_orders_get(&orders, "shaft", 3)->state, HT_SEEN);
    assert_int_not_equal(ht_orders_get(&orders, "alternator", 1)->state,
                         HT_SEEN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_recording_is_read_in_its_unit),
        cmocka_unit_test(lag_and_circumference_are_found),
        cmocka_unit_test(the_hum_is_measured_as_it_was_made),
        cmocka_unit_test(nothing_else_of_the_van_is_loud),
    };
    return cmocka_run_group_tests(tests, read_and_find, forget);
}
