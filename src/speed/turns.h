/* turns.h - inside the room: building the result. */
#ifndef HALFTURN_SPEED_TURNS_H
#define HALFTURN_SPEED_TURNS_H

#include "refine.h"

void ht_turns_note(struct ht_turns *turns, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Sets state and reason; always HT_OK, so that a refusal is one line. */
enum ht_status ht_turns_refuse(struct ht_turns *turns, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* From the wheel grid: turns, speed, usable, sd_turns; circumference_m and
 * start_s must be set. */
enum ht_status ht_turns_fill(struct ht_turns *turns,
                             const struct ht_wheel *wheel,
                             const struct ht_work *work, struct ht_error *err);
/* Takes usable away from from_s to to_s, counted from point 0. */
void ht_turns_blind(struct ht_turns *turns, double from_s, double to_s);

#endif
