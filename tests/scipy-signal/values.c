/* values.c - prints what the signal room computes, for compare.py.
 *
 *   values window KIND N      the window
 *   values lowpass TAPS CUTOFF BETA
 *   values decimate FACTOR    floats from standard input, decimated
 *   values fft                doubles from standard input
 */
#include "common/memory.h"
#include "signal/decimate.h"
#include "signal/fft.h"
#include "signal/window.h"

#include <complex.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MANY = 200000 };
static double in[MANY], out[MANY];
static float rough[MANY];

static size_t read_numbers(double *to)
{
    size_t n = 0;
    while (n < MANY && scanf("%lf", &to[n]) == 1)
        n++;
    return n;
}

static void print(const double *values, size_t n)
{
    for (size_t i = 0; i < n; i++)
        printf("%.17g\n", values[i]);
}

static int decimate(size_t factor)
{
    size_t n = read_numbers(in), room = 0, count = 0;
    float *made = NULL;
    struct ht_decimator *decimator = ht_decimator_create(factor, 0.8);
    for (size_t i = 0; i < n; i++)
        rough[i] = (float)in[i];
    if (!decimator ||
        !ht_decimator_push(decimator, rough, n, &made, &room, &count) ||
        !ht_decimator_finish(decimator, &made, &room, &count))
        return 1;
    for (size_t i = 0; i < count; i++)
        out[i] = (double)made[i];
    print(out, count);
    ht_release(made);
    ht_decimator_free(decimator);
    return 0;
}

static int transform(void)
{
    size_t n = read_numbers(in);
    struct ht_fft *fft = ht_fft_create(n);
    if (!fft)
        return 1;
    memcpy(ht_fft_input(fft), in, n * sizeof *in);
    const double complex *spectrum = ht_fft_run(fft);
    for (size_t k = 0; k <= n / 2; k++)
        printf("%.17g\n%.17g\n", creal(spectrum[k]), cimag(spectrum[k]));
    ht_fft_free(fft);
    return 0;
}

int main(int argc, char **argv)
{
    const char *what = argc > 1 ? argv[1] : "";
    if (strcmp(what, "window") == 0 && argc == 4) {
        size_t n = strtoul(argv[3], NULL, 10);
        (void)ht_window_fill((enum ht_window)atoi(argv[2]), out, n);
        print(out, n);
        return 0;
    }
    if (strcmp(what, "lowpass") == 0 && argc == 5) {
        size_t taps = strtoul(argv[2], NULL, 10);
        ht_lowpass_design(out, taps, atof(argv[3]), atof(argv[4]));
        print(out, taps);
        return 0;
    }
    if (strcmp(what, "decimate") == 0 && argc == 3)
        return decimate(strtoul(argv[2], NULL, 10));
    if (strcmp(what, "fft") == 0)
        return transform();
    return 2;
}
