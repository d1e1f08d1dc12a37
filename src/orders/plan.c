#include "plan.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "texts.h"

enum { PAIRS_MAX = 32 };
static const double same = 1e-6;        /* relative: one frequency */
static const double too_close = 0.5;    /* cycles per block */
static const double parted = 1;

/* A block spans at most this much speed, so that a bin stays a bin: about
 * the width of one (4 km/h) and a half. */
static const double block_speed_span_m_s = 1.7;

static bool one_frequency(double a, double b)
{
    return fabs(a - b) <= same * fmax(a, b);
}

/* Shortest of 16, 32, 64 turns that parts every pair it could part, within
 * what the drive allows; 8 when there is little to analyse. */
static double block_length(const double *order, size_t orders,
                           const struct ht_stretches *s)
{
    if (s->longest_turns < 40)
        return 8;
    double length = 16;
    for (int next = 32; next <= 64; next *= 2) {
        bool helps = false;
        for (size_t i = 0; i < orders; i++)
            for (size_t j = 0; j < i; j++) {
                double gap = fabs(order[i] - order[j]);
                helps = helps || (!one_frequency(order[i], order[j]) &&
                                  gap * length < parted &&
                                  gap * next >= too_close);
            }
        if (helps && next * s->speed_change <= block_speed_span_m_s &&
            s->longest_turns >= 3 * next)
            length = next;
    }
    return length;
}

static enum ht_tie tie_of(const struct ht_plan *plan,
                          const struct ht_rotation *r, size_t a, size_t b)
{
    if (!one_frequency(plan->wheel_order[a], plan->wheel_order[b]))
        return HT_TIE_CLOSE;
    bool geared = r->part[r->order[a].part].follows_gear !=
                  r->part[r->order[b].part].follows_gear;
    return geared ? HT_TIE_GEAR : HT_TIE_ALWAYS;
}

/* close, gear: any of them forbids a claim for one order alone. */
static enum ht_tie worse(enum ht_tie a, enum ht_tie b)
{
    static const int rank[] = { 0, 3, 2, 1 };
    return rank[a] >= rank[b] ? a : b;
}

static size_t sorted(const struct ht_plan *plan, size_t *index)
{
    size_t n = 0;
    for (size_t i = 0; i < plan->asked; i++) {
        if (!(plan->wheel_order[i] > 0))
            continue;
        size_t at = n++;
        for (; at > 0 && plan->wheel_order[index[at - 1]] >
                             plan->wheel_order[i]; at--)
            index[at] = index[at - 1];
        index[at] = i;
    }
    return n;
}

static void make_columns(struct ht_plan *plan, const struct ht_rotation *r,
                         const size_t *index, size_t n)
{
    size_t members = 0;
    for (size_t i = 0; i < n; i++) {
        double o = plan->wheel_order[index[i]];
        bool joins = i > 0 && (o - plan->wheel_order[index[i - 1]]) *
                                  plan->block_turns < too_close;
        if (!joins) {
            plan->column[plan->columns++] = 0;
            members = 0;
        }
        size_t c = plan->columns - 1;
        plan->column[c] = (plan->column[c] * (double)members + o) /
                          (double)(members + 1);
        members++;
        plan->column_of[index[i]] = c;
        for (size_t j = i + 1 - members; j < i; j++)
            plan->tie[c] = worse(plan->tie[c],
                                 tie_of(plan, r, index[j], index[i]));
    }
}

/* The figure shows the first three wheel orders and the first two of every
 * shaft, and a fifth more. */
static double map_edge(const struct ht_plan *plan, const struct ht_rotation *r)
{
    double edge = 3;
    for (size_t i = 0; i < plan->asked; i++)
        if (r->part[r->order[i].part].family == HT_FAMILY_SHAFT &&
            r->order[i].multiple <= 2 && plan->wheel_order[i] > 0)
            edge = fmax(edge, plan->wheel_order[i]);
    return fmin(ceil(1.2 * edge), 48);
}

void ht_plan_make(struct ht_plan *plan, const struct ht_rotation *r,
                  const struct ht_stretches *stretches)
{
    *plan = (struct ht_plan){ .asked = r->orders };
    double order[HT_ORDERS_MAX];
    size_t index[HT_ORDERS_MAX];
    for (size_t i = 0; i < r->orders; i++) {
        plan->wheel_order[i] = r->order[i].multiple *
                               r->part[r->order[i].part].turns;
        plan->column_of[i] = SIZE_MAX;
    }
    size_t n = sorted(plan, index);
    for (size_t i = 0; i < n; i++)
        order[i] = plan->wheel_order[index[i]];
    plan->block_turns = block_length(order, n, stretches);
    make_columns(plan, r, index, n);
    plan->order_max = map_edge(plan, r);
}

static void say_way_out(struct ht_cannot_separate *pair, double gap,
                        enum ht_tie tie, double speed_m_s,
                        double circumference_m)
{
    pair->never = tie != HT_TIE_CLOSE;
    if (tie == HT_TIE_GEAR)
        (void)snprintf(pair->way_out, sizeof pair->way_out,
                       ORDERS_CHANGE_GEAR);
    if (tie != HT_TIE_CLOSE)
        return;
    /* one cycle between the two lines: joint least squares parts them */
    double turns = ceil(parted / gap);
    double seconds = ceil(turns * circumference_m / speed_m_s);
    if (isfinite(seconds))
        (void)snprintf(pair->way_out, sizeof pair->way_out,
                       ORDERS_DRIVE_LONGER_AT, turns, seconds,
                       speed_m_s * 3.6);
    else
        (void)snprintf(pair->way_out, sizeof pair->way_out,
                       ORDERS_DRIVE_LONGER, turns);
}

void ht_plan_say_close(const struct ht_plan *plan, struct ht_orders *orders,
                       const struct ht_rotation *r, double speed_m_s,
                       double circumference_m)
{
    for (size_t a = 0; a < plan->asked; a++)
        for (size_t b = a + 1; b < plan->asked; b++) {
            if (plan->column_of[a] == SIZE_MAX ||
                plan->column_of[a] != plan->column_of[b] ||
                orders->cannot_separate_count == PAIRS_MAX)
                continue;
            struct ht_cannot_separate *pair =
                &orders->cannot_separate[orders->cannot_separate_count++];
            memcpy(pair->a, r->order[a].name, sizeof pair->a);
            memcpy(pair->b, r->order[b].name, sizeof pair->b);
            say_way_out(pair,
                        fabs(plan->wheel_order[a] - plan->wheel_order[b]),
                        tie_of(plan, r, a, b), speed_m_s, circumference_m);
        }
}

void ht_plan_partners(const struct ht_plan *plan, const struct ht_rotation *r,
                      size_t order, char *text, size_t size)
{
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < plan->asked && used < size; i++) {
        if (i == order || plan->column_of[i] != plan->column_of[order])
            continue;
        int n = snprintf(text + used, size - used, "%s%s", used ? ", " : "",
                         r->order[i].name);
        used += n > 0 ? (size_t)n : 0;
    }
}
