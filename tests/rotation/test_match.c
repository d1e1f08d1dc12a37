#include "close.h"
#include "random.h"
#include "vehicle.h"

#include "halfturn/rotation.h"

#include <string.h>

static struct ht_rotation rotation;
static double ratios[] = { 3.9, 2.2, 1.4, 1.0, 0.75 };

static void build(double axle_ratio, unsigned gear)
{
    struct ht_sheet_vehicle vehicle = vehicle_blank();
    vehicle.drive = HT_DRIVE_REAR;
    vehicle.tyre = "205/55R16"; /* C = 1.927 m */
    vehicle.axle_ratio = axle_ratio;
    vehicle.gear_ratios = (struct ht_numbers){ ratios, 5 };
    vehicle.engine_cylinders = 4;
    vehicle.engine_strokes = 4;
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, gear, NULL),
                     HT_OK);
}

static bool is_order(size_t order, const char *name)
{
    return strcmp(rotation.order[order].name, name) == 0;
}

static bool coincide(double relative, const char *a, const char *b)
{
    struct ht_coincidence found[64];
    size_t count = ht_rotation_coincide(&rotation, relative, found, 64);
    for (size_t i = 0; i < count; i++)
        if (is_order(found[i].order_a, a) && is_order(found[i].order_b, b))
            return true;
    return false;
}

/* In direct drive shaft and engine are one frequency; a gear change parts
 * them. 4x wheel and 1x shaft are (4 - R) wheel turns apart: R = 3.73 gives
 * 3.891464 Hz and R = 4.10 gives 1.441283 Hz at 14.412831 Hz. */
static void orders_that_meet_are_found_in_their_gear_only(void **state)
{
    (void)state;
    build(3.73, 4);
    assert_true(coincide(1e-9, "1\xc3\x97 shaft", "1\xc3\x97 engine"));
    assert_true(coincide(1e-9, "2\xc3\x97 shaft", "2\xc3\x97 engine"));
    assert_false(coincide(0.03, "4\xc3\x97 wheel", "1\xc3\x97 shaft"));
    build(3.73, 5);
    assert_false(coincide(0.03, "1\xc3\x97 shaft", "1\xc3\x97 engine"));
    build(4.10, 5);
    assert_true(coincide(0.03, "4\xc3\x97 wheel", "1\xc3\x97 shaft"));
    double apart = ht_order_hz(&rotation, &rotation.order[4], 100 / 3.6) -
                   ht_order_hz(&rotation, &rotation.order[3], 100 / 3.6);
    assert_close(apart, 1.441283, 1e-6);
    build(3.73, 0);
    assert_false(coincide(0.03, "1\xc3\x97 shaft", "1\xc3\x97 engine"));
}

/* Service literature: 14 Hz measured, wheel 7 Hz, shaft 22 Hz: second order
 * of the wheel. */
static void a_measured_frequency_finds_the_second_wheel_order(void **state)
{
    (void)state;
    build(22.0 / 7, 5);
    struct ht_hz_match found[8];
    double speed_m_s = 7 * rotation.circumference_m;
    size_t count =
        ht_rotation_match_hz(&rotation, 14, speed_m_s, speed_m_s, 0.03,
                             found, 8);
    assert_int_equal(count, 1);
    assert_true(is_order(found[0].order, "2\xc3\x97 wheel"));
    assert_close(found[0].hz, 14, 1e-9);
}

static void
the_nearest_matches_come_first_and_survive_a_small_room(void **state)
{
    (void)state;
    build(3.73, 5);
    struct ht_hz_match all[64], few[2];
    double speed_m_s = 95 / 3.6;
    size_t count = ht_rotation_match_hz(&rotation, 42, speed_m_s, speed_m_s,
                                        0.5, all, 64);
    assert_true(count > 3);
    for (size_t i = 1; i < count; i++)
        assert_true(fabs(all[i - 1].relative) <= fabs(all[i].relative));
    assert_int_equal(ht_rotation_match_hz(&rotation, 42, speed_m_s, speed_m_s,
                                          0.5, few, 2), 2);
    assert_int_equal(few[0].order, all[0].order);
    assert_int_equal(few[1].order, all[1].order);
}

/* The same drive, 14 Hz: 2x wheel meets it at the speed of 7 wheel turns a
 * second, 1x shaft (22/7 a wheel turn) at that of 4.4545. */
static void over_a_range_each_order_is_met_at_its_own_speed(void **state)
{
    (void)state;
    build(22.0 / 7, 5);
    struct ht_hz_match found[8];
    double turn_m = rotation.circumference_m;
    size_t count = ht_rotation_match_hz(&rotation, 14, 4.4 * turn_m,
                                        7.5 * turn_m, 0.03, found, 8);
    bool wheel = false, shaft = false;
    for (size_t i = 0; i < count; i++) {
        bool is_wheel = is_order(found[i].order, "2\xc3\x97 wheel");
        bool is_shaft = is_order(found[i].order, "1\xc3\x97 shaft");
        if (is_wheel)
            assert_close(found[i].speed_m_s, 7 * turn_m, 1e-9);
        if (is_shaft)
            assert_close(found[i].speed_m_s, 14 / (22.0 / 7) * turn_m, 1e-9);
        if (is_wheel || is_shaft) {
            assert_close(found[i].hz, 14, 1e-9);
            assert_true(found[i].relative == 0);
        }
        wheel = wheel || is_wheel;
        shaft = shaft || is_shaft;
    }
    assert_true(wheel && shaft);
    /* just outside: at the end that is nearest, and by how much */
    count = ht_rotation_match_hz(&rotation, 14, 7.14 * turn_m, 7.5 * turn_m,
                                 0.03, found, 8);
    assert_int_equal(count, 1);
    assert_close(found[0].speed_m_s, 7.14 * turn_m, 1e-9);
    assert_close(found[0].relative, 0.02, 1e-9);
}

static size_t images_of(double rate_hz, const char *folded, const char *seen,
                        double *km_h)
{
    static struct ht_image found[512];
    size_t count =
        ht_rotation_images(&rotation, rate_hz, 135 / 3.6, found, 512);
    size_t kept = 0;
    assert_true(count < 512);
    for (size_t i = 0; i < count; i++) {
        assert_true(i == 0 || found[i].speed_m_s >= found[i - 1].speed_m_s);
        if (is_order(found[i].folded, folded) && is_order(found[i].seen, seen))
            km_h[kept++] = found[i].speed_m_s * 3.6;
    }
    return kept;
}

/* Worked by hand: k * 60 Hz = (7.46 +- 1) v / 1.927 m gives 49, 64, 98 and
 * 129 km/h; at 100 Hz 82 and 107. 0.5: those are rounded to whole km/h. */
static void a_slow_recorder_puts_the_shaft_on_the_wheel(void **state)
{
    (void)state;
    double km_h[64];
    build(3.73, 5);
    static const double at_60[] = { 49, 64, 98, 129 }, at_100[] = { 82, 107 };
    assert_int_equal(images_of(60, "2\xc3\x97 shaft", "1\xc3\x97 wheel", km_h),
                     4);
    for (size_t i = 0; i < 4; i++)
        assert_close(km_h[i], at_60[i], 0.5);
    assert_int_equal(images_of(100, "2\xc3\x97 shaft", "1\xc3\x97 wheel", km_h),
                     2);
    for (size_t i = 0; i < 2; i++)
        assert_close(km_h[i], at_100[i], 0.5);
    assert_int_equal(
        images_of(1000, "2\xc3\x97 shaft", "1\xc3\x97 wheel", km_h), 0);
}

/* Against the samples themselves: a cosine and its image agree at every
 * sampling instant. 1e-9: 200 rad of phase at 1e-16 each, with margin. */
static void an_image_has_the_same_samples(void **state)
{
    (void)state;
    struct random_source source = { 20261124 };
    for (int i = 0; i < 200; i++) {
        double rate_hz = random_uniform(&source, 20, 400);
        double hz = random_uniform(&source, 0, 5) * rate_hz;
        double image_hz = ht_order_image_hz(hz, rate_hz);
        assert_true(image_hz >= 0 && image_hz <= rate_hz / 2);
        for (int k = 0; k < 20; k++) {
            double t_s = k / rate_hz;
            assert_close(cos(6.283185307179586 * hz * t_s),
                         cos(6.283185307179586 * image_hz * t_s), 1e-9);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(orders_that_meet_are_found_in_their_gear_only),
        cmocka_unit_test(a_measured_frequency_finds_the_second_wheel_order),
        cmocka_unit_test(over_a_range_each_order_is_met_at_its_own_speed),
        cmocka_unit_test(
            the_nearest_matches_come_first_and_survive_a_small_room),
        cmocka_unit_test(a_slow_recorder_puts_the_shaft_on_the_wheel),
        cmocka_unit_test(an_image_has_the_same_samples),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
