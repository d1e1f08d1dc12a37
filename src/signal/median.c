#include "median.h"

#include "wide.h"

#include <stdint.h>
#include <string.h>

/* Positive floats lie in the order of their bits (IEEE 754), 2^23 of them in
 * an octave; steps of 2^15 are 2^-8 of the value at most. */
static const int32_t close_enough = 1 << 15;

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

/* In each column: at or below `low` lie too few, at or below `high` enough. */
struct brackets {
    int32_t low[HT_COLUMNS], high[HT_COLUMNS];
};

HT_WIDE_PART struct brackets around(const float *x, size_t n)
{
    struct brackets b;
    float least[HT_COLUMNS], most[HT_COLUMNS];
    memcpy(least, x, sizeof least);
    memcpy(most, x, sizeof most);
    for (size_t i = 1; i < n; i++)
        for (size_t c = 0; c < HT_COLUMNS; c++) {
            float v = x[i * HT_COLUMNS + c];
            least[c] = v < least[c] ? v : least[c];
            most[c] = v > most[c] ? v : most[c];
        }
    for (size_t c = 0; c < HT_COLUMNS; c++) {
        b.low[c] = bits_of(least[c]) - 1;
        b.high[c] = bits_of(most[c]);
    }
    return b;
}

HT_WIDE_PART int32_t widest(const struct brackets *b)
{
    int32_t most = 0;
    for (size_t c = 0; c < HT_COLUMNS; c++) {
        int32_t width = b->high[c] - b->low[c];
        most = width > most ? width : most;
    }
    return most;
}

HT_WIDE_PART void halve(struct brackets *b, const float *x, size_t n)
{
    float middle[HT_COLUMNS];
    int32_t count[HT_COLUMNS] = { 0 };
    for (size_t c = 0; c < HT_COLUMNS; c++)
        middle[c] = of_bits(b->low[c] + (b->high[c] - b->low[c]) / 2);
    for (size_t i = 0; i < n; i++)
        for (size_t c = 0; c < HT_COLUMNS; c++)
            count[c] += x[i * HT_COLUMNS + c] <= middle[c];
    for (size_t c = 0; c < HT_COLUMNS; c++) {
        int32_t at = b->low[c] + (b->high[c] - b->low[c]) / 2;
        if (count[c] > (int32_t)(n / 2))
            b->high[c] = at;
        else
            b->low[c] = at;
    }
}

HT_WIDE void ht_medians_f(const float *x, size_t n, float median[HT_COLUMNS])
{
    memset(median, 0, HT_COLUMNS * sizeof *median);
    if (n == 0)
        return;
    struct brackets b = around(x, n);
    while (widest(&b) > close_enough)
        halve(&b, x, n);
    for (size_t c = 0; c < HT_COLUMNS; c++)
        median[c] = of_bits(b.high[c]);
}

/* One row: its eighths side by side, then what is left over. */
HT_WIDE_PART size_t count_up_to(const float *x, size_t n, float most)
{
    int32_t lane[HT_COLUMNS] = { 0 };
    size_t i = 0, count = 0;
    for (; i + HT_COLUMNS <= n; i += HT_COLUMNS)
        for (size_t c = 0; c < HT_COLUMNS; c++)
            lane[c] += x[i + c] <= most;
    for (; i < n; i++)
        count += x[i] <= most;
    for (size_t c = 0; c < HT_COLUMNS; c++)
        count += (size_t)lane[c];
    return count;
}

HT_WIDE float ht_median_f(const float *x, size_t n)
{
    if (n == 0)
        return 0;
    float least = x[0], most = x[0];
    for (size_t i = 1; i < n; i++) {
        least = x[i] < least ? x[i] : least;
        most = x[i] > most ? x[i] : most;
    }
    int32_t low = bits_of(least) - 1, high = bits_of(most);
    while (high - low > close_enough) {
        int32_t middle = low + (high - low) / 2;
        if (count_up_to(x, n, of_bits(middle)) > n / 2)
            high = middle;
        else
            low = middle;
    }
    return of_bits(high);
}
