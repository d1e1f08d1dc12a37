/* Wanted values: SciPy 1.10 (scipy.stats norm, t, f), printed with repr.
 * 1e-10: the accuracy the header promises. */
#include "close.h"
#include "random.h"

#include "common/statistics.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double PROMISED = 1e-10;

static void the_normal_distribution_agrees_with_scipy(void **state)
{
    (void)state;
    static const double cdf[][2] = { { -5, 2.866515718791933e-07 },
                                     { -1.96, 0.024997895148220435 },
                                     { 0.3, 0.6179114221889526 },
                                     { 3, 0.9986501019683699 } };
    static const double quantile[][2] = { { 1e-6, -4.753424308822899 },
                                          { 0.025, -1.9599639845400545 },
                                          { 0.6, 0.2533471031357997 },
                                          { 0.975, 1.959963984540054 } };
    for (int i = 0; i < 4; i++) {
        assert_close_relative(ht_normal_cdf(cdf[i][0]), cdf[i][1], PROMISED);
        assert_close_relative(ht_normal_quantile(quantile[i][0]),
                              quantile[i][1], PROMISED);
    }
}

static void students_t_agrees_with_scipy(void **state)
{
    (void)state;
    static const double rows[][3] = { { .975, 1, 12.706204736432095 },
                                      { .975, 2, 4.302652729911275 },
                                      { .975, 9, 2.2621571627409915 },
                                      { .025, 4.5, -2.6589123472044043 },
                                      { .9, 100, 1.2900747613398769 } };
    for (int i = 0; i < 5; i++) {
        double t = ht_student_quantile(rows[i][0], rows[i][1]);
        assert_close_relative(t, rows[i][2], PROMISED);
        assert_close(ht_student_cdf(t, rows[i][1]), rows[i][0], PROMISED);
    }
}

/* SciPy 1.10.1, t.cdf; the last rows are the normal law's. */
static void students_t_with_many_degrees_nears_the_normal_law(void **state)
{
    (void)state;
    static const double rows[][3] = {
        { -4, 9e4, 3.1696528045094754e-05 },
        { -1.959964, 9e4, 0.02500153963140917 },
        { -4, 2e5, 3.1682618854016974e-05 },
        { -1.959964, 2e5, 0.025000692335552997 },
        { 2.5, 2e5, 0.993789937543819 },
        { -1.959964, 1e6, 0.025000137744051836 },
        { -0.5, 1e9, 0.3085375387809969 },
        { -1.959963984540054, 1e60, 0.025 },
        { 1.959963984540054, 1e300, 0.975 },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double p = ht_student_cdf(rows[i][0], rows[i][1]);
        assert_close(p, rows[i][2], PROMISED);
        assert_close(ht_student_quantile(p, rows[i][1]), rows[i][0], 1e-8);
    }
}

static void fishers_f_agrees_with_scipy(void **state)
{
    (void)state;
    static const double tails[][4] = {
        { 3.7, 2, 14, 0.05128611906808623 },
        { 7.7, 2, 62, 0.0010307956882940209 },
        { 1.5, 128, 4096, 0.00028354672665608955 },
        { 0.2, 3, 5, 0.8921836217320824 }
    };
    static const double thresholds[][4] = {
        { 1e-3, 2, 14, 11.778870566958076 },
        { 1e-3, 2, 30, 8.77339788691671 },
        { 2.8e-4, 32, 1024, 2.1331048671955397 }
    };
    for (int i = 0; i < 4; i++)
        assert_close_relative(
            ht_fisher_tail(tails[i][0], tails[i][1], tails[i][2]),
            tails[i][3], PROMISED);
    for (int i = 0; i < 3; i++)
        assert_close_relative(ht_fisher_threshold(thresholds[i][0],
                                                  thresholds[i][1],
                                                  thresholds[i][2]),
                              thresholds[i][3], PROMISED);
}

static void the_median_is_the_middle_or_the_higher_of_two(void **state)
{
    (void)state;
    double odd[] = { 7, -3, 5 }, even[] = { 8, 2, 4, 6 };
    assert_true(ht_median(odd, 3) == 5);
    assert_true(ht_median(even, 4) == 6);
    assert_true(isnan(ht_median(odd, 0)));
}

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Few different values, so that many are equal: the hard case of selection. */
static void the_median_is_what_sorting_finds(void **state)
{
    (void)state;
    struct random_source random = { 11 };
    for (size_t n = 1; n <= 300; n++) {
        double x[300], sorted[300];
        for (size_t i = 0; i < n; i++)
            x[i] = floor(random_uniform(&random, 0, n % 3 ? 1e6 : 5));
        memcpy(sorted, x, n * sizeof *x);
        qsort(sorted, n, sizeof *sorted, rising);
        assert_true(ht_median(x, n) == sorted[n / 2]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_normal_distribution_agrees_with_scipy),
        cmocka_unit_test(students_t_agrees_with_scipy),
        cmocka_unit_test(students_t_with_many_degrees_nears_the_normal_law),
        cmocka_unit_test(fishers_f_agrees_with_scipy),
        cmocka_unit_test(the_median_is_the_middle_or_the_higher_of_two),
        cmocka_unit_test(the_median_is_what_sorting_finds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
