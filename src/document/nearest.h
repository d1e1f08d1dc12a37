/* nearest.h - how far apart two names are. */
#ifndef HALFTURN_DOCUMENT_NEAREST_H
#define HALFTURN_DOCUMENT_NEAREST_H

#include <stddef.h>

/* A running search: the nearest name offered so far. */
struct nearest {
    const char *name;  /* what was written */
    char found[64];    /* "" when nothing is near */
    size_t distance;
};
void ht_nearest_offer(struct nearest *nearest, const char *candidate);

#endif
