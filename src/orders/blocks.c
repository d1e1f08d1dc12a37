#include "blocks.h"

#include <math.h>
#include <string.h>

#include "common/memory.h"
#include "common/parallel.h"
#include "hop.h"

double ht_trusted_hz(const struct ht_recording *r)
{
    double edge = 0.45 * r->rate_hz;
    return r->band_hz > 0 ? fmin(edge, r->band_hz) : edge;
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

/* A quarter of the drive's hops. The quarters are cut side by side and laid
 * together in their order, so that sums do not depend on the processors. */
struct ht_cutting {
    const struct ht_plan *plan;
    const struct ht_joint *joint;
    const struct ht_turns *turns;
    const struct ht_stretches *stretches;
    struct ht_hopper hopper;
    struct ht_blocks part;   /* its own row sums; its place in the lists */
    size_t from, to;         /* hops, counted over all stretches */
};
enum { QUARTERS = 4 };

/* A hop without enough samples would be no block at all. */
static bool full(const struct ht_hop *hop)
{
    return hop->samples >= 8 && hop->weight_rising > 0 &&
           hop->weight_falling > 0;
}

static void add_block(struct ht_cutting *cut, const struct ht_hop *first,
                      const struct ht_hop *second, size_t hop)
{
    struct ht_blocks *b = &cut->part;
    struct ht_block *block = &b->block[b->count];
    double seconds = second->end_s - first->start_s;
    *block = (struct ht_block){
        .middle_s = second->start_s,
        .speed_m_s = b->block_turns * b->circumference_m / seconds,
        .hop = hop,
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

static size_t hops_of(const struct ht_stretch *stretch, double block_turns)
{
    return (size_t)(stretch->turns / (block_turns / 2));
}

/* The hops from..to of a stretch, and the one before them; `before_all`: hops
 * of the stretches before. */
static void cut_stretch(struct ht_cutting *cut,
                        const struct ht_stretch *stretch, size_t before_all,
                        size_t from, size_t to)
{
    struct ht_hop *hop = cut->hopper.hop;
    size_t first = from > 0 ? from - 1 : 0;
    ht_hopper_start(&cut->hopper, stretch->from_s, first);
    for (size_t h = first; h < to; h++) {
        struct ht_hop *now = &hop[h % 2], *before = &hop[(h + 1) % 2];
        if (!ht_hopper_next(&cut->hopper, now))
            return;
        if (h > first && full(before) && full(now))
            add_block(cut, before, now, before_all + h);
    }
}

static void cut_quarter(void *context, size_t index)
{
    struct ht_cutting *cut = (struct ht_cutting *)context + index;
    size_t before = 0;
    for (size_t i = 0; i < cut->stretches->count; i++) {
        const struct ht_stretch *s = &cut->stretches->stretch[i];
        size_t hops = hops_of(s, cut->plan->block_turns);
        size_t from = cut->from > before ? cut->from - before : 0;
        size_t to = cut->to > before ? cut->to - before : 0;
        to = to < hops ? to : hops;
        if (from < to)
            cut_stretch(cut, s, before, from, to);
        before += hops;
    }
}

/* A quarter's lists begin where its first hop's would; its sums are its own. */
static bool start_quarter(struct ht_cutting *cut, const struct ht_blocks *b,
                          const struct ht_recording *r,
                          const struct ht_hopper *like)
{
    size_t each = b->columns * b->channels;
    struct ht_arena *arena = b->memory;
    cut->part = *b;
    cut->part.block += cut->from;
    cut->part.amplitude += cut->from * each;
    cut->part.loud += cut->from * each;
    cut->part.own = ht_arena_get(arena, b->lines, sizeof *b->own);
    cut->part.row_blocks = ht_arena_get(arena, b->rows, sizeof *b->row_blocks);
    cut->part.row_power = ht_arena_get(arena, b->rows * b->channels * b->lines,
                                       sizeof *b->row_power);
    return cut->part.own && cut->part.row_blocks && cut->part.row_power &&
           ht_hopper_create(&cut->hopper, cut->plan, r, cut->turns, b->lines,
                            like);
}

/* Takes a quarter's blocks over, behind those of the quarters before. */
static void take_over(struct ht_blocks *b, const struct ht_blocks *part)
{
    size_t each = b->columns * b->channels;
    memmove(b->block + b->count, part->block, part->count * sizeof *b->block);
    memmove(b->amplitude + b->count * each, part->amplitude,
            part->count * each * sizeof *b->amplitude);
    memmove(b->loud + b->count * each, part->loud,
            part->count * each * sizeof *b->loud);
    b->count += part->count;
    for (size_t i = 0; i < b->rows; i++)
        b->row_blocks[i] += part->row_blocks[i];
    for (size_t i = 0; i < b->rows * b->channels * b->lines; i++)
        b->row_power[i] += part->row_power[i];
}

/* Hops of one stretch are counted on; the first hop of a stretch is the
 * second hop of no block. */
static void mark_neighbours(struct ht_blocks *b)
{
    for (size_t i = 1; i < b->count; i++)
        b->block[i].follows = b->block[i].hop == b->block[i - 1].hop + 1;
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
    size_t hops = 0;
    for (size_t i = 0; i < stretches->count; i++)
        hops += hops_of(&stretches->stretch[i], plan->block_turns);
    struct ht_cutting cut[QUARTERS] = { 0 };
    bool fine = make_room(b, hops);
    for (size_t q = 0; q < QUARTERS; q++) {
        cut[q] = (struct ht_cutting){ .plan = plan, .joint = joint,
                                      .turns = turns, .stretches = stretches,
                                      .from = q * hops / QUARTERS,
                                      .to = (q + 1) * hops / QUARTERS };
        fine = fine && start_quarter(&cut[q], b, r,
                                     q ? &cut[0].hopper : NULL);
    }
    if (fine) {
        mark_lone(b, plan);
        ht_parallel(QUARTERS, cut_quarter, cut);
    }
    for (size_t q = 0; q < QUARTERS && fine; q++)
        take_over(b, &cut[q].part);
    for (size_t q = QUARTERS; q-- > 0;)
        ht_hopper_free(&cut[q].hopper);
    mark_neighbours(b);
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
