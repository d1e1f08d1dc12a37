/* map.h - level over wheel order and speed, for the figure. */
#ifndef HALFTURN_ORDERS_MAP_H
#define HALFTURN_ORDERS_MAP_H

#include "blocks.h"
#include "common/memory.h"

bool ht_map_make(struct ht_order_map *map, const struct ht_blocks *blocks,
                 const struct ht_recording *recording,
                 struct ht_arena *arena);

#endif
