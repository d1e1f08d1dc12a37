/* pull.h - was the engine pulling or holding back? */
#ifndef HALFTURN_ORDERS_PULL_H
#define HALFTURN_ORDERS_PULL_H

#include "blocks.h"
#include "halfturn/orders.h"

enum ht_pull_class { HT_PULL_NEITHER, HT_PULL_DRIVE, HT_PULL_OVERRUN };

enum ht_pull_source { HT_PULL_UNKNOWN, HT_PULL_AXIS, HT_PULL_SPEED };

/* Classifies every block: the force at the wheels over the mass, from the
 * forward axis' slow signal plus the road load, or from the speed's change.
 * A class must have lasted 2 s around the block. */
enum ht_pull_source ht_pull_classify(enum ht_pull_class *class,
                                     const struct ht_blocks *blocks,
                                     const struct ht_recording *recording,
                                     const struct ht_turns *turns);

/* Road load over mass of a car, m/s2. */
double ht_road_load(double speed_m_s);

#endif
