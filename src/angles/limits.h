/* limits.h - inside the room: limit sets from bytes. */
#ifndef HALFTURN_ANGLES_LIMITS_H
#define HALFTURN_ANGLES_LIMITS_H

#include "halfturn/angles.h"
#include "halfturn/document.h"

/* As ht_limits_read. */
enum ht_status ht_limits_read_source(struct ht_limits *limits,
                                     const struct ht_source *source,
                                     struct ht_error *err);

#endif
