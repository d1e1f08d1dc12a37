/* What is called seen, and at which level. */
#include "close.h"
#include "made.h"

static double steady(double t) { (void)t; return 25; }
static double waves(double t) { return 22 + 6 * sin(0.2 * t); }

static void name_wheel_and_shaft(struct made *m)
{
    size_t wheel = made_part(m, "wheel", 1, HT_FAMILY_WHEEL, false);
    size_t shaft = made_part(m, "shaft", 3.73, HT_FAMILY_SHAFT, false);
    for (int multiple = 1; multiple <= 3; multiple++)
        made_order(m, wheel, multiple);
    made_order(m, shaft, 1);
    made_order(m, shaft, 2);
}

static size_t seen_at_nothing(const struct ht_order_result *r, size_t *seen)
{
    size_t faint = r->state == HT_SEEN && !(r->level.value > 0);
    *seen += r->state == HT_SEEN;
    for (size_t b = 0; b < r->bins; b++) {
        *seen += r->bin[b].state == HT_SEEN;
        faint += r->bin[b].state == HT_SEEN && !(r->bin[b].level.value > 0);
    }
    return faint;
}

/* A line on a calm axis, beside an axis that is a thousand times as loud: the
 * sum of both is as often below the noise as above. */
static void what_is_seen_has_a_level_above_nothing(void **state)
{
    (void)state;
    size_t seen = 0, faint = 0, hidden = 0;
    for (uint64_t trial = 0; trial < 40; trial++) {
        struct made m;
        struct ht_orders orders;
        struct random_source source = { 4000 + trial };
        made_start(&m, 250, 40, 2, trial % 2 ? waves : steady);
        name_wheel_and_shaft(&m);
        made_line(&m, 0, 3.73, 0.001, 0, 0);
        made_noise(&m, 0, 1e-7, &source);
        made_noise(&m, 1, 0.1, &source);
        const struct ht_order_result *r = made_find(&orders, &m, 0.02,
                                                    "shaft", 1);
        hidden += r[1].state == HT_SEEN && r[0].state != HT_SEEN;
        for (size_t i = 0; i < orders.results; i++)
            faint += seen_at_nothing(&orders.result[i], &seen);
        ht_orders_free(&orders);
        made_free(&m);
    }
    print_message("%zu times seen, %zu of them at 0, %zu lost\n", seen, faint,
                  hidden);
    assert_true(seen > 100);
    assert_int_equal(faint, 0);
    assert_int_equal(hidden, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_seen_has_a_level_above_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
