#include "chance.h"

#include <math.h>

static uint64_t next(struct ht_chance *chance)
{
    uint64_t x = chance->state;
    x ^= x >> 12;
    x ^= x << 25;
    x ^= x >> 27;
    chance->state = x;
    return x * UINT64_C(0x2545f4914f6cdd1d);
}

struct ht_chance ht_chance_from(uint64_t seed)
{
    struct ht_chance chance = { seed ^ UINT64_C(0x6a09e667f3bcc909) };
    if (chance.state == 0)
        chance.state = 1;
    for (int i = 0; i < 8; i++)
        (void)next(&chance);
    return chance;
}

double ht_chance_share(struct ht_chance *chance)
{
    return (double)(next(chance) >> 11) * 0x1p-53;
}

/* Marsaglia and Bray's polar method, SIAM Review 6 (1964), one of the pair. */
double ht_chance_bell(struct ht_chance *chance)
{
    for (;;) {
        double a = 2 * ht_chance_share(chance) - 1;
        double b = 2 * ht_chance_share(chance) - 1;
        double square = a * a + b * b;
        if (square > 0 && square < 1)
            return a * sqrt(-2 * log(square) / square);
    }
}
