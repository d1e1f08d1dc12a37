/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; a note is a row of a sentence alone. */
#ifndef HALFTURN_ROTATION_TEXTS_H
#define HALFTURN_ROTATION_TEXTS_H

#include "halfturn/status.h"

/* Refusals: tyre codes. */

#define ROTATION_NO_TYRE_SIZE                                                  \
    HT_BAD_FILE,                                                               \
        "The tyre \"%.40s\" is not a size I can read. Wanted is the code on "  \
        "the side wall, for instance 205/55R16, 235/65R16C, 11R22.5, 7.50R16 " \
        "or 31x10.50R15. Or give tyre_turns_per_km instead."
#define ROTATION_RIM_OFF                                                       \
    HT_BAD_FILE, "The tyre \"%.40s\" would sit on a rim of %g inches; rims "   \
                 "have 10 to 26. Read the side wall again: the rim stands "    \
                 "last, as in 205/55R16 or 11R22.5."
#define ROTATION_WIDTH_MM_OFF                                                  \
    HT_BAD_FILE,                                                               \
        "The tyre \"%.40s\" would be %g mm wide; wanted are %g to %g mm. "     \
        "Read the side wall again: the width stands first, as in 205/55R16."
#define ROTATION_WIDTH_INCH_OFF                                                \
    HT_BAD_FILE, "The tyre \"%.40s\" would be %g inches wide; wanted are %g "  \
                 "to %g inches. Read the side wall again: sizes look like "    \
                 "205/55R16, 11R22.5 or 31x10.50R15."
#define ROTATION_HEIGHT_OFF                                                    \
    HT_BAD_FILE, "The tyre \"%.40s\" would be %g percent as high as it is "    \
                 "wide; wanted are %g to %g percent. Read the side wall "      \
                 "again: the height stands second, as in 205/55R16."
#define ROTATION_OUTER_OFF                                                     \
    HT_BAD_FILE,                                                               \
        "The tyre \"%.40s\" would be %g inches across; wanted are %g to %g "   \
        "inches. Read the side wall again: the outer diameter stands first, "  \
        "as in 31x10.50R15. Metric sizes look like 205/55R16."
#define ROTATION_RIM_AS_LARGE                                                  \
    HT_BAD_FILE,                                                               \
        "The tyre \"%.40s\" would be %g inches across on a rim of %g inches. " \
        "Its outer diameter must be at least 4 inches more. Read the side "    \
        "wall again: sizes look like 31x10.50R15 or 205/55R16."

/* Refusals: ratios and gears. */

#define ROTATION_TEETH_COUNT                                                   \
    HT_BAD_FILE, "Numbers in axle_teeth: %zu. Wanted are two, the tooth "      \
                 "counts of ring gear and pinion, for instance [41, 11]."
#define ROTATION_TEETH_ZERO                                                    \
    HT_BAD_FILE, "axle_teeth [%g, %g] holds a count that is not above zero. "  \
                 "Wanted are two tooth counts, ring gear first, then pinion, " \
                 "for instance [41, 11]."
#define ROTATION_TEETH_SWAPPED                                                 \
    HT_BAD_FILE, "axle_teeth [%g, %g] gives less than one shaft turn per "     \
                 "wheel turn. The ring gear comes first. Is it [%g, %g]?"
#define ROTATION_RATIOS_DISAGREE                                               \
    HT_BAD_FILE,                                                               \
        "axle_teeth [%g, %g] gives %.3f, but axle_ratio says %.3f. Count the " \
        "teeth or read the axle tag, and give one of the two."
#define ROTATION_NO_LOW_RATIO                                                  \
    HT_BAD_FILE,                                                               \
        "The transfer case is in low, but its low ratio is not given. Wanted " \
        "is for instance transfer: {high: 1.0, low: 2.7, in: low}."
#define ROTATION_NO_SUCH_GEAR                                                  \
    HT_BAD_USE, "Gear %u is asked for, but the sheet's gear_ratios hold %zu. " \
                "Wanted is 1 to %zu."

/* Notes: what was assumed, what is missing. */

#define ROTATION_TYRE_TURNS_DISAGREE                                           \
    "Tyre code and tyre turns per distance disagree by %.0f percent; the "     \
    "turns are used."
#define ROTATION_TYRE_UNKNOWN                                                  \
    "No tyre size: nothing can be put in hertz at a road speed."
#define ROTATION_TYRE_HEIGHT_TAKEN                                             \
    "The tyre code does not say the tyre's height: %.0f percent of the width " \
    "taken."
#define ROTATION_NO_HUB_TAKEN                                                  \
    "No hub reduction given: taken as none. A hub-reduction axle would "       \
    "change every shaft figure."
#define ROTATION_HIGH_RANGE_TAKEN                                              \
    "Transfer case range not said: high range taken."
#define ROTATION_HIGH_RATIO_TAKEN                                              \
    "Transfer case high ratio not given: 1.0 taken."
#define ROTATION_FRONT_DRIVE                                                   \
    "Front drive: no propeller shaft. 3\xc3\x97 half-shaft is the same "       \
    "frequency as 3\xc3\x97 wheel."
#define ROTATION_NO_AXLE_RATIO                                                 \
    "No axle ratio or axle teeth: nothing can be said about the shaft."
#define ROTATION_SHAFT_TAKEN                                                   \
    "Driven axle not said: a propeller shaft is taken to be there."
#define ROTATION_SHAFTS_ALIKE                                                  \
    "All-wheel drive: front and rear propeller shafts of one ratio turn "      \
    "alike; speed cannot tell them apart."
#define ROTATION_GEARS_CUT "%zu gear ratios given; the first %d are used."
#define ROTATION_ACCESSORY_NO_RATIO                                            \
    "Accessory \"%.40s\" is left out: no ratio is given for it."
#define ROTATION_ACCESSORY_NAME_TAKEN                                          \
    "Accessory \"%.40s\" is left out: another part has that name."
#define ROTATION_ACCESSORY_TOO_MANY                                            \
    "Accessory \"%.40s\" is left out: there are too many parts."
#define ROTATION_NO_GEAR_RATIOS                                                \
    "No gear ratios: nothing can be said about the engine."
#define ROTATION_ENGINE_NO_AXLE "No axle ratio: engine speed is open."
#define ROTATION_ENGINE_NO_GEAR "Gear not known: engine speed is open."
#define ROTATION_CONVERTER_LOCKED                                              \
    "Automatic gearbox: engine figures hold with the converter locked; slip "  \
    "raises them."
#define ROTATION_FOUR_STROKES_TAKEN "Engine strokes not said: four taken."
#define ROTATION_HALF_SHAFT_IS_WHEEL                                           \
    "3\xc3\x97 half-shaft is the same frequency as 3\xc3\x97 wheel: one "      \
    "line, two possible sources."

#endif
