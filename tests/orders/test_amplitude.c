/* How true the levels of named orders are when the angle is exact. */
#include "close.h"
#include "made.h"

static double steady(double t) { (void)t; return 25; }
static double sweep(double t) { return 16 + 14 * t / 120; } /* 58-108 km/h */

static void name_usual_orders(struct made *m)
{
    size_t wheel = made_part(m, "wheel", 1, HT_FAMILY_WHEEL, false);
    size_t shaft = made_part(m, "shaft", 3.73, HT_FAMILY_SHAFT, false);
    made_order(m, wheel, 1);
    made_order(m, wheel, 2);
    made_order(m, wheel, 3);
    made_order(m, shaft, 1);
    made_order(m, shaft, 2);
    made_order(m, shaft, 3);
}

static void clean_lines_of_any_order_are_read_within_a_thousandth(void **state)
{
    (void)state;
    struct made m;
    struct ht_orders orders;
    made_start(&m, 1000, 120, 1, sweep);
    name_usual_orders(&m);
    /* 3.73 and 7.46 fall between the lines of any order spectrum */
    static const struct { double multiple, of, level; const char *part; }
    line[] = { { 1, 1, 0.13, "wheel" }, { 2, 1, 0.05, "wheel" },
               { 3, 1, 0.026, "wheel" }, { 1, 3.73, 0.19, "shaft" },
               { 2, 3.73, 0.10, "shaft" }, { 3, 3.73, 0.022, "shaft" } };
    for (size_t i = 0; i < 6; i++)
        made_line(&m, 0, line[i].multiple * line[i].of, line[i].level, 0,
                  0.1 * (double)i);
    for (size_t i = 0; i < 6; i++) {
        const struct ht_order_result *r = made_find(
            &orders, &m, 0.04, line[i].part, line[i].multiple);
        assert_non_null(r);
        assert_int_equal(r->state, HT_SEEN);
        /* the goal is 1 % at 10 dB; without noise only the method is left */
        assert_close_relative(r->level.value, line[i].level, 0.001);
        ht_orders_free(&orders);
    }
    made_free(&m);
}

/* Ten minutes, the line's A^2 10 dB over the noise power of a block: the
 * method's own scatter is 0.84 % (2 A^2 N 4/3 over 937 blocks), mean size
 * 0.67 %; over 20 drives that mean stays below 1 % in 99.8 % of suites. */
static void ten_decibels_over_the_floor_is_read_within_one_percent(void **state)
{
    (void)state;
    double error = 0, bias = 0;
    for (uint64_t trial = 0; trial < 20; trial++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 300 + trial };
        made_start(&m, 250, 600, 1, steady);
        name_usual_orders(&m);
        made_line(&m, 0, 7.46, 0.1, 0, 0.2);
        made_noise(&m, 0, 0.001 * 1.28 / 3, &source);
        const struct ht_order_result *r = made_find(&orders, &m, 0.04,
                                                    "shaft", 2);
        assert_non_null(r);
        assert_int_equal(r->state, HT_SEEN);
        error += fabs(r->level.value / 0.1 - 1) / 20;
        bias += (r->level.value / 0.1 - 1) / 20;
        ht_orders_free(&orders);
        made_free(&m);
    }
    print_message("mean error %.2f %%, bias %.2f %%\n", 100 * error,
                  100 * bias);
    assert_true(error <= 0.01);
    assert_close(bias, 0, 0.006); /* three sd of the mean of 20 */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(clean_lines_of_any_order_are_read_within_a_thousandth),
        cmocka_unit_test(
            ten_decibels_over_the_floor_is_read_within_one_percent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
