/* note.h - lines of the result, in order, without repeats. */
#ifndef HALFTURN_REPAIR_NOTE_H
#define HALFTURN_REPAIR_NOTE_H

#include "halfturn/repair.h"

void ht_repair_note(struct ht_shims *shims, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void ht_repair_refuse(struct ht_shims *shims, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
