/* guess.h - what may have been put in, where nobody said. */
#ifndef HALFTURN_REPAIR_GUESS_H
#define HALFTURN_REPAIR_GUESS_H

#include "sight.h"

/* Fills after's works and readings where something on the shelf explains what
 * was seen; otherwise leaves them. `expected`: with nothing done. */
enum ht_status ht_guess(struct ht_shims_after *after,
                        const struct ht_shims_input *input,
                        const struct possible *possible,
                        const struct sight *expected, const struct sight *seen,
                        struct ht_error *err);

#endif
