#include "blocks.h"

#include <math.h>

#include "common/memory.h"
#include "hop.h"

double ht_trusted_hz(const struct ht_recording *r)
{
    double edge = 0.45 * r->rate_hz;
    return r->band_hz > 0 ? fmin(edge, r->band_hz) : edge;
}

static size_t blocks_at_most(const struct ht_stretches *s, double turns)
{
    size_t n = 0;
    for (size_t i = 0; i < s->count; i++)
        if (s->stretch[i].turns >= turns)
            n += (size_t)(s->stretch[i].turns / (turns / 2));
    return n;
}

static bool make_room(struct ht_blocks *b, size_t most)
{
    size_t numbers = most * b->columns * b->channels;
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (!arena)
        return false;
    b->memory = arena;
    b->block = ht_arena_get(arena, most + 1, sizeof *b->block);
    b->amplitude = ht_arena_get(arena, numbers + 1, sizeof *b->amplitude);
    b->loud = ht_arena_get(arena, numbers + 1, sizeof *b->loud);
    b->own = ht_arena_get(arena, b->lines, sizeof *b->own);
    b->lone = ht_arena_get(arena, b->lines, sizeof *b->lone);
    b->row_blocks = ht_arena_get(arena, b->rows, sizeof *b->row_blocks);
    b->row_power = ht_arena_get(arena, b->rows * b->channels * b->lines,
                                sizeof *b->row_power);
    return b->block && b->amplitude && b->loud && b->own && b->lone &&
           b->row_blocks && b->row_power;
}

/* Uncertainty of the angle inside a block. The turns' is about the block's
 * mean, evenly weighted (a wrong speed is a ramp: variance 1/12 of the gained
 * turns'); Hann leaves (1 - 6 / pi^2) / 12 of it. */
static double sd_inside(const struct ht_turns *t, double time_s)
{
    if (!t->sd_turns)
        return 0;
    double at = (time_s - t->start_s) * t->rate_hz;
    size_t i = at <= 0 ? 0 : (size_t)at;
    i = i < t->points ? i : t->points - 1;
    double sd = t->sd_turns[i];
    return sd > 0 ? 0.626 * sd : 0;
}

static double speed_at(const struct ht_turns *t, double time_s)
{
    double at = (time_s - t->start_s) * t->rate_hz;
    size_t last = t->points - 1;
    if (!(at > 0))
        return t->speed_m_s[0];
    if (at >= (double)last)
        return t->speed_m_s[last];
    size_t i = (size_t)at;
    double f = at - (double)i;
    return t->speed_m_s[i] + f * (t->speed_m_s[i + 1] - t->speed_m_s[i]);
}

/* Each hop is half the block's turns. */
static void fill_parts(struct ht_block *block, const struct ht_turns *t,
                       const struct ht_hop *first, const struct ht_hop *second)
{
    enum { HALF = HT_PARTS / 2 };
    for (size_t k = 0; k < HT_PARTS; k++) {
        const struct ht_hop *hop = k < HALF ? first : second;
        double f = ((double)(k % HALF) + 0.5) / HALF;
        double at_s = hop->start_s + f * (hop->end_s - hop->start_s);
        block->part_m_s[k] = (float)speed_at(t, at_s);
    }
}

static size_t active_columns(const struct ht_plan *plan, double fastest_per_s,
                             double band_hz)
{
    size_t n = 0;
    while (n < plan->columns && plan->column[n] * fastest_per_s <= band_hz)
        n++;
    return n;
}

static void settle_amplitudes(struct ht_blocks *b, const struct ht_plan *plan,
                              const struct ht_joint *joint,
                              const struct ht_hop *first,
                              const struct ht_hop *second,
                              const struct ht_block *block)
{
    struct ht_phasor sum[HT_ORDERS_MAX];
    double weight = first->weight_rising + second->weight_falling;
    double middle = second->start_turns;
    for (size_t ch = 0; ch < b->channels; ch++) {
        struct ht_phasor *out =
            &b->amplitude[b->count * b->columns * b->channels + ch];
        for (size_t k = 0; k < block->active; k++) {
            struct ht_phasor x = first->rising[k * b->channels + ch];
            struct ht_phasor y = second->falling[k * b->channels + ch];
            struct ht_phasor turn = ht_phasor_of(plan->column[k] * middle);
            double re = (x.re + y.re) / weight, im = (x.im + y.im) / weight;
            sum[k] = (struct ht_phasor){ re * turn.re - im * turn.im,
                                         re * turn.im + im * turn.re };
        }
        ht_joint_solve(joint, sum, block->active);
        for (size_t k = 0; k < block->active; k++) {
            struct ht_phasor turn = ht_phasor_of(plan->column[k] * middle);
            out[k * b->channels] = (struct ht_phasor){
                sum[k].re * turn.re + sum[k].im * turn.im,
                sum[k].im * turn.re - sum[k].re * turn.im
            };
        }
    }
}

enum { BESIDE = 12 };

/* Lines that no column reaches, two lines away. */
static void mark_lone(struct ht_blocks *b, const struct ht_plan *plan)
{
    for (size_t l = 0; l < b->lines; l++)
        b->lone[l] = true;
    for (size_t k = 0; k < plan->columns; k++) {
        double at = plan->column[k] * b->block_turns;
        for (double l = fmax(ceil(at - 2), 0);
             l <= at + 2 && l < (double)b->lines; l++)
            b->lone[(size_t)l] = false;
    }
}

/* Geometric mean of the lone lines beside an order, from the product of their
 * powers over a usual one. */
static double loudness(const struct ht_blocks *b, double order, double usual)
{
    const double far = 1e12; /* 24 of them still are a number */
    double at = order * b->block_turns, product = 1, n = 0;
    size_t first = at > BESIDE + 2 ? (size_t)at - BESIDE : 2;
    for (size_t l = first; l < b->lines && (double)l < at + BESIDE; l++)
        if (b->lone[l] && b->own[l] > 0) {
            double over = b->own[l] / usual;
            product *= over > far ? far : over < 1 / far ? 1 / far : over;
            n++;
        }
    return n > 3 ? usual * exp(log(product) / n) : 0;
}

static void add_spectrum(struct ht_blocks *b, struct ht_hopper *hopper,
                         const struct ht_hop *first,
                         const struct ht_hop *second, size_t row)
{
    double weight = first->weight_rising + second->weight_falling;
    b->row_blocks[row]++;
    for (size_t ch = 0; ch < b->channels; ch++) {
        for (size_t l = 0; l < b->lines; l++)
            b->own[l] = 0;
        ht_hopper_spectrum(hopper, first, second, ch, 2 / weight, b->own);
        double *sum = &b->row_power[(row * b->channels + ch) * b->lines];
        double usual = 0;
        for (size_t l = 0; l < b->lines; l++) {
            sum[l] += b->own[l];
            usual += b->own[l] / (double)b->lines;
        }
        for (size_t k = 0; k < b->columns; k++)
            b->loud[(b->count * b->columns + k) * b->channels + ch] =
                (float)loudness(b, hopper->plan->column[k], usual);
    }
}

struct ht_cutting {
    const struct ht_plan *plan;
    const struct ht_joint *joint;
    const struct ht_turns *turns;
    struct ht_hopper hopper;
};

/* A hop without enough samples would be no block at all. */
static bool full(const struct ht_hop *hop)
{
    return hop->samples >= 8 && hop->weight_rising > 0 &&
           hop->weight_falling > 0;
}

static void add_block(struct ht_blocks *b, struct ht_cutting *cut,
                      const struct ht_hop *first, const struct ht_hop *second,
                      bool follows)
{
    struct ht_block *block = &b->block[b->count];
    double seconds = second->end_s - first->start_s;
    *block = (struct ht_block){
        .middle_s = second->start_s,
        .speed_m_s = b->block_turns * b->circumference_m / seconds,
        .follows = follows,
        .sd_turns = sd_inside(cut->turns, second->start_s),
        .active = active_columns(cut->plan,
                                 fmax(first->fastest, second->fastest),
                                 b->band_hz),
    };
    size_t row = (size_t)(block->speed_m_s / HT_ROW_M_S);
    row = row > b->first_row ? row - b->first_row : 0;
    block->row = row < b->rows ? row : b->rows - 1;
    fill_parts(block, cut->turns, first, second);
    settle_amplitudes(b, cut->plan, cut->joint, first, second, block);
    add_spectrum(b, &cut->hopper, first, second, block->row);
    b->count++;
}

static void cut_stretch(struct ht_blocks *b, struct ht_cutting *cut,
                        const struct ht_stretch *stretch)
{
    size_t hops = (size_t)(stretch->turns / (b->block_turns / 2));
    struct ht_hop *hop = cut->hopper.hop;
    bool follows = false;
    ht_hopper_start(&cut->hopper, stretch->from_s);
    for (size_t h = 0; h < hops; h++) {
        struct ht_hop *now = &hop[h % 2], *before = &hop[(h + 1) % 2];
        if (!ht_hopper_next(&cut->hopper, now))
            return;
        if (h > 0 && full(before) && full(now)) {
            add_block(b, cut, before, now, follows);
            follows = true;
        } else {
            follows = false;
        }
    }
}

/* The map's, and enough beside the highest named order to read its floor. */
static size_t lines_wanted(const struct ht_plan *plan)
{
    double highest = plan->columns ? plan->column[plan->columns - 1] : 0;
    double lines = fmax(plan->order_max * plan->block_turns,
                        highest * plan->block_turns + 16);
    return (size_t)lines + 1;
}

bool ht_blocks_cut(struct ht_blocks *b, const struct ht_plan *plan,
                   const struct ht_joint *joint,
                   const struct ht_stretches *stretches,
                   const struct ht_recording *r, const struct ht_turns *turns)
{
    double c = turns->circumference_m;
    *b = (struct ht_blocks){
        .channels = r->channels, .columns = plan->columns,
        .block_turns = plan->block_turns, .band_hz = ht_trusted_hz(r),
        .circumference_m = c > 0 ? c : 1, .order_max = plan->order_max,
        .lines = lines_wanted(plan),
    };
    b->first_row = (size_t)(stretches->slowest_m_s / HT_ROW_M_S);
    b->rows = (size_t)(stretches->fastest_m_s / HT_ROW_M_S) - b->first_row + 1;
    struct ht_cutting cut = { plan, joint, turns, { 0 } };
    bool fine = make_room(b, blocks_at_most(stretches, b->block_turns)) &&
                ht_hopper_create(&cut.hopper, plan, r, turns, b->lines);
    if (fine)
        mark_lone(b, plan);
    for (size_t i = 0; fine && i < stretches->count; i++)
        cut_stretch(b, &cut, &stretches->stretch[i]);
    ht_hopper_free(&cut.hopper);
    if (!fine)
        ht_blocks_free(b);
    return fine;
}

void ht_blocks_free(struct ht_blocks *b)
{
    if (b->memory)
        ht_arena_free(b->memory);
    ht_release(b->memory);
    *b = (struct ht_blocks){ 0 };
}
