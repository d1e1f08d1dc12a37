/* turns.h - inside the room: building the result. */
#ifndef HALFTURN_SPEED_TURNS_H
#define HALFTURN_SPEED_TURNS_H

#include "refine.h"

void ht_turns_note(struct ht_turns *turns, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Sets state and reason; always HT_OK, so that a refusal is one line. */
enum ht_status ht_turns_refuse(struct ht_turns *turns, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* From the wheel grid: turns, speed, usable, sd_turns; circumference_m must
 * be set. covered_*_s: where the log says anything. */
enum ht_status ht_turns_fill(struct ht_turns *turns,
                             const struct ht_wheel *wheel,
                             const struct ht_work *work,
                             double covered_from_s, double covered_to_s,
                             struct ht_error *err);

#endif
