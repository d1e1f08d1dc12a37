/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; the other rows are sentences alone. A row is a whole
 * sentence: only names, numbers, units and lists are put into it.
 */
#ifndef HALFTURN_ORDERS_TEXTS_H
#define HALFTURN_ORDERS_TEXTS_H

#include "halfturn/status.h"

/* Refusals. */

#define ORDERS_NO_CHANNEL                                                      \
    HT_BAD_USE, "The recording has no channel to look for orders in. Give it " \
                "at least one."
#define ORDERS_NO_SPEED                                                        \
    HT_BAD_USE, "The speed of this drive was not found, and orders follow "    \
                "the speed. Find it first."
#define ORDERS_NO_SOLUTION                                                     \
    HT_BAD_FILE, "The orders of this sheet cannot be told apart in any drive: "\
                 "some are as good as the same, or hardly turn. Are all "      \
                 "ratios and teeth right?"
#define ORDERS_STOPPED HT_STOPPED, "Looking for orders was stopped."
#define ORDERS_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory to find the orders of this "     \
                  "drive. A shorter recording needs less."

/* Units of a level, as people read them. */

#define ORDERS_UNIT_M_S2 "m/s²"
#define ORDERS_UNIT_SOUND "of full scale"

/* Why an order could not be seen. */

#define ORDERS_GEAR_UNKNOWN                                                    \
    "The gear is not known, so neither is how fast the %s turned. Give gear "  \
    "under drive and gear_ratios under vehicle."
#define ORDERS_RATIO_UNKNOWN                                                   \
    "The ratio is not known, so neither is how fast the %s turned. Give it "   \
    "under vehicle."
#define ORDERS_TIED_IN_GEAR                                                    \
    "In this gear it has the same frequency as %s. Together they are at most " \
    "%s %s."
#define ORDERS_TIED_CLOSE                                                      \
    "It lies too close to %s for this drive. Together they are at most %s %s."
#define ORDERS_NO_STRETCH                                                      \
    "No stretch of the drive was long and fast enough to analyse. Drive a "    \
    "minute or more in one piece, faster than 20 km/h."
#define ORDERS_NOT_HEARD                                                       \
    "Below 20 Hz at every speed driven: a microphone does not hear it. An "    \
    "accelerometer would."
#define ORDERS_BLURRED                                                         \
    "The wheel's angle is not known well enough to follow an order this high."
#define ORDERS_ABOVE_BAND                                                      \
    "At every speed driven it lies above %s Hz, the highest this recording "   \
    "can show. A slower stretch would bring it down."
#define ORDERS_FEW_LINES                                                       \
    "Too few lines lie beside it to tell it from the noise."
#define ORDERS_ROAD_NOISE                                                      \
    "The road noise hides it: %s %s would have been needed to be sure."

/* The drive that parts two orders. */

#define ORDERS_CHANGE_GEAR                                                     \
    "Change gear: in this gear both are the same frequency."
#define ORDERS_DRIVE_LONGER                                                    \
    "Drive %.0f wheel turns in one piece at steady speed."
#define ORDERS_DRIVE_LONGER_AT                                                 \
    "Drive %.0f wheel turns in one piece at steady speed (%.0f s at %.0f km/h)."

/* Notes: what the levels rest on. */

#define ORDERS_SOUND_NOT_CALIBRATED                                            \
    "The sound is not calibrated: its levels compare orders at one moment, "   \
    "not speeds or vehicles."
#define ORDERS_PULL_FROM_SPEED                                                 \
    "Pull and overrun are taken from the speed alone, which is right on a "    \
    "level road only."
#define ORDERS_PULL_UNKNOWN                                                    \
    "Whether the engine pulled or held back could not be told."
#define ORDERS_FOLDED_DOWN                                                     \
    "Near %s km/h the recorder's rate folds %s down onto %s: what is seen "    \
    "there may be either."

#endif
