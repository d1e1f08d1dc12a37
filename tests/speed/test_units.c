/* Logs in the wrong unit: mph given as km/h and the reverse. */
#include "made_van.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double KM_PER_MILE = 1.609344; /* NIST SP 811, appendix B */

/* calm: wheel orders a fifth as strong, the shaft's alone stand out. */
static struct ht_turns drive_with(double times, uint64_t seed, bool calm)
{
    struct made_plan plan = van();
    struct made_drive drive;
    struct ht_turns turns;
    plan.seed = seed;
    plan.log_scale = 1.02 * times;
    for (size_t o = 0; calm && o < 3; o++)
        plan.order[o].level_m_s2 *= 0.2;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.05);
    find(&turns, &drive, &rotation, true, NAN);
    printf("log times %.3f%s: state %d: %.80s\n", times, calm ? ", calm" : "",
           (int)turns.state, turns.reason);
    made_free(&drive);
    return turns;
}

static void a_log_in_its_own_unit_is_not_questioned(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 8; seed++) {
        struct ht_turns t = drive_with(1, 17 * seed, seed % 2);
        assert_int_equal(t.state, HT_SPEED_ACCEPTED);
        assert_close(t.scale, 1.02, 0.002);
        ht_turns_free(&t);
    }
}

/* Lines of the shaft in another gear pass for lines of the wheel: without the
 * other unit beside them they were believed. */
static void a_log_in_the_wrong_unit_is_told_the_right_one(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 4; seed++)
        for (int unit = 0; unit < 2; unit++) {
            struct ht_turns t = drive_with(
                unit ? KM_PER_MILE : 1 / KM_PER_MILE, 17 * seed, false);
            assert_int_equal(t.state, HT_SPEED_REFUSED);
            assert_non_null(strstr(t.reason, unit ? "unit: km/h}"
                                                  : "unit: mph}"));
            assert_int_equal(t.points, 0);
            ht_turns_free(&t);
        }
}

static void where_either_unit_fits_nothing_is_believed(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 4; seed++) {
        struct ht_turns t = drive_with(1 / KM_PER_MILE, 17 * seed, true);
        assert_true(t.state != HT_SPEED_ACCEPTED);
        assert_non_null(strstr(t.reason, "unit: mph}"));
        ht_turns_free(&t);
        t = drive_with(KM_PER_MILE, 17 * seed, true);
        assert_true(t.state != HT_SPEED_ACCEPTED);
        ht_turns_free(&t);
    }
}

/* The log reaches 1.02 * 30 m/s, 110 km/h. */
static void a_log_above_the_top_speed_is_questioned(void **state)
{
    (void)state;
    struct made_plan plan = van();
    struct made_drive drive;
    made_create(&drive, &plan);
    struct ht_rotation rotation = rear_drive(2.05);
    struct ht_speed_request request = { &drive.recording, &rotation,
                                        &drive.log, NAN, 101 / 3.6,
                                        { 0 } };
    struct ht_turns t;
    assert_int_equal(ht_turns_find(&t, &request, NULL), HT_OK);
    assert_int_equal(t.state, HT_SPEED_ACCEPTED);
    ht_turns_free(&t);
    request.top_m_s = 98 / 3.6;
    assert_int_equal(ht_turns_find(&t, &request, NULL), HT_OK);
    assert_int_equal(t.state, HT_SPEED_AMBIGUOUS);
    const char *said = strstr(t.reason, "reaches ");
    assert_non_null(said);
    /* smoothed over its steps, and written without decimals */
    assert_close(strtod(said + 8, NULL), 110, 1.5);
    assert_non_null(strstr(t.reason, "top speed is 98 km/h"));
    assert_true(t.points > 0);
    ht_turns_free(&t);
    made_free(&drive);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_in_its_own_unit_is_not_questioned),
        cmocka_unit_test(a_log_in_the_wrong_unit_is_told_the_right_one),
        cmocka_unit_test(where_either_unit_fits_nothing_is_believed),
        cmocka_unit_test(a_log_above_the_top_speed_is_questioned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
