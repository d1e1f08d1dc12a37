#include "power.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>

bool ht_power_create(struct ht_power *p, size_t points)
{
    *p = (struct ht_power){ .points = points };
    p->twiddle = ht_allocate(3 * points, sizeof(double));
    if (!p->twiddle)
        return false;
    p->data = p->twiddle + points;
    for (size_t i = 0; i < points / 2; i++) {
        double a = -2 * HT_PI * (double)i / (double)points;
        p->twiddle[2 * i] = cos(a);
        p->twiddle[2 * i + 1] = sin(a);
    }
    return true;
}

void ht_power_free(struct ht_power *p)
{
    ht_release(p->twiddle);
    *p = (struct ht_power){ 0 };
}

static void reorder(double *d, size_t n)
{
    for (size_t i = 1, j = 0; i < n; i++) {
        size_t bit = n >> 1;
        for (; j & bit; bit >>= 1)
            j ^= bit;
        j ^= bit;
        if (i < j) {
            double a = d[2 * i], b = d[2 * i + 1];
            d[2 * i] = d[2 * j];
            d[2 * i + 1] = d[2 * j + 1];
            d[2 * j] = a;
            d[2 * j + 1] = b;
        }
    }
}

void ht_power_run(const struct ht_power *p, const double *input, double *out)
{
    size_t n = p->points;
    double *d = p->data;
    for (size_t i = 0; i < n; i++) {
        d[2 * i] = input[i];
        d[2 * i + 1] = 0;
    }
    reorder(d, n);
    for (size_t half = 1; half < n; half *= 2) {
        size_t stride = n / (2 * half);
        for (size_t s = 0; s < n; s += 2 * half)
            for (size_t k = 0; k < half; k++) {
                double wr = p->twiddle[2 * k * stride];
                double wi = p->twiddle[2 * k * stride + 1];
                double *a = d + 2 * (s + k), *b = a + 2 * half;
                double re = b[0] * wr - b[1] * wi;
                double im = b[0] * wi + b[1] * wr;
                b[0] = a[0] - re;
                b[1] = a[1] - im;
                a[0] += re;
                a[1] += im;
            }
    }
    for (size_t i = 0; i <= n / 2; i++)
        out[i] = d[2 * i] * d[2 * i] + d[2 * i + 1] * d[2 * i + 1];
}
