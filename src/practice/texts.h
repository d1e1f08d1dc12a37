/* texts.h - every sentence this room says. A row is a status and a sentence,
 * and stands in the place of both arguments of ht_fail. */
#ifndef HALFTURN_PRACTICE_TEXTS_H
#define HALFTURN_PRACTICE_TEXTS_H

#include "halfturn/status.h"

#define PRACTICE_UNKNOWN_CAUSE                                                 \
    HT_BAD_USE, "No practice drive can have the cause \"%.60s\" yet. Take "    \
                "angle-mismatch, shaft-unbalance, wheel-unbalance or another " \
                "one of the table in docs/practice.md."
#define PRACTICE_NO_SHAFT                                                      \
    HT_BAD_USE, "The cause \"%s\" shakes with the propeller shaft, and the "   \
                "shaft's turns per wheel turn are not known. Give them, or "   \
                "take a cause of the wheels."
#define PRACTICE_NO_ENGINE                                                     \
    HT_BAD_USE, "The cause \"%s\" shakes with the engine, and the engine's "   \
                "turns per wheel turn are not known. Give them, or take a "    \
                "cause of the wheels."
#define PRACTICE_TOO_MANY_FORCES                                               \
    HT_TOO_BIG, "A practice drive holds up to %d forces, and the cause "       \
                "\"%s\" would be one too many. Leave another cause out."
#define PRACTICE_FORCES_OFF                                                    \
    HT_BAD_USE, "This practice drive is asked for %zu forces. It takes up to " \
                "%d."
#define PRACTICE_LEGS_OFF                                                      \
    HT_BAD_USE, "This practice drive is asked for %zu legs. It takes 1 to %d."
#define PRACTICE_RATE_OFF                                                      \
    HT_BAD_USE, "A practice drive is asked for with %g samples a second. "     \
                "Wanted are 20 to 10000."
#define PRACTICE_NOT_ABOVE_ZERO                                                \
    HT_BAD_USE, "A practice drive wants a circumference, a reference speed "   \
                "and a log step above zero. Here stand %g m, %g m/s and %g s."
#define PRACTICE_LENGTH_OFF                                                    \
    HT_TOO_BIG, "This practice drive would last %.0f s. It takes 1 s to %d h." \
                " Change the seconds of its legs."
#define PRACTICE_NO_MEMORY                                                     \
    HT_NO_MEMORY, "There is not enough memory for %.0f s of practice drive. "  \
                  "Make it shorter, or lower its rate."

#endif
