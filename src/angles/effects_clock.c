/* Which clocking of the shaft sections leaves least. */
#include "chain.h"

#include "halfturn/effects.h"

#include "common/constants.h"

#include <math.h>

enum { STARTS = 8, SWEEPS = 60, QUICK_STEPS = 3, FINE_STEPS = 3 };

static double second_with(const struct ht_chain *chain, size_t section,
                          double yoke_rad)
{
    struct ht_chain turned = *chain;
    turned.yoke_rad[section] = yoke_rad;
    return ht_phasor_size(ht_chain_second(&turned));
}

/* What stands before the section stays, A; what stands behind turns with
 * twice its clocking, B. Two looks a quarter turn apart tell A and B; best is
 * where B stands against A. Higher orders: look again from there. */
static double quick_yoke(const struct ht_chain *chain, size_t section)
{
    struct ht_chain turned = *chain;
    double *yoke_rad = &turned.yoke_rad[section];
    double sense = chain->from_rear ? 1 : -1;
    for (int i = 0; i < QUICK_STEPS; i++) {
        struct ht_phasor here = ht_chain_second(&turned);
        *yoke_rad += HT_PI / 2;
        struct ht_phasor there = ht_chain_second(&turned);
        double a = atan2(here.im + there.im, here.re + there.re);
        double b = atan2(here.im - there.im, here.re - there.re);
        *yoke_rad -= HT_PI / 2;
        *yoke_rad += sense * remainder(a + HT_PI - b, 2 * HT_PI) / 2;
    }
    return *yoke_rad;
}

/* Newton's steps to the least square from there, by differences over so small
 * an angle that what they leave out is of fourth order in it. The square is
 * smooth where nothing is left, and its least place is the same on every
 * machine to the number format. What gains nothing stays. */
static double fine_yoke(const struct ht_chain *chain, size_t section)
{
    const double d = 1e-3;
    double now = chain->yoke_rad[section], at = quick_yoke(chain, section);
    for (int i = 0; i < FINE_STEPS; i++) {
        double here = pow(second_with(chain, section, at), 2);
        double low = pow(second_with(chain, section, at - d), 2);
        double high = pow(second_with(chain, section, at + d), 2);
        double hollow = (high + low - 2 * here) / (d * d);
        if (hollow > 0)
            at -= (high - low) / (2 * d) / hollow;
    }
    return second_with(chain, section, at) <
                   second_with(chain, section, now) - 1e-12
               ? at
               : now;
}

/* 0, +1, -1, +2, ..: the least move among equals comes first. */
static long move_of(unsigned k)
{
    return k % 2 ? (long)(k / 2) + 1 : -(long)(k / 2);
}

static long best_teeth(const struct ht_chain *chain, size_t section,
                       unsigned teeth)
{
    long best = 0;
    double least = INFINITY, pitch = 2 * HT_PI / teeth;
    for (unsigned k = 0; k < teeth; k++) {
        double yoke = chain->yoke_rad[section] + pitch * (double)move_of(k);
        double second = second_with(chain, section, yoke);
        if (second < least - 1e-12) {
            least = second;
            best = move_of(k);
        }
    }
    return best;
}

static void move(struct ht_chain *chain, struct ht_clocking *clocking,
                 size_t section, unsigned teeth)
{
    if (teeth == 0) {
        chain->yoke_rad[section] = fine_yoke(chain, section);
        return;
    }
    long best = best_teeth(chain, section, teeth);
    chain->yoke_rad[section] += 2 * HT_PI / teeth * (double)best;
    clocking->teeth[section] += best;
}

/* Into (-pi/2, pi/2], and teeth into the least equal move. */
static void finish(struct ht_clocking *clocking, const struct ht_chain *chain,
                   unsigned teeth)
{
    for (size_t m = 0; m < chain->members; m++) {
        double yoke = remainder(chain->yoke_rad[m], HT_PI);
        clocking->yoke_rad[m] = yoke <= -HT_PI / 2 ? HT_PI / 2 : yoke + 0.0;
        long period = teeth % 2 ? (long)teeth : (long)teeth / 2;
        if (period)
            clocking->teeth[m] =
                lround(remainder((double)clocking->teeth[m], (double)period));
    }
    clocking->second_rad = ht_phasor_size(ht_chain_second(chain));
    clocking->leftover_rad = ht_joint_bend_of_harmonic(clocking->second_rad);
}

struct ht_clocking ht_clock_section(const struct ht_chain *chain,
                                    size_t section, unsigned teeth)
{
    struct ht_clocking clocking = { .second_rad = 0 };
    struct ht_chain turned = *chain;
    move(&turned, &clocking, section, teeth);
    finish(&clocking, &turned, teeth);
    return clocking;
}

/* One section after the other until nothing more is gained. */
static struct ht_clocking descend(struct ht_chain chain,
                                  struct ht_clocking clocking, unsigned teeth)
{
    double before = INFINITY;
    for (int sweep = 0; sweep < SWEEPS; sweep++) {
        for (size_t m = 1; m + 1 < chain.members; m++)
            move(&chain, &clocking, m, teeth);
        double second = ht_phasor_size(ht_chain_second(&chain));
        if (second > before - 1e-10)
            break;
        before = second;
    }
    finish(&clocking, &chain, teeth);
    return clocking;
}

/* Every pair of moves of two sections. */
static struct ht_clocking best_pair(const struct ht_chain *chain,
                                    unsigned teeth)
{
    struct ht_clocking best = { .second_rad = INFINITY };
    unsigned moves = teeth % 2 ? teeth : teeth / 2;
    for (unsigned k = 0; k < moves; k++) {
        struct ht_clocking clocking = { .second_rad = 0 };
        struct ht_chain turned = *chain;
        clocking.teeth[1] = move_of(k);
        turned.yoke_rad[1] += 2 * HT_PI / teeth * (double)move_of(k);
        move(&turned, &clocking, 2, teeth);
        finish(&clocking, &turned, teeth);
        if (clocking.second_rad < best.second_rad - 1e-12)
            best = clocking;
    }
    return best;
}

/* By turns from several starts: from a line of equal joints in line no single
 * section gains anything, although all together can leave nothing. */
struct ht_clocking ht_clock_all(const struct ht_chain *chain, unsigned teeth)
{
    struct ht_clocking best = { .second_rad = INFINITY };
    if (teeth && chain->members == 4)
        return best_pair(chain, teeth);
    for (int start = 0; start < STARTS; start++) {
        struct ht_clocking clocking = { .second_rad = 0 };
        struct ht_chain turned = *chain;
        for (size_t m = 1; m + 1 < chain->members; m++) {
            double off = remainder(2.4 * (double)m * start, HT_PI);
            long steps = lround(off * teeth / (2 * HT_PI));
            clocking.teeth[m] = steps;
            turned.yoke_rad[m] +=
                teeth ? 2 * HT_PI / teeth * (double)steps : off;
        }
        clocking = descend(turned, clocking, teeth);
        if (clocking.second_rad < best.second_rad - 1e-10)
            best = clocking;
    }
    return best;
}
