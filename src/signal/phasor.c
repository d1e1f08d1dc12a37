#include "phasor.h"

#include "wide.h"

/* Adding and taking away 1.5 * 2^52 rounds to the nearest whole number
 * (IEEE 754, round to nearest), without a call and without a branch. */
static const double to_whole = 6755399441055744.0;

/* cos and sin of a quarter of the angle by Taylor's series (|quarter| <=
 * pi/4: the first term left out is below 1.8e-9), then doubled twice. */
HT_WIDE_PART void cosine_and_sine(double turns, double *cosine, double *sine)
{
    double whole = (turns + to_whole) - to_whole;
    double a = (turns - whole) * 1.57079632679489661923;
    double q = a * a;
    double s = a * (1 + q * (-1.0 / 6 + q * (1.0 / 120 + q * (-1.0 / 5040 +
               q * (1.0 / 362880)))));
    double c = 1 + q * (-0.5 + q * (1.0 / 24 + q * (-1.0 / 720 +
               q * (1.0 / 40320 - q * (1.0 / 3628800)))));
    double s2 = 2 * s * c, c2 = c * c - s * s;
    *sine = 2 * s2 * c2;
    *cosine = c2 * c2 - s2 * s2;
}

HT_WIDE void ht_phasor_fill(double *cosine, double *sine, const double *turns,
                    double order, size_t n)
{
    for (size_t i = 0; i < n; i += HT_LANES)
        for (size_t k = 0; k < HT_LANES; k++)
            cosine_and_sine(order * turns[i + k], &cosine[i + k],
                            &sine[i + k]);
}

HT_WIDE_PART double in_order(const double part[HT_LANES])
{
    return ((part[0] + part[1]) + (part[2] + part[3])) +
           ((part[4] + part[5]) + (part[6] + part[7]));
}

HT_WIDE struct ht_phasor ht_phasor_sum(const double *x, const double *cosine,
                               const double *sine, size_t n)
{
    double re[HT_LANES] = { 0 }, im[HT_LANES] = { 0 };
    for (size_t i = 0; i < n; i += HT_LANES)
        for (size_t k = 0; k < HT_LANES; k++) {
            re[k] += x[i + k] * cosine[i + k];
            im[k] += x[i + k] * sine[i + k];
        }
    return (struct ht_phasor){ in_order(re), -in_order(im) };
}

struct ht_phasor ht_phasor_of(double turns)
{
    struct ht_phasor p;
    cosine_and_sine(turns, &p.re, &p.im);
    return p;
}
