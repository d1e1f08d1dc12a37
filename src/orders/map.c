#include "map.h"

#include <math.h>

#include "result.h"

enum { ACROSS_MOST = 480 };

/* Mean power of a line in a row, summed over the axes. */
static double cell_power(const struct ht_blocks *b,
                         const struct ht_recording *r, size_t row,
                         size_t line)
{
    double sum = 0;
    for (size_t c = 0; c < b->channels; c++)
        if (ht_result_summed(r, c))
            sum += b->row_power[(row * b->channels + c) * b->lines + line];
    return sum / (double)b->row_blocks[row];
}

bool ht_map_make(struct ht_order_map *map, const struct ht_blocks *b,
                 const struct ht_recording *r, struct ht_arena *arena)
{
    *map = (struct ht_order_map){ 0 };
    if (b->count == 0)
        return true;
    size_t lines = (size_t)(b->order_max * b->block_turns);
    size_t together = (lines + ACROSS_MOST - 1) / ACROSS_MOST;
    map->across = lines / together;
    map->up = b->rows;
    map->order_from = -0.5 / b->block_turns;
    map->order_to = map->order_from + (double)(map->across * together) /
                                          b->block_turns;
    map->from_m_s = (double)b->first_row * HT_ROW_M_S;
    map->to_m_s = (double)(b->first_row + b->rows) * HT_ROW_M_S;
    map->level = ht_arena_get(arena, map->up * map->across,
                              sizeof *map->level);
    if (!map->level)
        return false;
    for (size_t row = 0; row < map->up; row++) {
        double turns_per_s = (double)(b->first_row + row + 1) * HT_ROW_M_S /
                             b->circumference_m;
        for (size_t x = 0; x < map->across; x++) {
            double top = 0;
            for (size_t l = x * together; l < (x + 1) * together; l++)
                top = b->row_blocks[row]
                          ? fmax(top, cell_power(b, r, row, l)) : NAN;
            bool dark = (double)((x + 1) * together) / b->block_turns *
                            turns_per_s > b->band_hz;
            map->level[row * map->across + x] =
                dark || b->row_blocks[row] == 0 ? NAN : (float)sqrt(top);
        }
    }
    return true;
}
