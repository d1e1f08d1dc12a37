#include "dot.h"

#include "lanes.h"

/* Pairwise, as the header says. */
#define IN_ORDER(lane)                                                         \
    ((((lane)[0] + (lane)[4]) + ((lane)[2] + (lane)[6])) +                     \
     (((lane)[1] + (lane)[5]) + ((lane)[3] + (lane)[7])))

HT_WIDE_PART float dot_f(const float *a, const float *b, size_t n)
{
    ht_lanes_f lane = { 0 };
    size_t i = 0;
    for (; i + HT_LANES <= n; i += HT_LANES) {
        ht_lanes_f x, y;
        HT_LANES_LOAD(x, a + i);
        HT_LANES_LOAD(y, b + i);
        lane += x * y;
    }
    for (size_t j = 0; i < n; i++, j++)
        lane[j] += a[i] * b[i];
    return IN_ORDER(lane);
}

HT_WIDE float ht_dot_f(const float *a, const float *b, size_t n)
{
    return dot_f(a, b, n);
}

HT_WIDE void ht_dot_rows_f(const float *x, const float *rows, size_t stride,
                           size_t count, size_t n, float *sum)
{
    for (size_t r = 0; r < count; r++)
        sum[r] = dot_f(x, rows + r * stride, n);
}

HT_WIDE void ht_add_f(float *sum, const float *x, size_t n)
{
    size_t i = 0;
    for (; i + HT_LANES <= n; i += HT_LANES) {
        ht_lanes_f to, more;
        HT_LANES_LOAD(to, sum + i);
        HT_LANES_LOAD(more, x + i);
        to += more;
        HT_LANES_STORE(sum + i, to);
    }
    for (; i < n; i++)
        sum[i] += x[i];
}
