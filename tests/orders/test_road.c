/* A real drive (open data, one minute of one car) beside the checkout: in the
 * folder `shared` or where HALFTURN_SHARED says. Skipped when it is absent.
 * Wheel orders 1 to 3 are known to be there, 6 to 9 dB above the road. */
#include <unistd.h>

#include "close.h"
#include "made.h"

/* Whatever the sheet says of the tyre and the engine. */
static const struct {
    const char *tyre;
    double cylinders;
} sheets[] = {
    { NULL, NAN },
    { "225/60R17", NAN },
    { "225/60R17", 4 },
    { "225/60R16", 4 },
};

static void look(const char *tyre, double cylinders)
{
    char imu[512], speed[512];
    const char *shared = getenv("HALFTURN_SHARED");
    const char *base = shared ? shared : HALFTURN_SOURCE_DIR "/../shared";
    (void)snprintf(imu, sizeof imu, "%s/road-a/imu.csv", base);
    (void)snprintf(speed, sizeof speed, "%s/road-a/speed.csv", base);
    if (access(imu, R_OK) != 0) {
        print_message("no real drive at %s: skipped\n", imu);
        skip();
    }
    struct ht_error err = { 0 };
    struct ht_recording recording;
    struct ht_recording_options options = { .highest_hz = NAN };
    struct ht_speed_log log;
    struct ht_turns turns;
    struct ht_orders orders;
    struct ht_rotation rotation;
    struct ht_sheet_vehicle vehicle = {
        .tyre = tyre, .tyre_turns_per_m = NAN, .axle_ratio = NAN,
        .engine_cylinders = cylinders, .engine_strokes = cylinders,
        .motor_ratio = NAN,
        .transfer_high = NAN, .transfer_low = NAN, .hub_ratio = NAN,
        .top_speed_m_s = NAN
    };
    struct ht_sheet_speed how = { 0 };
    assert_int_equal(ht_recording_read(&recording, imu, &options, &err),
                     HT_OK);
    assert_int_equal(ht_speed_log_read(&log, speed, &how, &err), HT_OK);
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &vehicle, 0, &err),
                     HT_OK);
    struct ht_speed_request request = { &recording, &rotation, &log, NAN,
                                        NAN, { 0 } };
    assert_int_equal(ht_turns_find(&turns, &request, &err), HT_OK);
    assert_int_not_equal(turns.state, HT_SPEED_REFUSED);
    assert_close_relative(turns.circumference_m, 2.16, 0.01);
    assert_int_equal(ht_orders_find(&orders, &recording, &rotation, &turns,
                                    0.04, NULL, &err), HT_OK);
    for (int multiple = 1; multiple <= 3; multiple++) {
        const struct ht_order_result *r = ht_orders_get(&orders, "wheel",
                                                        multiple);
        print_message("%d\u00d7 wheel: state %d, %.3f (%.3f to %.3f) m/s2 at "
                      "%.0f km/h %s\n", multiple, (int)r->state,
                      r->level.value, r->level.low, r->level.high,
                      r->at_m_s * 3.6, r->reason);
    }
    for (int multiple = 1; multiple <= 3; multiple++)
        assert_int_equal(ht_orders_get(&orders, "wheel", multiple)->state,
                         HT_SEEN);
    for (size_t i = 0; i < orders.results; i++)
        if (rotation.part[orders.result[i].order.part].family !=
            HT_FAMILY_WHEEL)
            assert_int_not_equal(orders.result[i].state, HT_SEEN);
    ht_orders_free(&orders);
    ht_turns_free(&turns);
    ht_speed_log_free(&log);
    ht_recording_free(&recording);
}

static void real_drive_shows_three_wheel_orders_and_no_shaft(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++)
        look(sheets[i].tyre, sheets[i].cylinders);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(real_drive_shows_three_wheel_orders_and_no_shaft),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
