#include "dot.h"

#include "wide.h"

enum { LANES = 8 };

#define DEFINE_DOT(name, type_a, type_b, sum)                                  \
    HT_WIDE sum name(const type_a *a, const type_b *b, size_t n)               \
    {                                                                          \
        sum lane[LANES] = { 0 };                                               \
        size_t i = 0;                                                          \
        for (; i + LANES <= n; i += LANES)                                     \
            for (size_t j = 0; j < LANES; j++)                                 \
                lane[j] += (sum)a[i + j] * (sum)b[i + j];                      \
        for (size_t j = 0; i < n; i++, j++)                                    \
            lane[j] += (sum)a[i] * (sum)b[i];                                  \
        return ((lane[0] + lane[4]) + (lane[2] + lane[6])) +                   \
               ((lane[1] + lane[5]) + (lane[3] + lane[7]));                    \
    }

DEFINE_DOT(ht_dot_f, float, float, float)
DEFINE_DOT(ht_dot_fd, float, double, double)
DEFINE_DOT(ht_dot, double, double, double)

void ht_dot_rows_f(const float *x, const float *rows, size_t stride,
                   size_t count, size_t n, float *sum)
{
    for (size_t r = 0; r < count; r++)
        sum[r] = ht_dot_f(x, rows + r * stride, n);
}

HT_WIDE void ht_add_f(float *sum, const float *x, size_t n)
{
    for (size_t i = 0; i < n; i++)
        sum[i] += x[i];
}
