/* sizes.h - what the shelf has for one kind of place, and what of it goes
 * nowhere. */
#ifndef HALFTURN_REPAIR_SIZES_H
#define HALFTURN_REPAIR_SIZES_H

#include "halfturn/repair.h"

/* One wedge, one plate, or two plates on each other. */
struct size {
    double amount;     /* rad of a wedge, m of plates */
    double plate_m[2]; /* of which `amount` is made; 0: none */
};
struct sizes {
    size_t count;
    struct size *size; /* smallest first, each amount once; of what makes the
                          same amount that with the fewest pieces */
};

/* `stack`: two plates on each other, too. */
enum ht_status ht_sizes_take(struct sizes *sizes,
                             const struct ht_shims_input *input,
                             enum ht_shim_place at, bool stack,
                             struct ht_error *err);
void ht_sizes_free(struct sizes *sizes);

/* Whether there is anything for such a place. */
bool ht_sizes_any(const struct ht_shims_input *input, enum ht_shim_place at);

/* Says in *shims which rows of the shelf go nowhere, and why. */
void ht_sizes_say(struct ht_shims *shims, const struct ht_shims_input *input);

#endif
