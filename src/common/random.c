#include "random.h"

uint64_t ht_random_bits(uint64_t *state)
{
    uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

double ht_random_share(uint64_t *state)
{
    return (double)(ht_random_bits(state) >> 11) * 0x1p-53;
}
