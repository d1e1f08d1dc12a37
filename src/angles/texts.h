/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; the rest are rows of a text alone, where %1 and %2
 * stand for numbers and %0 for a member's name (note.h). */
#ifndef HALFTURN_ANGLES_TEXTS_H
#define HALFTURN_ANGLES_TEXTS_H

#include "halfturn/status.h"

/* Refusals: readings. */

#define ANGLES_NO_READINGS                                                     \
    HT_BAD_FILE, "The set of angles holds no readings. Give slopes_deg, one "  \
                 "for each member, or joints_deg."
#define ANGLES_MEMBER_COUNT                                                    \
    HT_BAD_FILE,                                                               \
        "Members of the driveline: %zu. Wanted: 2 to %d, front to rear."
#define ANGLES_SLOPE_COUNT                                                     \
    HT_BAD_FILE, "Slopes in slopes_deg: %zu. Wanted: %zu, one for each "       \
                 "member, front to rear."
#define ANGLES_JOINT_ANGLE_COUNT                                               \
    HT_BAD_FILE, "Angles in joints_deg: %zu. Wanted: %zu, one for each "       \
                 "joint, front to rear."
#define ANGLES_HEADING_COUNT                                                   \
    HT_BAD_FILE, "Headings in headings_deg: %zu. Wanted: %zu, one for each "   \
                 "member, front to rear."
#define ANGLES_JOINT_COUNT                                                     \
    HT_BAD_FILE, "Joints of the driveline: %zu. Wanted: %zu, one between "     \
                 "each pair of members, front to rear."
#define ANGLES_YOKE_COUNT                                                      \
    HT_BAD_FILE, "Angles in yokes_deg: %zu. Wanted: %zu, one for each shaft "  \
                 "between the end members, front to rear."
#define ANGLES_MEMBER_NOT_READ                                                 \
    HT_BAD_FILE, "There is no reading for %s. Give one slope for each of the " \
                 "%zu members, front to rear."
#define ANGLES_JOINT_NOT_READ                                                  \
    HT_BAD_FILE, "There is no angle for joint %zu. Give one signed angle for " \
                 "each of the %zu joints, front to rear."
#define ANGLES_GAUGE_OFF                                                       \
    HT_BAD_FILE, "A figure of the gauge is below 0. Give its accuracy, step "  \
                 "and set-up in degrees, without a sign."
#define ANGLES_BENT                                                            \
    HT_BAD_FILE, "Joint %zu comes out at %s\302\260, and no such joint works " \
                 "beyond 45\302\260. Check sign and decimal point of the "     \
                 "readings on both sides of it."
#define ANGLES_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for the angles."

#define ANGLES_STRAP                                                           \
    HT_BAD_FILE, "A strap bends as its bolts are tightened and lies square "   \
                 "to nothing. Take it off and read on the cap."
#define ANGLES_FACE_NOT_ACROSS                                                 \
    HT_BAD_FILE, "The face of %s reads %s\302\260, and a face across the "     \
                 "axis reads near 90\302\260. If the gauge lay along the "     \
                 "shaft, it is a slope."
#define ANGLES_DRAWING_READ                                                    \
    HT_BAD_FILE, "The slope of %s was read with a gauge, turned round, on "    \
                 "opposite caps, crosswise or on a face, and so is no angle "  \
                 "of a drawing."
#define ANGLES_OFFSET_COUNT                                                    \
    HT_BAD_FILE, "Offsets in offsets_mm: %zu. Wanted: %zu, one for each "      \
                 "joint centre, front to rear."
#define ANGLES_OFFSET_MISSING                                                  \
    HT_BAD_FILE, "There is no offset for joint %zu. Give one for each of the " \
                 "%zu joint centres, or none."
#define ANGLES_OFFSET_LENGTH                                                   \
    HT_BAD_FILE, "Offsets make a heading only with the length between joint "  \
                 "centres. Give joint_to_joint_mm of %s."
#define ANGLES_OFFSET_FAR                                                      \
    HT_BAD_FILE, "The offsets at both ends of %s differ by %s mm, too much "   \
                 "for a shaft of %s mm. Check unit and sign."
#define ANGLES_OFFSET_HEADING                                                  \
    HT_BAD_FILE, "The offsets say where %s runs, and a heading is given for "  \
                 "it too. Keep one."

/* Refusals: limits. */

#define ANGLES_SET_TWICE                                                       \
    HT_BAD_FILE, "%s: two sets are called \"%s\". Give each its own id."
#define ANGLES_NO_SET                                                          \
    HT_BAD_FILE, "No limit set is called \"%.40s\". There are: %s."
#define ANGLES_NO_SET_NEAR                                                     \
    HT_BAD_FILE, "No limit set is called \"%.40s\". Did you mean \"%s\"? "     \
                 "There are: %s."

/* Names: a member that has none; what a verdict is about. */

#define ANGLES_MEMBER "member %zu"
#define ANGLES_JOINT "joint %zu"
#define ANGLES_ODD_JOINT "joint %zu, the odd one beside the pair"
#define ANGLES_LONE_JOINT "joint %zu, which no other joint cancels"
#define ANGLES_DIFFERENCE "joints %zu and %zu differ"
#define ANGLES_LEFTOVER "leftover angle"
#define ANGLES_SHAKE_AXLE "shake passed to the axle"
#define ANGLES_SHAKE_PULLED "the shaft's own shake pulled from the front"
#define ANGLES_SHAKE_HELD "the shaft's own shake held from the rear"
#define ANGLES_SHAKE_SECTION "shake of the worst shaft section"
#define ANGLES_BUILT_IN "the built-in limits"

/* Readings to look at again: %0 is a member, %1 and %2 degrees. */

#define ANGLES_REPEATS_SCATTER                                                 \
    "%0: the readings scatter by %1\302\260, gauge and set-up explain "        \
    "%2\302\260. Read it again."
#define ANGLES_REPEAT_STANDS_OFF                                               \
    "%0: %1\302\260 stands off the other readings, which lie near "            \
    "%2\302\260. Read it again."
#define ANGLES_FLIP_ZERO                                                       \
    "%0: the pair turned round shows a zero error of %1\302\260, the gauge "   \
    "is good to %2\302\260. Was the sign of the second reading kept?"
#define ANGLES_OPPOSITE_DIFFER                                                 \
    "%0: opposite caps differ by %1\302\260, gauge and set-up explain "        \
    "%2\302\260. A cap sits askew or is dirty. Clean both, set the yoke anew."
#define ANGLES_CROSSWISE_LARGE                                                 \
    "%0: the yoke stood %1\302\260 off upright, which alone makes "            \
    "%2\302\260 uncertain. Set it until the gauge reads 0 crosswise."
#define ANGLES_DECIMAL_SLIP                                                    \
    "%0 reads %1\302\260. Is a decimal point missing? With %2\302\260 its "    \
    "joints would bend far less."
#define ANGLES_SIGN_SLIP                                                       \
    "%0 reads %1\302\260. With %2\302\260 its joints would bend far less. "    \
    "Is the sign right? + means rear end lower."

/* Notes: what was taken, what the verdict leaves out. */

#define ANGLES_DIFFERENCES_LOSE                                                \
    "Only differences between caps: headings, the slope of the floor and "     \
    "where each member lies are lost. Shims cannot be planned from them."
#define ANGLES_HEADINGS_UNUSED                                                 \
    "Headings or offsets stand beside joints_deg and are not used."
#define ANGLES_FLIP_BRINGS                                                     \
    "Turning the gauge round cancels its own zero. A working angle is a "      \
    "difference and hardly feels it."
#define ANGLES_FLIP_MIXED                                                      \
    "The gauge was turned round for some members and not for all: its zero "   \
    "then counts in the joints between. Turn it for all or for none."
#define ANGLES_OPPOSITE_BRINGS                                                 \
    "The mean of opposite caps cancels the tilt of cap and spacer disc."
#define ANGLES_DRAWING                                                         \
    "Slopes are a drawing's: turned into inclinations with the headings."
#define ANGLES_DRAWING_SIDE                                                    \
    "Slopes are a drawing's and stay as they are: there are no headings."
#define ANGLES_OFFSETS                                                         \
    "Shaft headings from the offsets of the joint centres, each taken as "     \
    "known to %1 mm (standard uncertainty)."
#define ANGLES_ENDS_STRAIGHT                                                   \
    "First and last member taken as running straight ahead, known to "         \
    "%1\302\260."

#define ANGLES_SUSPENSION_NOT_SAID "Suspension not stated. Numbers, no verdict."
#define ANGLES_HANGING "Hanging suspension gives wrong angles. No verdict."
#define ANGLES_ACCURACY_TAKEN                                                  \
    "Gauge accuracy not stated: \302\261 %1\302\260 taken."
#define ANGLES_STEP_TAKEN "Gauge step not stated: %1\302\260 taken."
#define ANGLES_SET_UP_TAKEN                                                    \
    "Gauge set-up not stated: %1\302\260 taken, as by eye. Yoke set "          \
    "crosswise on the cap: 0.15\302\260."
#define ANGLES_SURFACE_TAKEN                                                   \
    "Surface not stated: %1\302\260 taken, as on a rough yoke."
#define ANGLES_FACE                                                            \
    "A face across the axis: slope is 90\302\260 less the reading. Below "     \
    "90\302\260 means rear end lower."
#define ANGLES_FLIP_USED                                                       \
    "Where the gauge was turned round, that pair is used and the single "      \
    "readings are not."
#define ANGLES_CARDAN_TAKEN "Joint kind not stated: Cardan joints taken."
#define ANGLES_SIDE_VIEW "Side view only. The true angle is at least this."
#define ANGLES_HEADINGS_TAKEN                                                  \
    "Headings taken as known to %1\302\260 (standard uncertainty, about 2 mm " \
    "in a metre)."
#define ANGLES_FRONT_TAKEN "Driving end not stated: front taken."
#define ANGLES_EVEN_JOINTS                                                     \
    "Double Cardan, constant velocity and rubber joints are taken to pass "    \
    "the speed on evenly."
#define ANGLES_YOKES_TAKEN                                                     \
    "Yokes before and after such a joint are taken as in line."
#define ANGLES_YOKES_CROSSED                                                   \
    "A shaft's yokes are not in line: its joints are not compared. Judge by "  \
    "the leftover angle."
#define ANGLES_TOO_MANY_LIMITS "More limits than can be shown. Name one set."

/* What would decide an open verdict: %1 times, %2 degrees. */

#define ANGLES_REPEAT "Read every cap %1 times."
#define ANGLES_BETTER_GAUGE                                                    \
    "No number of repeats will decide it. A gauge of \302\261 %2\302\260 "     \
    "would."
#define ANGLES_ON_CAPS                                                         \
    "No number of repeats will decide it. Reading on the caps, each yoke set " \
    "with the gauge crosswise, would."
#define ANGLES_GAUGE_ON_CAPS                                                   \
    "No number of repeats will decide it. A gauge of \302\261 %2\302\260 on "  \
    "the caps, each yoke set with the gauge crosswise, would."
#define ANGLES_SET_ANEW                                                        \
    "Repeating alone will not decide it. Set yoke and gauge anew %1 times, "   \
    "give the mean and set_up_deg %2."
#define ANGLES_GAUGE_SET_ANEW                                                  \
    "Repeating alone will not decide it. A gauge of \302\261 %2\302\260, "     \
    "yoke and gauge set anew %1 times and averaged, would."
#define ANGLES_HEADINGS_SHOW                                                   \
    "Measure the headings too. The side view alone cannot show it."
#define ANGLES_MAY_BE_ZERO                                                     \
    "Zero is not ruled out yet. Read finer, or several times, yoke and gauge " \
    "set anew."
#define ANGLES_HEADINGS_CAPS                                                   \
    "Measure the headings too, on the caps, each yoke set with the gauge "     \
    "crosswise."
#define ANGLES_TOO_CLOSE                                                       \
    "Too close to the limit for any gauge. Take it as at the limit."

#endif
