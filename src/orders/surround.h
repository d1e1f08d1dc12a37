/* surround.h - what the order spectrum shows about an order's surroundings. */
#ifndef HALFTURN_ORDERS_SURROUND_H
#define HALFTURN_ORDERS_SURROUND_H

#include "bins.h"

struct ht_surround {
    struct ht_floor floor;  /* under the order; power NAN: cannot be told */
    double fixed;           /* what its frequency shows at other speeds,
                               scaled to the lines beside; NAN: too few */
    double beside;          /* strongest line beside it without a name */
};

/* Fills work->fixed, once. */
void ht_surround_find_fixed(struct ht_work *work);

/* looks: independent blocks in the bin. */
void ht_surround_read(struct ht_surround *s, const struct ht_work *work,
                      size_t column, size_t channel, size_t bin,
                      double looks);

#endif
