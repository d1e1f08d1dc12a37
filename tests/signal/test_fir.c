/* Filters run over samples: the same bytes as one dot product after another.
 * The decimator's own promises are in test_filters.c. */
#include "close.h"
#include "random.h"

#include "signal/dot.h"
#include "signal/fir.h"

#include <string.h>

enum { TAPS = 240, SAMPLES = 4000 };

static void fill(float *values, size_t n, struct random_source *random)
{
    for (size_t i = 0; i < n; i++)
        values[i] = (float)random_normal(random);
}

/* Every count, so that each rest of four is met; odd steps and even ones. */
static void many_outputs_are_the_dot_products_bit_for_bit(void **state)
{
    (void)state;
    struct random_source random = { 5 };
    static float h[TAPS], x[SAMPLES];
    fill(h, TAPS, &random);
    fill(x, SAMPLES, &random);
    for (size_t taps = 8; taps <= TAPS; taps += 8)
        for (size_t step = 1; step <= 48; step = step * 2 + 1)
            for (size_t count = 0; count <= 13; count++) {
                float out[14], wanted[14];
                memset(out, 0x55, sizeof out);
                memcpy(wanted, out, sizeof out);
                for (size_t i = 0; i < count; i++)
                    wanted[i] = ht_dot_f(h, x + i * step, taps);
                ht_fir_run(h, taps, x, step, out, count);
                assert_memory_equal(out, wanted, sizeof out);
            }
}

/* Filling a filter up with noughts to a multiple of eight changes no bit, so
 * the decimator may do it. */
static void noughts_behind_a_filter_change_nothing(void **state)
{
    (void)state;
    struct random_source random = { 6 };
    static float h[TAPS], x[SAMPLES];
    fill(x, SAMPLES, &random);
    for (size_t taps = 1; taps <= 100; taps += 2) {
        float out[10];
        memset(h, 0, sizeof h);
        fill(h, taps, &random);
        ht_fir_run(h, (taps + 7) / 8 * 8, x, 5, out, 10);
        for (size_t i = 0; i < 10; i++) {
            float wanted = ht_dot_f(h, x + 5 * i, taps);
            assert_memory_equal(&out[i], &wanted, sizeof wanted);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(many_outputs_are_the_dot_products_bit_for_bit),
        cmocka_unit_test(noughts_behind_a_filter_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
