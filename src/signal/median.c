#include "median.h"

#include "lanes.h"

/* Positive floats lie in the order of their bits (IEEE 754), 2^23 of them in
 * an octave; steps of 2^15 are 2^-8 of the value at most. */
enum { CLOSE_ENOUGH = 1 << 15 };

HT_WIDE_PART float of_bits(int32_t bits)
{
    float x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

HT_WIDE_PART int32_t bits_of(float x)
{
    int32_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits & 0x7fffffff; /* -0 is 0 */
}

/* Least and greatest of each column, as bits. */
HT_WIDE_PART void find_range(const float *x, size_t n, ht_lanes_i *low,
                             ht_lanes_i *high)
{
    ht_lanes_i bits;
    HT_LANES_LOAD(bits, x);
    *low = *high = bits & 0x7fffffff;
    for (size_t i = 1; i < n; i++) {
        HT_LANES_LOAD(bits, x + i * HT_COLUMNS);
        bits &= 0x7fffffff;
        ht_lanes_i less = bits < *low, more = bits > *high;
        *low = (bits & less) | (*low & ~less);
        *high = (bits & more) | (*high & ~more);
    }
}

HT_WIDE_PART int32_t widest(const ht_lanes_i *low, const ht_lanes_i *high)
{
    ht_lanes_i width = *high - *low;
    int32_t most = 0;
    for (size_t c = 0; c < HT_COLUMNS; c++)
        most = width[c] > most ? width[c] : most;
    return most;
}

/* At or below `low` lie too few, at or below `high` enough. */
HT_WIDE void ht_medians_f(const float *x, size_t n, float median[HT_COLUMNS])
{
    memset(median, 0, HT_COLUMNS * sizeof *median);
    if (n == 0)
        return;
    ht_lanes_i low, high;
    int32_t half = (int32_t)(n / 2);
    find_range(x, n, &low, &high);
    low -= 1;
    while (widest(&low, &high) > CLOSE_ENOUGH) {
        ht_lanes_i middle = low + (high - low) / 2, count = { 0 };
        for (size_t i = 0; i < n; i++) {
            ht_lanes_i bits;
            HT_LANES_LOAD(bits, x + i * HT_COLUMNS);
            count -= (bits & 0x7fffffff) <= middle;
        }
        ht_lanes_i enough = count > half;
        high = (middle & enough) | (high & ~enough);
        low = (low & enough) | (middle & ~enough);
    }
    HT_LANES_STORE(median, high);
}

/* One row: eight neighbours side by side, then what is left over. */
HT_WIDE_PART int32_t count_up_to(const float *x, size_t n, int32_t most)
{
    ht_lanes_i lane = { 0 };
    size_t i = 0;
    for (; i + HT_COLUMNS <= n; i += HT_COLUMNS) {
        ht_lanes_i bits;
        HT_LANES_LOAD(bits, x + i);
        lane -= (bits & 0x7fffffff) <= most;
    }
    int32_t count = 0;
    for (; i < n; i++)
        count += bits_of(x[i]) <= most;
    for (size_t c = 0; c < HT_COLUMNS; c++)
        count += lane[c];
    return count;
}

HT_WIDE float ht_median_f(const float *x, size_t n)
{
    if (n == 0)
        return 0;
    int32_t low = bits_of(x[0]), high = low, half = (int32_t)(n / 2);
    for (size_t i = 1; i < n; i++) {
        int32_t bits = bits_of(x[i]);
        low = bits < low ? bits : low;
        high = bits > high ? bits : high;
    }
    low--;
    while (high - low > CLOSE_ENOUGH) {
        int32_t middle = low + (high - low) / 2;
        if (count_up_to(x, n, middle) > half)
            high = middle;
        else
            low = middle;
    }
    return of_bits(high);
}
