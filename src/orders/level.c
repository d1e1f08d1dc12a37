#include "level.h"

#include <math.h>

#include "common/statistics.h"

double ht_power_cdf(const struct ht_power *p, double a2, double seen)
{
    double mean = a2 + p->noise;
    double variance = a2 * p->cross + p->own + p->drift;
    if (!(mean > 0) || seen <= 0)
        return 0;
    double spread = variance / (mean * mean) / 9;
    return ht_normal_cdf((cbrt(seen / mean) - 1 + spread) / sqrt(spread));
}

/* The amplitude for which P(power <= seen) is `wanted`; falls as it rises. */
static double amplitude_at(const struct ht_power *p, double seen,
                           double wanted)
{
    if (ht_power_cdf(p, 0, seen) <= wanted)
        return 0;
    double low = 0, high = seen + p->noise;
    while (ht_power_cdf(p, high, seen) > wanted && high < 1e300)
        high *= 2;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (ht_power_cdf(p, middle, seen) > wanted)
            low = middle;
        else
            high = middle;
    }
    return sqrt(0.5 * (low + high));
}

struct ht_level ht_power_level(const struct ht_power *p)
{
    double left = p->power - p->noise;
    return (struct ht_level){
        .value = left > 0 ? sqrt(left) : 0,
        .low = amplitude_at(p, p->power, 0.975),
        .high = amplitude_at(p, p->power, 0.025),
    };
}

double ht_power_least(const struct ht_power *p, double threshold)
{
    return amplitude_at(p, threshold, 0.1);
}

double ht_digamma(double x)
{
    double sum = 0;
    while (x < 10) {
        sum -= 1 / x;
        x += 1;
    }
    double q = 1 / (x * x);
    return sum + log(x) - 0.5 / x -
           q * (1.0 / 12 - q * (1.0 / 120 - q / 252));
}

double ht_trigamma(double x)
{
    double sum = 0;
    while (x < 10) {
        sum += 1 / (x * x);
        x += 1;
    }
    double q = 1 / (x * x);
    return sum + 1 / x + 0.5 * q +
           q / x * (1.0 / 6 - q * (1.0 / 30 - q / 42));
}
