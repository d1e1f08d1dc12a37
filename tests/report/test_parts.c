/* What turns how fast, as text and JSON. Figures worked by hand: a wheel turn
 * of 2 m (500 a km), shaft turns 4 times as often. */
#include "close.h"

#include "halfturn/report.h"

#include <jansson.h>
#include <math.h>
#include <string.h>

static struct ht_sheet sheet;
static struct ht_rotation rotation;
static struct ht_text text;

static void build(const char *more)
{
    char keys[400];
    struct ht_error err;
    (void)snprintf(keys, sizeof keys,
                   "halfturn: 1\nvehicle: {tyre_turns_per_km: 500, "
                   "axle_ratio: 4, drive: rear%s}\n", more);
    if (ht_sheet_read_text(&sheet, "test", keys, strlen(keys), NULL, &err) !=
        HT_OK)
        fail_msg("%s", err.text);
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0,
                                              &err), HT_OK);
}

static struct ht_parts_request asked(double from_km_h, double km_h, double hz)
{
    return (struct ht_parts_request){ .rotation = &rotation,
                                      .from_m_s = from_km_h / 3.6,
                                      .speed_m_s = km_h / 3.6, .hz = hz };
}

static const char *written(double from_km_h, double km_h, double hz)
{
    struct ht_parts_request request = asked(from_km_h, km_h, hz);
    text.length = 0;
    assert_int_equal(ht_report_parts_text(&text, &request, NULL), HT_OK);
    return ht_text_get(&text);
}

static int end(void **state)
{
    (void)state;
    ht_text_free(&text);
    ht_sheet_free(&sheet);
    return 0;
}

static void assert_holds(const char *whole, const char *piece)
{
    if (!strstr(whole, piece))
        fail_msg("\"%s\" does not hold \"%s\"", whole, piece);
}

static void each_part_turns_as_often_as_worked_by_hand(void **state)
{
    (void)state;
    build("");
    const char *said = written(NAN, 90, NAN); /* 25 m/s */
    assert_holds(said, "At 90.0 km/h (55.9 mph). One wheel turn is 2.000 m");
    assert_holds(said, "  1× wheel   12.50 Hz   750 rev/min\n");
    assert_holds(said, "  2× shaft  100.00 Hz  3000 rev/min\n");
    assert_null(strstr(said, "could shake"));
}

/* 42 Hz: 1x shaft and 4x wheel (two cycles a metre) at 21 m/s; 3x wheel (1.5 a
 * metre) at 28 m/s, 100.8 km/h, which is just past the range. */
static void a_frequency_is_looked_for_at_every_speed_of_the_range(void **state)
{
    (void)state;
    build("");
    const char *said = written(70, 100, 42);
    assert_holds(said, "What could shake at 42.0 Hz from 70.0 to 100 km/h "
                       "(within 5 %), and where:\n");
    assert_holds(said, "  1× shaft  42.00 Hz  2520 rev/min  at 75.6 km/h\n");
    assert_holds(said, "  4× wheel  42.00 Hz   630 rev/min  at 75.6 km/h\n");
    assert_holds(said,
                 "  3× wheel  41.67 Hz   833 rev/min   at 100 km/h  -0.8 %\n");
    assert_null(strstr(strstr(said, "could shake"), "2× shaft"));
    assert_holds(written(70, 75, 200), "What could shake at 200 Hz from 70.0 "
                                       "to 75.0 km/h: none, within 5 %.\n");
}

static void at_one_speed_it_says_how_far_off_each_is(void **state)
{
    (void)state;
    build("");
    const char *said = written(NAN, 100, 42);
    assert_holds(said, "What could shake at 42.0 Hz (within 5 %):\n"
                       "  3× wheel  41.67 Hz  833 rev/min    -0.8 %\n");
    assert_holds(written(NAN, 100, 200),
                 "What could shake at 200 Hz: none, within 5 %.\n");
}

static void json_says_at_which_speed_each_is_met(void **state)
{
    (void)state;
    build("");
    struct ht_parts_request request = asked(70, 100, 42);
    text.length = 0;
    assert_int_equal(ht_report_parts_json(&text, &request, NULL), HT_OK);
    json_t *all = json_loads(ht_text_get(&text), 0, NULL);
    assert_non_null(all);
    size_t i, met = 0;
    json_t *row;
    json_array_foreach(json_object_get(all, "could_be"), i, row) {
        double km_h =
            json_number_value(json_object_get(row, "speed_km_h"));
        double hz = json_number_value(json_object_get(row, "hz"));
        met += fabs(km_h - 75.6) < 1e-9 && fabs(hz - 42) < 1e-9;
    }
    assert_int_equal(met, 2);
    json_decref(all);
}

static size_t widest(const char *said)
{
    size_t most = 0;
    for (const char *line = said; *line; line += strcspn(line, "\n") + 1) {
        size_t columns = 0, length = strcspn(line, "\n");
        for (size_t i = 0; i < length; i++)
            columns += ((unsigned char)line[i] & 0xc0) != 0x80;
        most = columns > most ? columns : most;
    }
    return most;
}

/* Every note there is; names as long as they may be, one of them hostile. */
static void no_line_is_wider_than_a_terminal_or_commands_it(void **state)
{
    (void)state;
    build(", gearbox: automatic, gear_ratios: [4, 1], engine: {cylinders: 4}, "
          "accessories: {\"a name of an accessory that is far too long\": 2, "
          "\"\\e[2J\\nb\": 2}");
    const char *said = written(70, 100, 42);
    assert_true(widest(said) <= 80);
    assert_null(strchr(said, '\x1b'));
    assert_int_equal(ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 2,
                                              NULL), HT_OK);
    said = written(70, 100, 42);
    assert_true(widest(said) <= 80);
    assert_holds(said, "slip");
    assert_holds(said, "the same in this gear");
    assert_null(strchr(said, '\x1b'));
    rotation.circumference_m = NAN;
    assert_true(widest(written(70, 100, NAN)) <= 80);
}

#define TEST(name) cmocka_unit_test_teardown(name, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(each_part_turns_as_often_as_worked_by_hand),
        TEST(a_frequency_is_looked_for_at_every_speed_of_the_range),
        TEST(at_one_speed_it_says_how_far_off_each_is),
        TEST(json_says_at_which_speed_each_is_met),
        TEST(no_line_is_wider_than_a_terminal_or_commands_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
