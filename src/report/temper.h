/* temper.h - the order map's picture: nine classes of level as an indexed
 * PNG, the same pixels under a light and a dark palette. */
#ifndef HALFTURN_REPORT_TEMPER_H
#define HALFTURN_REPORT_TEMPER_H

#include "halfturn/orders.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>

/* Appends "data:image/png;base64,..." of at most `columns` columns; where
 * several cells share a column the strongest stands for them. Top row is the
 * highest speed; cells not driven are clear. */
enum ht_status temper_png(struct ht_text *out, const struct ht_order_map *map,
                          double first_edge, size_t columns, bool dark,
                          struct ht_error *err);

#endif
