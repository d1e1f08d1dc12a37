/* place.h - a path as a folder and a name in it. */
#ifndef HALFTURN_COMMAND_PLACE_H
#define HALFTURN_COMMAND_PLACE_H

#include "halfturn/status.h"

struct place {
    char folder[4096];  /* "." where the path names none */
    const char *name;   /* within the path */
};

enum ht_status place_of(struct place *place, const char *path,
                        struct ht_error *err);

#endif
