/* lengths.h - which lengths were taken for what they may be. */
#ifndef HALFTURN_REPAIR_LENGTHS_H
#define HALFTURN_REPAIR_LENGTHS_H

#include "shelf.h"

/* Notes the lengths that are not known and play a part at the places of the
 * shelf. */
void ht_lengths_say(struct ht_shims *shims, const struct shelf *shelf,
                    const struct ht_joint_centres *centres);

#endif
