/* The FFT wrapper against a long-double DFT, Parseval, shift. */
#include "close.h"
#include "random.h"

#include "common/memory.h"
#include "signal/fft.h"

#include <math.h>
#include <stdlib.h>

static const long double TURN = 6.283185307179586476925286766559L;

/* Error of each value over the root of the sum of squares of the input.
 * 1e-14 / 1e-6: a few units of the number format times the square root of the
 * number of additions. */
static void compare(size_t n, struct random_source *random)
{
    struct ht_fft *fft = ht_fft_create(n);
    struct ht_fft_f *fft_f = ht_fft_f_create(n);
    double *x = calloc(n, sizeof *x), norm = 0;
    for (size_t i = 0; i < n; i++) {
        x[i] = (double)(float)random_normal(random);
        ht_fft_input(fft)[i] = x[i];
        ht_fft_f_input(fft_f)[i] = (float)x[i];
        norm += x[i] * x[i];
    }
    const double complex *got = ht_fft_run(fft);
    const float complex *got_f = ht_fft_f_run(fft_f);
    for (size_t k = 0; k <= n / 2; k++) {
        long double real = 0, imaginary = 0;
        for (size_t i = 0; i < n; i++) {
            long double angle = TURN * (long double)(k * i % n) /
                                (long double)n;
            real += x[i] * cosl(angle);
            imaginary -= x[i] * sinl(angle);
        }
        double scale = sqrt(norm);
        assert_close(creal(got[k]) / scale, (double)real / scale, 1e-14);
        assert_close(cimag(got[k]) / scale, (double)imaginary / scale, 1e-14);
        assert_close((double)crealf(got_f[k]) / scale, (double)real / scale,
                     1e-6);
        assert_close((double)cimagf(got_f[k]) / scale,
                     (double)imaginary / scale, 1e-6);
    }
    free(x);
    ht_fft_free(fft);
    ht_fft_f_free(fft_f);
}

static void the_transform_agrees_with_a_long_double_dft(void **state)
{
    (void)state;
    static const size_t sizes[] = { 1, 2, 3, 8, 97, 128, 360, 509, 1000 };
    struct random_source random = { 20 };
    for (size_t s = 0; s < sizeof sizes / sizeof sizes[0]; s++)
        compare(sizes[s], &random);
    for (int i = 0; i < 8; i++)
        compare(2 + random_bits(&random) % 600, &random);
}

static void energy_is_the_same_on_both_sides(void **state)
{
    (void)state;
    enum { N = 4096 };
    struct random_source random = { 7 };
    struct ht_fft *fft = ht_fft_create(N);
    double before = 0, after = 0;
    for (int i = 0; i < N; i++) {
        double x = random_normal(&random);
        ht_fft_input(fft)[i] = x;
        before += x * x;
    }
    const double complex *spectrum = ht_fft_run(fft);
    for (int k = 0; k <= N / 2; k++) {
        double magnitude = cabs(spectrum[k]);
        after += (k == 0 || k == N / 2 ? 1 : 2) * magnitude * magnitude / N;
    }
    assert_close_relative(after, before, 1e-12); /* Parseval */
    ht_fft_free(fft);
}

static bool refuse(size_t bytes)
{
    (void)bytes;
    return false;
}

static void no_memory_and_no_length_are_a_null_plan(void **state)
{
    (void)state;
    ht_memory_permit = refuse;
    assert_null(ht_fft_create(16));
    ht_memory_permit = NULL;
    assert_null(ht_fft_create(0));
    assert_null(ht_fft_f_create((size_t)1 << 40));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_transform_agrees_with_a_long_double_dft),
        cmocka_unit_test(energy_is_the_same_on_both_sides),
        cmocka_unit_test(no_memory_and_no_length_are_a_null_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
