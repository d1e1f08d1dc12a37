/* One open recording of a passenger car, 60 s (comma2k19, MIT licence), that
 * lies beside the checkout and is not part of it. */
#include "close.h"

#include "halfturn/speed.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct rows {
    double (*value)[4];
    size_t count;
};

static FILE *open_beside(const char *name)
{
    char path[512];
    const char *shared = getenv("HALFTURN_SHARED");
    if (shared)
        snprintf(path, sizeof path, "%s/road-a/%s", shared, name);
    else
        snprintf(path, sizeof path, "%s/../shared/road-a/%s",
                 HALFTURN_SOURCE_DIR, name);
    return fopen(path, "r");
}

/* The first `columns` numbers of each line after the first. */
static bool read_rows(struct rows *rows, const char *name, size_t columns)
{
    FILE *file = open_beside(name);
    char line[512];
    size_t room = 16384;
    *rows = (struct rows){ calloc(room, sizeof *rows->value), 0 };
    if (!file || !rows->value || !fgets(line, sizeof line, file)) {
        if (file)
            fclose(file);
        return false;
    }
    while (rows->count < room && fgets(line, sizeof line, file)) {
        char *at = line;
        for (size_t c = 0; c < columns; c++) {
            rows->value[rows->count][c] = strtod(at, &at);
            at += *at == ',';
        }
        rows->count++;
    }
    fclose(file);
    return true;
}

/* Uneven rows put on the mean step by straight lines: good to 1 % below
 * 20 Hz, where this car's wheel orders lie. */
static void fill_recording(struct ht_recording *r, struct ht_channel *channel,
                           const struct rows *imu)
{
    size_t n = imu->count;
    double length_s = imu->value[n - 1][0] - imu->value[0][0];
    *r = (struct ht_recording){ .rate_hz = (double)(n - 1) / length_s,
                                .frames = n,
                                .channels = 3,
                                .channel = channel };
    for (size_t c = 0; c < 3; c++) {
        channel[c] = (struct ht_channel){ .unit = HT_UNIT_M_S2 };
        channel[c].samples = calloc(n, sizeof(float));
        for (size_t i = 0, j = 0; i < n; i++) {
            double t = imu->value[0][0] + (double)i / r->rate_hz;
            while (j + 2 < n && imu->value[j + 1][0] < t)
                j++;
            const double *a = imu->value[j], *b = imu->value[j + 1];
            channel[c].samples[i] =
                (float)(a[c + 1] +
                        (t - a[0]) / (b[0] - a[0]) * (b[c + 1] - a[c + 1]));
        }
    }
}

static bool find_with(struct ht_turns *t, const char *log_name,
                      double circumference_m, bool turned_round)
{
    struct rows imu, log;
    bool there = read_rows(&imu, "imu.csv", 4);
    there = read_rows(&log, log_name, 2) && there;
    if (there) {
        struct ht_recording recording;
        struct ht_channel channel[3];
        fill_recording(&recording, channel, &imu);
        double *times = calloc(2 * log.count, sizeof *times);
        for (size_t i = 0; i < log.count; i++) {
            times[i] = log.value[i][0];
            size_t from = turned_round ? log.count - 1 - i : i;
            times[log.count + i] = log.value[from][1];
        }
        struct ht_speed_log speed = { .time_s = times,
                                      .rows = log.count,
                                      .speed_m_s = times + log.count };
        struct ht_rotation rotation = { .circumference_m = circumference_m,
                                        .shaft_turns = NAN,
                                        .circumference_low_m = NAN,
                                        .circumference_high_m = NAN,
                                        .cylinders = 4,
                                        .strokes = 4 };
        struct ht_speed_request request = { &recording, &rotation, &speed,
                                            NAN, NAN, { 0 } };
        struct ht_error err = { 0 };
        assert_int_equal(ht_turns_find(t, &request, &err), HT_OK);
        for (size_t c = 0; c < 3; c++)
            free(channel[c].samples);
        free(times);
    }
    free(imu.value);
    free(log.value);
    if (!there)
        print_message("the real drive is not beside this checkout: skipped\n");
    return there;
}

/* By the car's own wheel speeds and the spectrum over distance one turn is
 * 2.160 m; the goal is 1 %. */
static void one_wheel_turn_of_the_real_car_is_2_16_m(void **state)
{
    (void)state;
    static const double tyres[] = { NAN, 2.142 /* 225/60R17 by 3.05 d */ };
    for (size_t i = 0; i < 2; i++) {
        struct ht_turns t;
        if (!find_with(&t, "speed.csv", tyres[i], false))
            skip();
        assert_int_equal(t.state, HT_SPEED_ACCEPTED);
        assert_true(t.circumference_found);
        assert_close_relative(t.circumference_m, 2.160, 0.01);
        /* 1004 m by the car's speed (60 s): 1004 / 2.16 turns; 1 %. */
        assert_close_relative(t.turns[t.points - 1], 1004 / 2.160, 0.01);
        assert_int_equal(t.gear, 0);
        ht_turns_free(&t);
    }
}

/* The satellite speed reads 1.0087 of the car's; it is known to arrive 0.15
 * to 0.2 s later than the car's own; the lag goal is 0.1 s on each log. */
static void the_satellite_log_is_longer_and_later(void **state)
{
    (void)state;
    struct ht_turns car, satellite;
    if (!find_with(&car, "speed.csv", NAN, false) ||
        !find_with(&satellite, "gps_speed.csv", NAN, false))
        skip();
    assert_int_equal(satellite.state, HT_SPEED_ACCEPTED);
    assert_close_relative(satellite.circumference_m / car.circumference_m,
                          1.0087, 0.005);
    assert_close(satellite.lag_s - car.lag_s, 0.175, 0.1 * sqrt(2));
    ht_turns_free(&car);
    ht_turns_free(&satellite);
}

/* Turned round in time, the log fits nowhere: no circumference may come out
 * of it. */
static void a_wrong_log_finds_no_tyre_in_the_real_drive(void **state)
{
    (void)state;
    struct ht_turns t;
    if (!find_with(&t, "speed.csv", NAN, true))
        skip();
    assert_int_equal(t.state, HT_SPEED_REFUSED);
    assert_false(t.circumference_found);
    ht_turns_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_wheel_turn_of_the_real_car_is_2_16_m),
        cmocka_unit_test(the_satellite_log_is_longer_and_later),
        cmocka_unit_test(a_wrong_log_finds_no_tyre_in_the_real_drive),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
