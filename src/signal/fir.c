#include "fir.h"

#include "lanes.h"

enum { TOGETHER = 4 };

/* sum += h * x, lane by lane; both at any address. */
HT_WIDE_PART void add_products(ht_lanes_f *sum, const float *h, const float *x)
{
    ht_lanes_f tap, value;
    HT_LANES_LOAD(tap, h);
    HT_LANES_LOAD(value, x);
    *sum += tap * value;
}

/* In the order of dot.h. */
HT_WIDE_PART float add_lanes(const ht_lanes_f *sum)
{
    return (((*sum)[0] + (*sum)[4]) + ((*sum)[2] + (*sum)[6])) +
           (((*sum)[1] + (*sum)[5]) + ((*sum)[3] + (*sum)[7]));
}

/* Four sums with names stay in registers, an array of them does not. */
HT_WIDE_PART void run_together(const float *h, size_t taps, const float *x,
                               size_t step, float *out)
{
    const float *y = x + step, *z = y + step, *w = z + step;
    ht_lanes_f a = { 0 }, b = { 0 }, c = { 0 }, d = { 0 };
    for (size_t k = 0; k < taps; k += HT_LANES) {
        add_products(&a, h + k, x + k);
        add_products(&b, h + k, y + k);
        add_products(&c, h + k, z + k);
        add_products(&d, h + k, w + k);
    }
    out[0] = add_lanes(&a);
    out[1] = add_lanes(&b);
    out[2] = add_lanes(&c);
    out[3] = add_lanes(&d);
}

HT_WIDE
void ht_fir_run(const float *h, size_t taps, const float *x, size_t step,
                float *out, size_t count)
{
    size_t i = 0;
    for (; i + TOGETHER <= count; i += TOGETHER)
        run_together(h, taps, x + i * step, step, out + i);
    for (; i < count; i++) {
        ht_lanes_f sum = { 0 };
        for (size_t k = 0; k < taps; k += HT_LANES)
            add_products(&sum, h + k, x + i * step + k);
        out[i] = add_lanes(&sum);
    }
}
