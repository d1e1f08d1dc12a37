#include "close.h"
#include "vehicle.h"

#include "halfturn/rotation.h"

#include "common/constants.h"

#include <stdio.h>
#include <string.h>

static struct ht_rotation rotation; /* large: not on the stack */

static double hz_of(const char *order, double km_h)
{
    for (size_t i = 0; i < rotation.orders; i++)
        if (strcmp(rotation.order[i].name, order) == 0)
            return ht_order_hz(&rotation, &rotation.order[i], km_h / 3.6);
    return -1;
}

static bool asked(const char *order)
{
    return hz_of(order, 100) != -1;
}

static bool noted(const char *piece)
{
    for (size_t i = 0; i < rotation.notes; i++)
        if (strstr(rotation.note[i], piece))
            return true;
    return false;
}

static void build(const struct ht_sheet_vehicle *vehicle, unsigned gear)
{
    struct ht_error err = { 0 };
    if (ht_rotation_from_vehicle(&rotation, vehicle, gear, &err) != HT_OK)
        fail_msg("%s", err.text);
}

static double car_ratios[] = { 3.9, 2.2, 1.4, 1.0, 0.75 };

static struct ht_sheet_vehicle car(double axle_ratio)
{
    struct ht_sheet_vehicle vehicle = vehicle_blank();
    vehicle.class = HT_CLASS_CAR;
    vehicle.drive = HT_DRIVE_REAR;
    vehicle.tyre = "205/55R16";
    vehicle.axle_ratio = axle_ratio;
    vehicle.gear_ratios = (struct ht_numbers){ car_ratios, 5 };
    vehicle.engine_cylinders = 8;
    vehicle.engine_strokes = 4;
    return vehicle;
}

/* f_wheel = v / C, shaft = ratio times that, engine = gear ratio times the
 * shaft, four-stroke firing = cylinders / 2 per turn. Figures worked by hand
 * to eight digits; 1e-6 relative: their rounding. */
static void frequencies_follow_speed_over_circumference(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.73);
    build(&vehicle, 5);
    assert_close_relative(hz_of("1\xc3\x97 wheel", 100), 14.412831, 1e-6);
    assert_close_relative(hz_of("1\xc3\x97 shaft", 100), 53.759861, 1e-6);
    assert_close_relative(hz_of("2\xc3\x97 shaft", 100), 107.519722, 1e-6);
    assert_close_relative(hz_of("1\xc3\x97 engine", 100), 40.319896, 1e-6);
    assert_close_relative(hz_of("4\xc3\x97 engine", 100), 161.279583, 1e-6);
    /* revolutions per mile of that tyre = 60 x wheel Hz at 60 mph */
    assert_close_relative(
        60 * hz_of("1\xc3\x97 wheel", 60 * HT_M_S_PER_MPH * 3.6), 835.0273310,
        1e-7);
}

static void a_mile_an_hour_case_comes_out_too(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.55);
    vehicle.tyre = "265/70R17";
    build(&vehicle, 0);
    double km_h = 65 * HT_M_S_PER_MPH * 3.6;
    assert_close_relative(hz_of("1\xc3\x97 wheel", km_h), 11.867317, 1e-6);
    assert_close_relative(hz_of("1\xc3\x97 shaft", km_h), 42.128975, 1e-6);
    assert_close_relative(hz_of("2\xc3\x97 shaft", km_h), 84.257950, 1e-6);
}

/* Mesh = ring teeth x wheel: 41 x 14.412831 Hz. */
static void axle_mesh_counts_the_ring_gears_teeth(void **state)
{
    (void)state;
    static double teeth[] = { 41, 11 };
    struct ht_sheet_vehicle vehicle = car(NAN);
    vehicle.axle_teeth = (struct ht_numbers){ teeth, 2 };
    build(&vehicle, 5);
    assert_close_relative(rotation.shaft_turns, 3.7272727272727273, 1e-15);
    assert_close_relative(hz_of("1\xc3\x97 axle mesh", 100), 590.92608, 1e-6);
}

/* Service literature: V8 at 1200 rpm turns at 20 Hz, fires at 80 Hz. */
static void a_v8_fires_four_times_a_turn(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.73);
    build(&vehicle, 4);
    double km_h = 20 * rotation.circumference_m / 3.73 * 3.6;
    assert_close(hz_of("1\xc3\x97 engine", km_h), 20, 1e-9);
    assert_close(hz_of("4\xc3\x97 engine", km_h), 80, 1e-9);
}

/* Service literature of a vehicle maker, 2021: normal order 1.5 for three
 * cylinders, 2 for four, 2.5, 3, 4, 5 and 6 for 5, 6, 8, 10 and 12. */
static void every_engine_is_asked_for_its_firing_order(void **state)
{
    (void)state;
    static const struct {
        double cylinders;
        const char *firing;
    } rows[] = { { 3, "1.5\xc3\x97 engine" }, { 4, "2\xc3\x97 engine" },
                 { 5, "2.5\xc3\x97 engine" }, { 6, "3\xc3\x97 engine" },
                 { 8, "4\xc3\x97 engine" },   { 10, "5\xc3\x97 engine" },
                 { 12, "6\xc3\x97 engine" } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_sheet_vehicle vehicle = car(3.73);
        vehicle.engine_cylinders = rows[i].cylinders;
        build(&vehicle, 4);
        assert_true(asked(rows[i].firing));
        assert_true(asked("0.5\xc3\x97 engine"));
        for (size_t k = 0; k < rotation.orders; k++) {
            double twice = rotation.order[k].multiple * 2;
            assert_close(twice, floor(twice), 0);
        }
    }
}

static void a_two_stroke_has_no_half_orders(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.engine_cylinders = 3;
    vehicle.engine_strokes = 2;
    build(&vehicle, 4);
    assert_true(asked("3\xc3\x97 engine"));
    assert_false(asked("0.5\xc3\x97 engine"));
    assert_false(asked("1.5\xc3\x97 engine"));
}

static void an_unknown_gear_leaves_engine_and_accessories_open(void **state)
{
    (void)state;
    static struct ht_named_ratio alternator = { "alternator", 2.6 };
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.accessories = &alternator;
    vehicle.accessory_count = 1;
    build(&vehicle, 0);
    assert_true(isnan(hz_of("1\xc3\x97 engine", 100)));
    assert_true(isnan(hz_of("1\xc3\x97 alternator", 100)));
    assert_true(noted("Gear not known"));
    build(&vehicle, 5);
    assert_close(hz_of("1\xc3\x97 alternator", 100),
                 2.6 * hz_of("1\xc3\x97 engine", 100), 1e-9);
    assert_close(rotation.gear_turns[4], 3.73 * 0.75, 1e-12);
    assert_int_equal(rotation.gears, 5);
}

static void without_an_axle_ratio_the_shaft_stays_unknown(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(NAN);
    build(&vehicle, 5);
    assert_true(isnan(rotation.shaft_turns));
    assert_true(isnan(hz_of("1\xc3\x97 shaft", 100)));
    assert_true(noted("nothing can be said about the shaft"));
    assert_true(hz_of("1\xc3\x97 wheel", 100) > 14);
}

static void front_drive_has_no_propeller_shaft_but_an_engine(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.drive = HT_DRIVE_FRONT;
    build(&vehicle, 5);
    assert_true(isnan(rotation.shaft_turns));
    assert_false(asked("1\xc3\x97 shaft"));
    assert_close_relative(hz_of("1\xc3\x97 engine", 100), 40.319896, 1e-6);
    assert_true(noted("3\xc3\x97 half-shaft is the same frequency"));
    assert_false(asked("3\xc3\x97 half-shaft"));
}

static void hub_reduction_speeds_up_everything_before_it(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(2.0);
    vehicle.class = HT_CLASS_HEAVY_TRUCK;
    vehicle.hub_ratio = 1.8;
    build(&vehicle, 4);
    assert_close(rotation.shaft_turns, 3.6, 1e-12);
    assert_close(rotation.gear_turns[3], 3.6, 1e-12);
    assert_close(hz_of("3\xc3\x97 half-shaft", 100),
                 5.4 * hz_of("1\xc3\x97 wheel", 100), 1e-9);
    assert_false(noted("hub reduction"));
    vehicle.hub_ratio = NAN;
    build(&vehicle, 4);
    assert_true(noted("No hub reduction given"));
}

static void low_range_multiplies_the_engine_not_the_shaft(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(4.1);
    vehicle.drive = HT_DRIVE_ALL;
    vehicle.transfer_low = 2.7;
    vehicle.transfer_high = 1.0;
    vehicle.transfer_in = "low";
    build(&vehicle, 4);
    assert_close(rotation.shaft_turns, 4.1, 1e-12);
    assert_close(rotation.gear_turns[3], 4.1 * 2.7, 1e-12);
    vehicle.transfer_in = "high";
    build(&vehicle, 4);
    assert_close(rotation.gear_turns[3], 4.1, 1e-12);
    vehicle.transfer_in = "low";
    vehicle.transfer_low = NAN;
    struct ht_error err = { 0 };
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 4, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "low ratio is not given"));
}

static void an_electric_motor_follows_the_wheels_in_one_gear(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = vehicle_blank();
    vehicle.tyre = "205/55R16";
    vehicle.drive = HT_DRIVE_FRONT;
    vehicle.motor_ratio = 9.1;
    build(&vehicle, 0);
    assert_close_relative(hz_of("1\xc3\x97 electric motor", 100),
                          9.1 * 14.412831, 1e-6);
    assert_false(asked("1\xc3\x97 engine"));
}

static void an_accessory_may_not_take_another_parts_name(void **state)
{
    (void)state;
    static struct ht_named_ratio accessories[] = {
        { "fan", 1.1 }, { "shaft", 2 }, { "fan", 3 }, { "pump", NAN }
    };
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.accessories = accessories;
    vehicle.accessory_count = 4;
    build(&vehicle, 5);
    assert_close_relative(hz_of("1\xc3\x97 fan", 100), 1.1 * 40.319896, 1e-6);
    assert_close_relative(hz_of("1\xc3\x97 shaft", 100), 53.759861, 1e-6);
    assert_true(noted("\"shaft\" is left out: another part has that name"));
    assert_true(noted("\"pump\" is left out: no ratio is given"));
    assert_false(asked("1\xc3\x97 pump"));
}

static void more_accessories_than_room_are_named(void **state)
{
    (void)state;
    static struct ht_named_ratio accessories[40];
    static char names[40][8];
    for (int i = 0; i < 40; i++) {
        snprintf(names[i], sizeof names[i], "pump%d", i);
        accessories[i] = (struct ht_named_ratio){ names[i], 1 + i / 10.0 };
    }
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.accessories = accessories;
    vehicle.accessory_count = 40;
    build(&vehicle, 5);
    assert_true(rotation.parts == HT_PARTS_MAX);
    assert_true(rotation.orders <= HT_ORDERS_MAX);
    assert_true(noted("there are too many parts"));
}

static void counted_turns_override_the_tyre_code(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = car(3.73);
    vehicle.tyre_turns_per_m = 0.525;
    build(&vehicle, 5);
    assert_close(rotation.circumference_m, 1 / 0.525, 1e-12);
    assert_false(noted("disagree"));
    vehicle.tyre_turns_per_m = 0.6;
    build(&vehicle, 5);
    assert_true(noted("disagree"));
}

static void contradictions_are_refused_with_a_way_out(void **state)
{
    (void)state;
    static double teeth[] = { 41, 11 }, swapped[] = { 11, 41 };
    struct ht_sheet_vehicle vehicle = car(4.10);
    vehicle.axle_teeth = (struct ht_numbers){ teeth, 2 };
    struct ht_error err = { 0 };
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "3.727"));
    assert_non_null(strstr(err.text, "4.100"));
    vehicle.axle_ratio = 3.73; /* the printed rounding is no contradiction */
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_OK);
    vehicle.axle_teeth = (struct ht_numbers){ swapped, 2 };
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "[41, 11]"));
    vehicle.axle_teeth.count = 1;
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "Numbers in axle_teeth: 1"));
    swapped[1] = 0;
    vehicle.axle_teeth.count = 2;
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "[11, 0] holds a count"));
    vehicle = car(3.73);
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 6, &err),
                     HT_BAD_USE);
    assert_non_null(strstr(err.text, "1 to 5"));
    vehicle.tyre = "205/55R61";
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 5, &err),
                     HT_BAD_FILE);
}

static void a_vehicle_of_which_nothing_is_said_still_has_wheels(void **state)
{
    (void)state;
    struct ht_sheet_vehicle vehicle = vehicle_blank();
    build(&vehicle, 0);
    assert_true(asked("1\xc3\x97 wheel"));
    assert_true(isnan(hz_of("1\xc3\x97 wheel", 100)));
    assert_true(noted("No tyre size"));
    assert_true(noted("Driven axle not said"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(frequencies_follow_speed_over_circumference),
        cmocka_unit_test(a_mile_an_hour_case_comes_out_too),
        cmocka_unit_test(axle_mesh_counts_the_ring_gears_teeth),
        cmocka_unit_test(a_v8_fires_four_times_a_turn),
        cmocka_unit_test(every_engine_is_asked_for_its_firing_order),
        cmocka_unit_test(a_two_stroke_has_no_half_orders),
        cmocka_unit_test(an_unknown_gear_leaves_engine_and_accessories_open),
        cmocka_unit_test(without_an_axle_ratio_the_shaft_stays_unknown),
        cmocka_unit_test(front_drive_has_no_propeller_shaft_but_an_engine),
        cmocka_unit_test(hub_reduction_speeds_up_everything_before_it),
        cmocka_unit_test(low_range_multiplies_the_engine_not_the_shaft),
        cmocka_unit_test(an_electric_motor_follows_the_wheels_in_one_gear),
        cmocka_unit_test(an_accessory_may_not_take_another_parts_name),
        cmocka_unit_test(more_accessories_than_room_are_named),
        cmocka_unit_test(counted_turns_override_the_tyre_code),
        cmocka_unit_test(contradictions_are_refused_with_a_way_out),
        cmocka_unit_test(a_vehicle_of_which_nothing_is_said_still_has_wheels),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
