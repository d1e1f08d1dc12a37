/* lanes.h - eight numbers side by side, as the compiler's own vectors.
 *
 * Operators work on all eight at once, in registers as wide as there are; the
 * order of sums is that of the lanes, whatever the width. Load and store take
 * any address. gcc and clang know the attribute.
 */
#ifndef HALFTURN_SIGNAL_LANES_H
#define HALFTURN_SIGNAL_LANES_H

#include "wide.h"

#include <stdint.h>
#include <string.h>

enum { HT_LANES = 8 };

typedef float ht_lanes_f __attribute__((vector_size(32)));
typedef int32_t ht_lanes_i __attribute__((vector_size(32)));
typedef double ht_lanes_d __attribute__((vector_size(64)));
typedef double ht_half_lanes_d __attribute__((vector_size(32)));

/* value = *from, for a lanes variable */
#define HT_LANES_LOAD(value, from) memcpy(&(value), (from), sizeof(value))
#define HT_LANES_STORE(to, value) memcpy((to), &(value), sizeof(value))

#endif
