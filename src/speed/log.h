/* log.h - inside the room: a speed log from a table that was read. */
#ifndef HALFTURN_SPEED_LOG_H
#define HALFTURN_SPEED_LOG_H

#include "halfturn/speed.h"

enum { HT_LOG_ROWS_LEAST = 4 };

enum ht_status ht_speed_log_from_table(struct ht_speed_log *log,
                                       const struct ht_table *table,
                                       const char *path,
                                       const struct ht_sheet_speed *how,
                                       struct ht_error *err);

#endif
