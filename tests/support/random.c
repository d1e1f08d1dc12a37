#include "random.h"

#include <math.h>

uint64_t random_bits(struct random_source *source)
{
    uint64_t z = source->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

double random_uniform(struct random_source *source, double low, double high)
{
    double unit = (double)(random_bits(source) >> 11) * 0x1p-53;
    return low + (high - low) * unit;
}

/* Box and Muller, Ann. Math. Statist. 29 (1958). */
double random_normal(struct random_source *source)
{
    double radius = sqrt(-2 * log(random_uniform(source, 0x1p-54, 1)));
    return radius * cos(random_uniform(source, 0, 6.283185307179586));
}
