#include "phasor.h"

#include "lanes.h"

/* Adding and taking away 1.5 * 2^52 rounds to the nearest whole number
 * (IEEE 754, round to nearest), without a call and without a branch. */
static const double to_whole = 6755399441055744.0;

/* cos and sin of a quarter of the angle by Taylor's series (|quarter| <=
 * pi/4: the first term left out is below 1.8e-9), then doubled twice. For a
 * double, or for eight of them. */
#define COSINE_AND_SINE(type, turns, cosine, sine)                             \
    do {                                                                       \
        type whole_ = ((turns) + to_whole) - to_whole;                         \
        type a_ = ((turns) - whole_) * 1.57079632679489661923;                 \
        type q_ = a_ * a_;                                                     \
        type s_ = a_ * (1 + q_ * (-1.0 / 6 + q_ * (1.0 / 120 +                 \
                  q_ * (-1.0 / 5040 + q_ * (1.0 / 362880)))));                 \
        type c_ = 1 + q_ * (-0.5 + q_ * (1.0 / 24 + q_ * (-1.0 / 720 +         \
                  q_ * (1.0 / 40320 - q_ * (1.0 / 3628800)))));                \
        type s2_ = 2 * s_ * c_, c2_ = c_ * c_ - s_ * s_;                       \
        (sine) = 2 * s2_ * c2_;                                                \
        (cosine) = c2_ * c2_ - s2_ * s2_;                                      \
    } while (0)

HT_WIDE void ht_phasor_fill(double *cosine, double *sine, const double *turns,
                            double order, size_t n)
{
    for (size_t i = 0; i < n; i += HT_LANES) {
        ht_lanes_d at, c, s;
        HT_LANES_LOAD(at, turns + i);
        at *= order;
        COSINE_AND_SINE(ht_lanes_d, at, c, s);
        HT_LANES_STORE(cosine + i, c);
        HT_LANES_STORE(sine + i, s);
    }
}

/* Neighbours first. */
#define IN_ORDER(lane)                                                         \
    ((((lane)[0] + (lane)[1]) + ((lane)[2] + (lane)[3])) +                     \
     (((lane)[4] + (lane)[5]) + ((lane)[6] + (lane)[7])))

HT_WIDE struct ht_phasor ht_phasor_sum(const double *x, const double *cosine,
                                       const double *sine, size_t n)
{
    ht_lanes_d re = { 0 }, im = { 0 };
    for (size_t i = 0; i < n; i += HT_LANES) {
        ht_lanes_d v, c, s;
        HT_LANES_LOAD(v, x + i);
        HT_LANES_LOAD(c, cosine + i);
        HT_LANES_LOAD(s, sine + i);
        re += v * c;
        im += v * s;
    }
    return (struct ht_phasor){ IN_ORDER(re), -IN_ORDER(im) };
}

struct ht_phasor ht_phasor_of(double turns)
{
    struct ht_phasor p;
    COSINE_AND_SINE(double, turns, p.re, p.im);
    return p;
}
