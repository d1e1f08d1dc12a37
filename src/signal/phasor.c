#include "phasor.h"

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

/* Lanes 0 to 3 and 4 to 7 of one sum: vectors of half the length stay in
 * registers. */
struct halves {
    ht_half_lanes_d low, high;
};

HT_WIDE_PART void add_products(struct halves *sum, const struct halves *x,
                               const struct halves *y)
{
    sum->low += x->low * y->low;
    sum->high += x->high * y->high;
}

/* Neighbours first. */
HT_WIDE_PART double in_order(const struct halves *sum)
{
    return ((sum->low[0] + sum->low[1]) + (sum->low[2] + sum->low[3])) +
           ((sum->high[0] + sum->high[1]) + (sum->high[2] + sum->high[3]));
}

HT_WIDE void ht_phasor_sums(const double *x, const double *y,
                            const double *cosine, const double *sine, size_t n,
                            struct ht_phasor *of_x, struct ht_phasor *of_y)
{
    struct halves xr = { { 0 }, { 0 } }, xi = xr, yr = xr, yi = xr;
    for (size_t i = 0; i < n; i += HT_LANES) {
        struct halves v, w, c, s;
        HT_LANES_LOAD(c, cosine + i);
        HT_LANES_LOAD(s, sine + i);
        HT_LANES_LOAD(v, x + i);
        HT_LANES_LOAD(w, y + i);
        add_products(&xr, &v, &c);
        add_products(&xi, &v, &s);
        add_products(&yr, &w, &c);
        add_products(&yi, &w, &s);
    }
    *of_x = (struct ht_phasor){ in_order(&xr), -in_order(&xi) };
    *of_y = (struct ht_phasor){ in_order(&yr), -in_order(&yi) };
}

struct ht_phasor ht_phasor_of(double turns)
{
    struct ht_phasor p;
    COSINE_AND_SINE(double, turns, p.re, p.im);
    return p;
}
