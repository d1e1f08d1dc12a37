/* Every sentence of the room's table, said where it is meant and whole. */
#include <stdarg.h>

#include "close.h"
#include "made.h"
#include "halfturn/text.h"
#include "orders/texts.h"

static struct made made;
static struct ht_orders orders;

static double steady(double t) { (void)t; return 25; }
static double walking(double t) { (void)t; return 2.5; }
static double rising(double t) { return 16 + 14 * t / 60; }

/* A drive of one channel with 1x, 2x and 3x wheel, 1x and 2x shaft. */
static void start(double rate_hz, double seconds, made_speed speed)
{
    made_start(&made, rate_hz, seconds, 1, speed);
    size_t wheel = made_part(&made, "wheel", 1, HT_FAMILY_WHEEL, false);
    size_t shaft = made_part(&made, "shaft", 3.73, HT_FAMILY_SHAFT, false);
    for (int multiple = 1; multiple <= 3; multiple++)
        made_order(&made, wheel, multiple);
    made_order(&made, shaft, 1);
    made_order(&made, shaft, 2);
    made_noise(&made, 0, 1e-4, &(struct random_source){ 3 });
}

static void add(const char *name, double turns, bool geared, double multiple)
{
    made_order(&made, made_part(&made, name, turns, HT_FAMILY_ENGINE, geared),
               multiple);
}

static const char *reason_of(const char *part, double multiple)
{
    const struct ht_order_result *r = made_find(&orders, &made, 0.02, part,
                                                multiple);
    assert_non_null(r);
    assert_int_equal(r->state, HT_COULD_NOT_BE_SEEN);
    return r->reason;
}

static void finish(void)
{
    ht_orders_free(&orders);
    made_free(&made);
}

/* The text is the row with these words in its places, not cut. */
static void assert_says(const char *text, const char *row, ...)
{
    char whole[600];
    va_list words;
    va_start(words, row);
    (void)vsnprintf(whole, sizeof whole, row, words);
    va_end(words);
    assert_string_equal(text, whole);
}

static bool is_noted(const char *row, ...)
{
    char whole[600];
    va_list words;
    va_start(words, row);
    (void)vsnprintf(whole, sizeof whole, row, words);
    va_end(words);
    for (size_t i = 0; i < orders.notes; i++)
        if (strcmp(orders.note[i], whole) == 0)
            return true;
    return false;
}

static void a_room_without_channel_or_speed_refuses(void **state)
{
    (void)state;
    struct ht_error err;
    start(250, 10, steady);
    made.turns.state = HT_SPEED_REFUSED;
    enum ht_status status = ht_orders_find(&orders, &made.recording,
                                           &made.rotation, &made.turns, NAN,
                                           NULL, &err);
    assert_int_equal(status, HT_BAD_USE);
    assert_non_null(strstr(err.text, "speed of this drive was not found"));
    size_t channels = made.recording.channels;
    made.recording.channels = 0;
    status = ht_orders_find(&orders, &made.recording, &made.rotation,
                            &made.turns, NAN, NULL, &err);
    assert_int_equal(status, HT_BAD_USE);
    assert_non_null(strstr(err.text, "has no channel to look for orders in"));
    made.recording.channels = channels;
    finish();
}

static void ratios_that_cannot_be_are_no_want_of_memory(void **state)
{
    (void)state;
    struct ht_error err;
    start(250, 20, steady);
    add("pump", 1e-7, false, 1);
    assert_int_equal(ht_orders_find(&orders, &made.recording, &made.rotation,
                                    &made.turns, NAN, NULL, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "as good as the same, or hardly turn"));
    assert_int_equal(orders.results, 0);
    finish();
}

static void what_is_not_known_is_named_with_the_key_that_gives_it(
    void **state)
{
    (void)state;
    start(250, 20, steady);
    add("engine", NAN, true, 2);
    add("pump", NAN, false, 1);
    assert_says(reason_of("engine", 2), ORDERS_GEAR_UNKNOWN, "engine");
    assert_says(ht_orders_get(&orders, "pump", 1)->reason,
                ORDERS_RATIO_UNKNOWN, "pump");
    finish();
}

static void tied_orders_name_their_partner_and_the_level_of_both(void **state)
{
    (void)state;
    char level[40];
    start(500, 60, steady);
    add("engine", 3.73, true, 1);
    made_line(&made, 0, 3.73, 0.2, 0, 0);
    const struct ht_order_result *r = made_find(&orders, &made, 0.02, "engine",
                                                1);
    ht_format_significant(level, sizeof level, r->level.high, 2);
    assert_says(r->reason, ORDERS_TIED_IN_GEAR, "1× shaft", level,
                ORDERS_UNIT_M_S2);
    assert_says(orders.cannot_separate[0].way_out, ORDERS_CHANGE_GEAR);
    finish();
    start(500, 5, steady);
    made.channel[0].unit = HT_UNIT_FULL_SCALE;
    add("engine", 2.984, true, 1);
    made_line(&made, 0, 2.984, 0.3, 0, 0);
    r = made_find(&orders, &made, NAN, "engine", 1);
    ht_format_significant(level, sizeof level, r->level.high, 2);
    assert_says(r->reason, ORDERS_TIED_CLOSE, "3× wheel", level,
                ORDERS_UNIT_SOUND);
    assert_says(orders.cannot_separate[0].way_out, ORDERS_DRIVE_LONGER_AT,
                63.0, ceil(63.0 * MADE_TURN / 25), 90.0);
    finish();
}

/* At 2.5 m/s the wheel turns 1.25 times a second: too slow to analyse. */
static void a_walk_is_told_what_drive_is_wanted(void **state)
{
    (void)state;
    start(250, 20, walking);
    add("engine", 2.984, true, 1);
    assert_says(reason_of("shaft", 1), ORDERS_NO_STRETCH);
    assert_says(orders.cannot_separate[0].way_out, ORDERS_DRIVE_LONGER,
                ceil(1 / (3 - 2.984)));
    finish();
}

/* 1x wheel at 25 m/s is 12.5 Hz. */
static void a_microphone_is_deaf_to_the_wheel(void **state)
{
    (void)state;
    start(500, 30, steady);
    made.channel[0].unit = HT_UNIT_FULL_SCALE;
    assert_says(reason_of("wheel", 1), ORDERS_NOT_HEARD);
    assert_true(is_noted(ORDERS_SOUND_NOT_CALIBRATED));
    finish();
}

/* A turn of doubt blurs everything. */
static void a_doubtful_angle_blurs_high_orders(void **state)
{
    (void)state;
    start(500, 30, steady);
    for (size_t i = 0; i < made.turns.points; i++)
        made.turns.sd_turns[i] = 1;
    assert_says(reason_of("shaft", 2), ORDERS_BLURRED);
    finish();
}

/* 2x shaft at 25 m/s is 93 Hz; 104 samples a second are looked at up to
 * 46.8 Hz. */
static void an_order_above_the_band_is_told_where_the_band_ends(void **state)
{
    (void)state;
    start(104, 60, steady);
    made.recording.file_rate_hz = 104;
    assert_says(reason_of("shaft", 2), ORDERS_ABOVE_BAND, "47");
    finish();
}

/* A quarter of a wheel order is four lines of a block of 16 turns: beside an
 * order with such neighbours on both sides no line is free of Hann's lobes. */
static void crowded_orders_have_no_noise_beside_them(void **state)
{
    (void)state;
    start(500, 60, steady);
    made.rotation.orders = 3; /* those of the wheel */
    for (int quarters = 5; quarters <= 19; quarters++)
        if (quarters % 4)
            add("pump", 1, false, quarters / 4.0);
    assert_says(reason_of("pump", 2.5), ORDERS_FEW_LINES);
    finish();
}

static void road_noise_is_given_with_the_level_it_hides(void **state)
{
    (void)state;
    char least[40];
    start(500, 60, steady);
    made_noise(&made, 0, 0.1, &(struct random_source){ 22 });
    const char *reason = reason_of("shaft", 2);
    const char *level = strchr(reason, ':') + 2;
    (void)snprintf(least, sizeof least, "%.*s", (int)strcspn(level, " "),
                   level);
    assert_true(strtod(least, NULL) > 0.02);
    assert_says(reason, ORDERS_ROAD_NOISE, least, ORDERS_UNIT_M_S2);
    finish();
}

static void what_pull_rests_on_is_noted(void **state)
{
    (void)state;
    start(250, 30, steady);
    (void)made_find(&orders, &made, 0.02, "shaft", 1);
    assert_true(is_noted(ORDERS_PULL_FROM_SPEED));
    ht_orders_free(&orders);
    made.turns.source = HT_SPEED_STEADY;
    (void)made_find(&orders, &made, 0.02, "shaft", 1);
    assert_true(is_noted(ORDERS_PULL_UNKNOWN));
    finish();
}

/* 60 samples a second, nothing filtered before: 2x shaft (7.46 per wheel
 * turn) folds onto 1x wheel where 8.46 or 6.46 wheel turns make 60 or 120 in
 * a second: at 6.46 f = 60, f = 9.29 turns a second, 18.6 m/s, 67 km/h. */
static void a_slow_recorder_is_told_what_it_folds_onto_what(void **state)
{
    (void)state;
    start(60, 60, rising);
    made.recording.file_rate_hz = 60;
    (void)made_find(&orders, &made, 0.02, "shaft", 1);
    assert_true(is_noted(ORDERS_FOLDED_DOWN, "67", "2× shaft", "1× wheel"));
    finish();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_room_without_channel_or_speed_refuses),
        cmocka_unit_test(ratios_that_cannot_be_are_no_want_of_memory),
        cmocka_unit_test(
            what_is_not_known_is_named_with_the_key_that_gives_it),
        cmocka_unit_test(
            tied_orders_name_their_partner_and_the_level_of_both),
        cmocka_unit_test(a_walk_is_told_what_drive_is_wanted),
        cmocka_unit_test(a_microphone_is_deaf_to_the_wheel),
        cmocka_unit_test(a_doubtful_angle_blurs_high_orders),
        cmocka_unit_test(an_order_above_the_band_is_told_where_the_band_ends),
        cmocka_unit_test(crowded_orders_have_no_noise_beside_them),
        cmocka_unit_test(road_noise_is_given_with_the_level_it_hides),
        cmocka_unit_test(what_pull_rests_on_is_noted),
        cmocka_unit_test(a_slow_recorder_is_told_what_it_folds_onto_what),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
