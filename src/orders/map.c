#include "map.h"

#include <math.h>

#include "common/limits.h"
#include "common/parallel.h"
#include "result.h"
#include "signal/median.h"

enum { ACROSS_MOST = 480, SHARES = 4 };

/* The floor is the median over three quarters of an order either way, and
 * never over fewer lines than this. */
static const double floor_reach_orders = 0.75;
enum { REACH_LEAST = 8, REACH_MOST = 48, APART = 8 };
/* Below it lies the body's own motion, and nothing that turns. */
static const double lowest_order = 0.5;
/* Noise alone stands above its edge in one cell of 200. */
static const double one_in_200 = 2.576;

/* Every SHARESth row of a map, one at a time. */
struct strip {
    const struct ht_blocks *blocks;
    struct ht_order_map *map;
    bool summed[HT_CHANNELS_MAX];
    size_t lines, together; /* of the spectrum; those of one cell */
    float *power;  /* of the row at hand */
    float *floor;  /* likewise, at every APARTth line */
    double looks;  /* independent values in each of its means */
};

static double axes_power(const struct strip *s, size_t row, size_t line)
{
    const struct ht_blocks *b = s->blocks;
    double sum = 0;
    for (size_t c = 0; c < b->channels; c++)
        if (s->summed[c])
            sum += b->row_power[(row * b->channels + c) * b->lines + line];
    return sum;
}

/* A row and half of its neighbours, blocks counting alike. */
static void read_row(struct strip *s, size_t row)
{
    const struct ht_blocks *b = s->blocks;
    double weight = 0, square = 0, axes = 0;
    for (size_t l = 0; l < s->lines; l++)
        s->power[l] = 0;
    for (size_t r = row > 0 ? row - 1 : 0; r <= row + 1 && r < b->rows; r++) {
        double share = r == row ? 1 : 0.5, n = (double)b->row_blocks[r];
        weight += share * n;
        square += share * share * n;
        for (size_t l = 0; l < s->lines && n > 0; l++)
            s->power[l] += (float)(share * axes_power(s, r, l));
    }
    for (size_t l = 0; l < s->lines; l++)
        s->power[l] /= (float)weight;
    for (size_t c = 0; c < b->channels; c++)
        axes += s->summed[c] ? 1 : 0;
    /* As for the axes' phases: half of the further axes count. */
    s->looks = weight * weight / square * (axes + 1) / 2;
}

static float middle_about(const struct strip *s, size_t line)
{
    size_t reach = (size_t)(floor_reach_orders * s->blocks->block_turns);
    reach = reach < REACH_LEAST ? REACH_LEAST : reach;
    reach = reach > REACH_MOST ? REACH_MOST : reach;
    /* Lines 0 and 1 hold what is left of gravity. */
    size_t from = line > reach + 2 ? line - reach : 2;
    size_t to = line + reach < s->lines ? line + reach + 1 : s->lines;
    return from < to ? ht_median_f(s->power + from, to - from) : 0;
}

/* At every eighth line: the windows of two neighbours are nearly the same. */
static void read_floor(const struct strip *s)
{
    for (size_t k = 0; k <= s->lines / APART + 1; k++)
        s->floor[k] = middle_about(s, k * APART);
}

static float floor_at(const struct strip *s, size_t line)
{
    size_t k = line / APART;
    float share = (float)(int)(line % APART) / APART;
    float before = s->floor[k], after = s->floor[k + 1];
    return before + share * (after - before);
}

/* What noise reaches over its median, chi-square of 2 looks after Wilson and
 * Hilferty (PNAS 17 (1931) 684). */
static double noise_edge(double looks)
{
    double spread = 1 / (9 * looks);
    return pow((1 - spread + one_in_200 * sqrt(spread)) / (1 - spread), 3);
}

static void fill_row(const struct strip *s, size_t row)
{
    struct ht_order_map *map = s->map;
    size_t together = s->together;
    double edge = noise_edge(s->looks);
    size_t first = (size_t)(lowest_order * s->blocks->block_turns) + 1;
    for (size_t x = 0; x < map->across; x++) {
        double top = 0, above = 0;
        for (size_t l = x * together; l < (x + 1) * together; l++) {
            double floor = (double)floor_at(s, l), power = (double)s->power[l];
            top = fmax(top, power);
            if (l >= first && power > edge * floor)
                above = fmax(above, power - floor);
        }
        map->level[row * map->across + x] = (float)sqrt(above);
        map->whole[row * map->across + x] = (float)sqrt(top);
    }
}

/* Cells that say nothing: not driven, or above the band. */
static void darken_row(const struct strip *s, size_t row)
{
    struct ht_order_map *map = s->map;
    const struct ht_blocks *b = s->blocks;
    double turns_per_s = (double)(b->first_row + row + 1) * HT_ROW_M_S /
                         b->circumference_m;
    for (size_t x = 0; x < map->across; x++) {
        double highest = (double)((x + 1) * s->together) / b->block_turns;
        if (b->row_blocks[row] == 0 || highest * turns_per_s > b->band_hz)
            map->level[row * map->across + x] =
                map->whole[row * map->across + x] = NAN;
    }
}

static void fill_share(void *context, size_t index)
{
    struct strip *s = (struct strip *)context + index;
    for (size_t row = index; row < s->map->up; row += SHARES) {
        if (s->blocks->row_blocks[row] > 0) {
            read_row(s, row);
            read_floor(s);
            fill_row(s, row);
        }
        darken_row(s, row);
    }
}

static void size_map(struct ht_order_map *map, const struct ht_blocks *b,
                     size_t lines, size_t together)
{
    map->across = lines / together;
    map->up = b->rows;
    map->order_from = -0.5 / b->block_turns;
    map->order_to = map->order_from + (double)(map->across * together) /
                                          b->block_turns;
    map->from_m_s = (double)b->first_row * HT_ROW_M_S;
    map->to_m_s = (double)(b->first_row + b->rows) * HT_ROW_M_S;
}

bool ht_map_make(struct ht_order_map *map, const struct ht_blocks *b,
                 const struct ht_recording *r, struct ht_arena *arena)
{
    *map = (struct ht_order_map){ 0 };
    if (b->count == 0)
        return true;
    struct strip model = { .blocks = b, .map = map }, strip[SHARES];
    model.lines = (size_t)(b->order_max * b->block_turns);
    model.together = (model.lines + ACROSS_MOST - 1) / ACROSS_MOST;
    for (size_t c = 0; c < b->channels && c < HT_CHANNELS_MAX; c++)
        model.summed[c] = ht_result_summed(r, c);
    size_map(map, b, model.lines, model.together);
    size_t cells = map->up * map->across;
    map->level = ht_arena_get(arena, cells, sizeof *map->level);
    map->whole = ht_arena_get(arena, cells, sizeof *map->whole);
    bool fine = map->level && map->whole;
    for (size_t i = 0; i < SHARES; i++) {
        strip[i] = model;
        strip[i].power = ht_arena_get(arena, model.lines, sizeof(float));
        strip[i].floor =
            ht_arena_get(arena, model.lines / APART + 2, sizeof(float));
        fine = fine && strip[i].power && strip[i].floor;
    }
    if (fine)
        ht_parallel(SHARES, fill_share, strip);
    return fine;
}
