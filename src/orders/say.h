/* say.h - the sentences of the orders room. */
#ifndef HALFTURN_ORDERS_SAY_H
#define HALFTURN_ORDERS_SAY_H

#include "bins.h"

void ht_say_unknown_ratio(struct ht_order_result *result,
                          const struct ht_rotation *rotation, size_t order);
void ht_say_tied(struct ht_order_result *result, const struct ht_plan *plan,
                 const struct ht_rotation *rotation, size_t order,
                 const char *unit);
/* Why an order of a known ratio could not be seen. */
void ht_say_why(struct ht_order_result *result, const struct ht_work *work,
                const struct ht_bin_view *whole, bool deaf);

/* Named orders whose fold-down image lies on another one at driven speeds. */
void ht_say_fold_down(struct ht_orders *orders, const struct ht_plan *plan,
                      const struct ht_rotation *rotation,
                      const struct ht_recording *recording,
                      const struct ht_blocks *blocks);

void ht_say_note(struct ht_orders *orders, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
