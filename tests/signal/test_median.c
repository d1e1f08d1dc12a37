/* Medians by counting against medians by sorting; dots of several rows
 * against plain sums in double. */
#include "close.h"
#include "random.h"

#include "signal/dot.h"
#include "signal/median.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 700 };

static int by_value(const void *a, const void *b)
{
    float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

static float sorted_middle(const float *x, size_t n, size_t apart)
{
    static float sorted[MOST];
    for (size_t i = 0; i < n; i++)
        sorted[i] = x[i * apart];
    qsort(sorted, n, sizeof *sorted, by_value);
    return sorted[n / 2];
}

/* What the header promises: never too low, 2^-8 too high at most. */
static void assert_middle(float got, float wanted)
{
    assert_true(got >= wanted);
    assert_true(got <= wanted * (1 + 1.0F / 256));
}

/* From values over 24 decades to values that are nearly one. */
static float value(struct random_source *random, size_t i)
{
    double spread = i % 3 == 0 ? 12 : i % 3 == 1 ? 1 : 0.001;
    return (float)pow(10, random_uniform(random, -spread, spread));
}

static void a_counted_middle_is_what_sorting_finds(void **state)
{
    (void)state;
    static float x[MOST * HT_COLUMNS];
    struct random_source random = { 20 };
    for (size_t n = 1; n < MOST; n += 1 + n / 7) {
        float middle[HT_COLUMNS];
        for (size_t i = 0; i < n * HT_COLUMNS; i++)
            x[i] = value(&random, n);
        ht_medians_f(x, n, middle);
        for (size_t c = 0; c < HT_COLUMNS; c++)
            assert_middle(middle[c], sorted_middle(x + c, n, HT_COLUMNS));
        assert_middle(ht_median_f(x, n), sorted_middle(x, n, 1));
    }
}

static void zeros_and_nothing_have_a_middle(void **state)
{
    (void)state;
    const float nearly_nothing = 1e-40F;
    static const float x[3 * HT_COLUMNS] = { [1] = 5, [9] = 7 };
    float middle[HT_COLUMNS];
    ht_medians_f(x, 3, middle);
    assert_true(middle[0] >= 0 && middle[0] <= nearly_nothing);
    assert_middle(middle[1], 5);
    ht_medians_f(x, 0, middle);
    assert_true(middle[1] == 0 && ht_median_f(x, 0) == 0);
    assert_true(ht_median_f(x, 3 * HT_COLUMNS) <= nearly_nothing);
}

/* 1e-6: the float's half bit, 6e-8, times the 40 additions' square root. */
static void rows_are_summed_like_one_after_the_other(void **state)
{
    (void)state;
    enum { N = 40, ROWS = 6, STRIDE = 48 };
    float x[N], rows[ROWS * STRIDE], sum[ROWS], added[N];
    struct random_source random = { 21 };
    for (size_t i = 0; i < N; i++)
        x[i] = (float)random_normal(&random);
    for (size_t i = 0; i < ROWS * STRIDE; i++)
        rows[i] = (float)random_normal(&random);
    ht_dot_rows_f(x, rows, STRIDE, ROWS, N, sum);
    for (size_t r = 0; r < ROWS; r++) {
        double wanted = 0, size = 0;
        for (size_t i = 0; i < N; i++) {
            double product = (double)x[i] * (double)rows[r * STRIDE + i];
            wanted += product;
            size += fabs(product);
        }
        assert_close((double)sum[r], wanted, 1e-6 * size);
    }
    memcpy(added, x, sizeof added);
    ht_add_f(added, rows, 13);
    for (size_t i = 0; i < N; i++)
        assert_true(i < 13 ? added[i] == x[i] + rows[i] : added[i] == x[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_counted_middle_is_what_sorting_finds),
        cmocka_unit_test(zeros_and_nothing_have_a_middle),
        cmocka_unit_test(rows_are_summed_like_one_after_the_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
