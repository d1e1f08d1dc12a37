/* refine.h - wheel speed corrected by the phases of the orders themselves.
 *
 * Each order that is really there is brought to rest with the angle at hand;
 * what its phase gains in half a second is a speed error that all orders
 * share. Orders that pass a resonance at different times cancel its phase.
 */
#ifndef HALFTURN_SPEED_REFINE_H
#define HALFTURN_SPEED_REFINE_H

#include "comb.h"
#include "wheel.h"

/* use[line]: the order is seen and fixed to the wheel. Changes hz, turns,
 * sd_hz, quiet. HT_NO_MEMORY is the only failure. */
enum ht_status ht_wheel_refine(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_frames *frames,
                               const struct ht_lines *lines, const bool *use,
                               struct ht_error *err);

#endif
