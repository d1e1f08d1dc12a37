/* result.h - from what the channels say to one result per order. */
#ifndef HALFTURN_ORDERS_RESULT_H
#define HALFTURN_ORDERS_RESULT_H

#include "bins.h"

/* Fills result[0] for "all" and result[1 + c] for each channel c. */
void ht_result_fill(struct ht_order_result *result, struct ht_work *work,
                    const struct ht_rotation *rotation, size_t order,
                    const char *unit);

/* Channels that "all" sums: the accelerometer's axes, or else all. */
bool ht_result_summed(const struct ht_recording *recording, size_t channel);

#endif
