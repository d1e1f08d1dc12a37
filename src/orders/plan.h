/* plan.h - which orders are solved for, which go together, how long a block.
 *
 * Orders nearer than half a cycle per block are one column of the joint fit
 * (a *group*); 0.5 to 1 cycle is solved with its larger uncertainty.
 */
#ifndef HALFTURN_ORDERS_PLAN_H
#define HALFTURN_ORDERS_PLAN_H

#include "halfturn/orders.h"
#include "stretch.h"

enum ht_tie {          /* why a column has more than one order */
    HT_TIE_NONE,
    HT_TIE_CLOSE,      /* more turns would part them */
    HT_TIE_GEAR,       /* same frequency in this gear */
    HT_TIE_ALWAYS      /* parts that always turn together: one line */
};

struct ht_plan {
    double block_turns;
    size_t asked;                       /* rotation->orders */
    double wheel_order[HT_ORDERS_MAX];  /* NAN: a ratio is unknown */
    size_t column_of[HT_ORDERS_MAX];    /* SIZE_MAX: none */
    size_t columns;
    double column[HT_ORDERS_MAX];       /* ascending wheel orders */
    enum ht_tie tie[HT_ORDERS_MAX];     /* of a column: the worst in it */
    double order_max;                   /* outer edge of the map */
};

void ht_plan_make(struct ht_plan *plan, const struct ht_rotation *rotation,
                  const struct ht_stretches *stretches);

/* Fills cannot_separate, nearest pairs first. */
void ht_plan_say_close(const struct ht_plan *plan, struct ht_orders *orders,
                       const struct ht_rotation *rotation,
                       double usual_speed_m_s, double circumference_m);

/* The orders that share an order's column, as words: "3x shaft". */
void ht_plan_partners(const struct ht_plan *plan,
                      const struct ht_rotation *rotation, size_t order,
                      char *text, size_t size);

#endif
