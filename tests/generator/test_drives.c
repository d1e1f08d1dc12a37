/* The drive maker is itself held to its word: against a plain correlation with
 * the true angle, against differences of its own closed forms, and twice with
 * the same seed. */
#include "close.h"
#include "drive_maker.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct drive *made(struct drive_request request)
{
    static struct drive *kept;
    drive_free(kept);
    kept = drive_make(&request);
    assert_non_null(kept);
    return kept;
}

static void one_seed_gives_one_drive(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(7, DRIVE_SHAFT_UNBALANCE);
    struct drive *first = drive_make(&request), *second = drive_make(&request);
    assert_memory_equal(first->samples[2], second->samples[2],
                        first->frames * sizeof(float));
    request.seed = 8;
    struct drive *other = drive_make(&request);
    assert_memory_not_equal(first->samples[2], other->samples[2],
                            first->frames * sizeof(float));
    drive_free(first);
    drive_free(second);
    drive_free(other);
}

/* Central differences over 1 ms: the third derivative of the turns stays below
 * 3 turns/s3 here, so h^2 / 6 times it is below 1e-6; 1e-5 with margin. */
static void speed_is_the_slope_of_the_turns(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(11, DRIVE_HEALTHY);
    request.from_standstill = true;
    const struct drive *drive = made(request);
    double h = 1e-3;
    for (double t = 1; t < drive->duration_s - 1; t += 0.37) {
        double slope =
            (drive_turns_at(drive, t + h) - drive_turns_at(drive, t - h)) /
            (2 * h);
        assert_close(slope * drive->vehicle.circumference_m,
                     drive_speed_at(drive, t), 1e-5);
        double rise =
            (drive_speed_at(drive, t + h) - drive_speed_at(drive, t - h)) /
            (2 * h);
        assert_close(rise, drive_acceleration_at(drive, t), 1e-5);
    }
}

static double cycles_of(const struct drive *drive, enum drive_part part,
                        double multiple, size_t frame)
{
    double turns = drive_turns_at(drive, (double)frame / drive->rate_hz);
    double per_wheel = part == DRIVE_WHEEL ? 1 : drive->vehicle.axle_ratio;
    if (part == DRIVE_ENGINE)
        return multiple * drive->engine_turns[frame];
    return multiple * per_wheel * turns;
}

/* 2 |mean x exp(-i angle)| over the frames driven between two speeds. */
static double correlate(const struct drive *drive, enum drive_part part,
                        double multiple, int axis, double from, double to)
{
    double real = 0, imaginary = 0, turns = 0;
    for (size_t i = 0; i < drive->frames; i++) {
        double speed = drive_speed_at(drive, (double)i / drive->rate_hz);
        if (speed < from || speed >= to)
            continue;
        double angle = 6.283185307179586 * cycles_of(drive, part, multiple, i);
        double sample = (double)drive->samples[axis][i];
        real += speed * sample * cos(angle);
        imaginary += speed * sample * sin(angle);
        turns += speed;
    }
    return 2 * hypot(real, imaginary) / turns;
}

/* Every line of drives without noise and without slow forces stands in the
 * samples with the amplitude the truth says. The other lines leave a little of
 * themselves in so short a correlation: 0.08 % of the loudest at most,
 * measured over these seeds on 2026-11-24; 0.2 % asked. */
static void the_truth_is_what_the_samples_hold(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 4; seed++) {
        struct drive_request request =
            drive_request_for(seed, DRIVE_TYRE_UNIFORMITY);
        request.noise_m_s2 = 0;
        request.bumps = false;
        request.dc_coupled = false;
        request.bits = 0;
        request.severity_m_s2 = 0.3;
        request.modes = seed & 1;
        const struct drive *drive = made(request);
        for (int axis = 0; axis < 3; axis++) {
            for (double multiple = 1; multiple <= 3; multiple++) {
                double truth = drive_truth(drive, DRIVE_WHEEL, multiple, axis,
                                           80 / 3.6, 100 / 3.6);
                double found = correlate(drive, DRIVE_WHEEL, multiple, axis,
                                         80 / 3.6, 100 / 3.6);
                assert_close(found, truth, 0.002 * 0.3);
            }
        }
    }
}

static void the_axes_add_up_to_the_whole(void **state)
{
    (void)state;
    const struct drive *drive =
        made(drive_request_for(3, DRIVE_ANGLE_MISMATCH));
    double sum = 0;
    for (int axis = 0; axis < 3; axis++) {
        double level =
            drive_truth(drive, DRIVE_SHAFT, 2, axis, 70 / 3.6, 90 / 3.6);
        sum += level * level;
    }
    double all = drive_truth(drive, DRIVE_SHAFT, 2, -1, 70 / 3.6, 90 / 3.6);
    assert_close_relative(sqrt(sum), all, 1e-12);
    assert_close(drive_truth(drive, DRIVE_SHAFT, 3, -1, 20, 25), 0, 0);
    assert_true(isnan(drive_truth(drive, DRIVE_SHAFT, 2, -1, 60, 70)));
}

/* Unbalance force goes with speed squared: away from a resonance the level at
 * 100 km/h is (100 / 60)^2 that at 60. The bins are 4 km/h wide; their means
 * lie within 0.5 % of the middle's value, two of them 1 %. */
static void a_fault_grows_by_its_law(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(5, DRIVE_SHAFT_UNBALANCE);
    request.severity_m_s2 = 0.2;
    const struct drive *drive = made(request);
    double slow = drive_truth(drive, DRIVE_SHAFT, 1, -1, 58 / 3.6, 62 / 3.6);
    double fast = drive_truth(drive, DRIVE_SHAFT, 1, -1, 98 / 3.6, 102 / 3.6);
    assert_close_relative(fast, 0.2, 0.02);
    assert_close_relative(fast / slow, 25.0 / 9, 0.03);
}

/* At rest a level sensor would read 9.80665 on its z axis; a mount turned by
 * at most 0.1 rad still reads the same length of the vector. */
static void gravity_keeps_its_length_in_a_tilted_mount(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(9, DRIVE_HEALTHY);
    request.from_standstill = true;
    request.tilt_rad = 0.5;
    const struct drive *drive = made(request);
    double sum[3] = { 0, 0, 0 };
    size_t frames = (size_t)(6 * drive->rate_hz);
    for (size_t i = 0; i < frames; i++)
        for (int a = 0; a < 3; a++)
            sum[a] += (double)drive->samples[a][i] / (double)frames;
    double length = sqrt(sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]);
    /* bends (0.3 across) and a 1 % grade add their squares: 0.005 */
    assert_close(length, 9.80665, 0.02);
    assert_true(fabs(sum[2]) < 9.8);
}

static void the_log_is_late_scaled_and_stepped(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(13, DRIVE_HEALTHY);
    request.log_lag_s = 0.6;
    request.log_scale = 1.03;
    request.log_noise_m_s = 0;
    request.log_step_km_h = 1;
    const struct drive *drive = made(request);
    for (size_t i = 1; i < drive->log_rows; i++) {
        double km_h = drive->log_speed_m_s[i] * 3.6;
        assert_close(km_h, round(km_h), 1e-9);
        double then = drive_speed_at(drive, drive->log_time_s[i] - 0.6) * 3.6;
        assert_close(km_h, 1.03 * then, 0.5 + 1e-9);
    }
}

static void gear_changes_keep_the_engine_below_its_limit(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(17, DRIVE_HEALTHY);
    request.shifts = true;
    request.from_standstill = true;
    const struct drive *drive = made(request);
    unsigned char least = 99, most = 0;
    for (size_t i = 1; i < drive->frames; i++) {
        double rpm = 60 * drive->rate_hz *
                     (drive->engine_turns[i] - drive->engine_turns[i - 1]);
        assert_true(rpm > 700 && rpm < 4500);
        least = drive->gear_at[i] < least ? drive->gear_at[i] : least;
        most = drive->gear_at[i] > most ? drive->gear_at[i] : most;
    }
    assert_true(least < most);
}

static void every_fault_stands_where_its_name_says(void **state)
{
    (void)state;
    static const struct {
        enum drive_fault fault;
        enum drive_part part;
        double multiple;
    } rows[] = { { DRIVE_WHEEL_UNBALANCE, DRIVE_WHEEL, 1 },
                 { DRIVE_SHAFT_UNBALANCE, DRIVE_SHAFT, 1 },
                 { DRIVE_ANGLE_MISMATCH, DRIVE_SHAFT, 2 },
                 { DRIVE_ENGINE_MISFIRE, DRIVE_ENGINE, 0.5 },
                 { DRIVE_HALF_SHAFT_JOINT, DRIVE_WHEEL, 3 } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct drive_request request = drive_request_for(21, rows[i].fault);
        request.severity_m_s2 = 0.3;
        const struct drive *drive = made(request);
        double found = 0, best_other = 0;
        for (int axis = 0; axis < 3; axis++)
            found = fmax(found, correlate(drive, rows[i].part, rows[i].multiple,
                                          axis, 70 / 3.6, 115 / 3.6));
        best_other = correlate(drive, rows[i].part, rows[i].multiple + 0.37, 2,
                               70 / 3.6, 115 / 3.6);
        assert_true(found > 0.05);
        assert_true(found > 5 * best_other);
    }
}

static void a_wav_file_holds_the_samples(void **state)
{
    (void)state;
    const struct drive *drive = made(drive_request_for(4, DRIVE_HEALTHY));
    char path[] = "/tmp/halfturn-drive-XXXXXX";
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    close(descriptor);
    assert_true(drive_write_wav(drive, path));
    FILE *file = fopen(path, "rb");
    unsigned char bytes[44 + 600];
    assert_int_equal(fread(bytes, 1, sizeof bytes, file), sizeof bytes);
    fseek(file, 0, SEEK_END);
    assert_int_equal(ftell(file), 44 + (long)drive->frames * 6);
    fclose(file);
    unlink(path);
    assert_memory_equal(bytes, "RIFF", 4);
    double step = drive->request.full_scale_m_s2 / 32768;
    for (size_t i = 0; i < 100; i++) {
        unsigned raw = bytes[44 + 6 * i + 4] | (unsigned)bytes[44 + 6 * i + 5]
                                                   << 8;
        double value = step * (raw < 32768 ? (double)raw : (double)raw - 65536);
        assert_close(value, (double)drive->samples[2][i], step / 100);
    }
}

static int forget(void **state)
{
    (void)state;
    struct drive_request request = drive_request_for(1, DRIVE_HEALTHY);
    request.duration_s = 2;
    made(request);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_seed_gives_one_drive),
        cmocka_unit_test(speed_is_the_slope_of_the_turns),
        cmocka_unit_test(the_truth_is_what_the_samples_hold),
        cmocka_unit_test(the_axes_add_up_to_the_whole),
        cmocka_unit_test(a_fault_grows_by_its_law),
        cmocka_unit_test(gravity_keeps_its_length_in_a_tilted_mount),
        cmocka_unit_test(the_log_is_late_scaled_and_stepped),
        cmocka_unit_test(gear_changes_keep_the_engine_below_its_limit),
        cmocka_unit_test(every_fault_stands_where_its_name_says),
        cmocka_unit_test(a_wav_file_holds_the_samples),
    };
    return cmocka_run_group_tests(tests, NULL, forget);
}
