/* way_out.h - what would decide a verdict that is open. */
#ifndef HALFTURN_ANGLES_WAY_OUT_H
#define HALFTURN_ANGLES_WAY_OUT_H

#include "spread.h"

/* One row of draws. */
enum ht_drawn { HT_DRAWN_JOINT, HT_DRAWN_PAIR, HT_DRAWN_H2, HT_DRAWN_SECTION };
struct ht_quantity_ref {
    enum ht_drawn kind;
    size_t index;
};
double ht_quantity_share(const struct ht_spread *spread,
                         struct ht_quantity_ref quantity, double limit);

enum { HT_CHANGES = 15 };

/* The same driveline measured in other ways, worked out when first asked
 * for. */
struct ht_way_out {
    const struct ht_driveline *driveline;
    bool side_view_only, out_of_memory;
    bool tried[HT_CHANGES], helps[HT_CHANGES];
    struct ht_spread spread[HT_CHANGES];
};

void ht_way_out_start(struct ht_way_out *way_out,
                      const struct ht_driveline *driveline,
                      bool side_view_only);
/* One sentence: the least change that would decide, or that none would. */
void ht_way_out_find(struct ht_way_out *way_out, char *buffer, size_t size,
                     struct ht_quantity_ref quantity, double limit);
void ht_way_out_free(struct ht_way_out *way_out);

#endif
