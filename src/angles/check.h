/* check.h - what is refused before anything is worked out. */
#ifndef HALFTURN_ANGLES_CHECK_H
#define HALFTURN_ANGLES_CHECK_H

#include "halfturn/angles.h"

enum ht_status ht_driveline_check(const struct ht_driveline *driveline,
                                  struct ht_error *err);

/* A member's name, or its place in the room given. */
const char *ht_member_name(const struct ht_driveline *driveline, size_t i,
                           char *room, size_t size);

#endif
