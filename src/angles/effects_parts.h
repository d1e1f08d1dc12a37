/* effects_parts.h - parts of a line's effects, each filling its own fields. */
#ifndef HALFTURN_ANGLES_EFFECTS_PARTS_H
#define HALFTURN_ANGLES_EFFECTS_PARTS_H

#include "halfturn/effects.h"

void ht_limit_speeds_fill(struct ht_effects *effects,
                          const struct ht_angles *angles);
void ht_criticals_fill(struct ht_effects *effects,
                       const struct ht_angles *angles,
                       const struct ht_effects_options *options);

#endif
