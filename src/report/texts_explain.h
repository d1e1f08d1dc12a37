/* texts_explain.h - the words of the calculation shown step by step.
 *
 * In a line of arithmetic the last '=' has its result behind it and the
 * calculation before it; what stands before a ':' is a name. A test does the
 * arithmetic over.
 */
#ifndef HALFTURN_REPORT_TEXTS_EXPLAIN_H
#define HALFTURN_REPORT_TEXTS_EXPLAIN_H

#include "halfturn/status.h"

#include "markup.h"

#define EXPLAIN_NO_MEMORY                                                      \
    HT_NO_MEMORY, "There is not enough memory to show the calculation."

#define EXPLAIN_HEAD                                                           \
    "Step by step. Each line can be done on a calculator set to degrees, "     \
    "from the numbers above it. Slope: + = rear end lower. Heading: + = to "   \
    "the left going rearward."
#define EXPLAIN_NOTHING                                                        \
    "There are no readings to show the calculation of. Put them under "        \
    "'angles'; halfturn angles --blank makes a sheet to fill in."

/* Keys of a calculator. */
#define EXPLAIN_SQRT "sqrt("
#define EXPLAIN_SIN "sin("
#define EXPLAIN_COS "cos("
#define EXPLAIN_TAN "tan("
#define EXPLAIN_ARCSIN "arcsin("
#define EXPLAIN_ARCTAN "arctan("
#define EXPLAIN_ARCTAN2 "arctan2("

/* 1 */
#define EXPLAIN_READINGS                                                       \
    "1. Slope of each member: the mean of its readings, degrees"
#define EXPLAIN_AS_JOINTS                                                      \
    "1. Slope of each member, the first taken as 0, from the differences "     \
    "read between neighbours, degrees"
#define EXPLAIN_MEMBER "%zu, %s: "
#define EXPLAIN_UNNAMED "member %zu%s: "
#define EXPLAIN_HEADING "Member %zu, heading: "
#define EXPLAIN_OFFSETS "Member %zu, offsets over length, mm: "
#define EXPLAIN_INCLINED "Member %zu, inclination: "

/* 2 and 3 */
#define EXPLAIN_BENDS                                                          \
    "2. Bend of each joint: member behind less member before, degrees"
#define EXPLAIN_SIDE "Joint %zu from the side: "
#define EXPLAIN_PLAN "Joint %zu from above: "
#define EXPLAIN_SIDE_ONLY                                                      \
    "No headings: seen from the side only. The true angles are at least "      \
    "these."
#define EXPLAIN_WORKING                                                        \
    "3. Working angle of each joint: the two at right angles, degrees"
#define EXPLAIN_JOINT "Joint %zu: "
#define EXPLAIN_EXACTLY                                                        \
    "Exactly, with the slopes and headings themselves (haversine):"
#define EXPLAIN_HALF_SQUARE "Joint %zu, h: "

/* 4 and 5 */
#define EXPLAIN_ADDS                                                           \
    "4. What each Cardan joint adds twice a turn: tan" "\302\262" " of half "  \
    "its angle, as an arrow"
#define EXPLAIN_ARROW                                                          \
    "The arrow points at twice the angle between the bend and the pins of "    \
    "the driving yoke. Pins start at 0; a Cardan joint sets them back by 90, " \
    "clocked yokes turn them on. So two joints with their yokes in line "      \
    "point against each other."
#define EXPLAIN_PINS "Joint %zu, driving pins: "
#define EXPLAIN_SIZE "Joint %zu, size: "
#define EXPLAIN_DIRECTION "Joint %zu, bend points at: "
#define EXPLAIN_TURN "Joint %zu, arrow points at: "
#define EXPLAIN_X "Joint %zu, x: "
#define EXPLAIN_Y "Joint %zu, y: "
#define EXPLAIN_EVEN_JOINT                                                     \
    "Joint %zu passes the speed on evenly and adds nothing."
#define EXPLAIN_SUM "5. All arrows together: what is left over"
#define EXPLAIN_SUM_X "x: "
#define EXPLAIN_SUM_Y "y: "
#define EXPLAIN_LENGTH "length: "
#define EXPLAIN_LEFTOVER "leftover angle: "
#define EXPLAIN_LEFTOVER_EXACT                                                 \
    "Followed pin by pin through a turn, without these short cuts: %s."
#define EXPLAIN_LEFTOVER_RANGE                                                 \
    "With every reading wrong by its uncertainty, %d times: the middle of "    \
    "all is %s; half of what the middle 68 in 100 span is %s and stands for "  \
    "its uncertainty. The answer says %s."
#define EXPLAIN_MIDDLE_ABOVE                                                   \
    "The middle lies above what was read: where arrows nearly cancel, errors " \
    "mostly make them longer."
#define EXPLAIN_MIDDLE_BELOW "The middle lies below what was read."
#define EXPLAIN_LEFTOVER_ALONE                                                 \
    "One Cardan joint alone leaves its own angle, as sure as that is."

/* 6 */
#define EXPLAIN_SHAKE "6. Shake, rad/s" "\302\262" ", peak, twice a turn"
#define EXPLAIN_ROAD "road speed, km/h: "
#define EXPLAIN_WHEEL "one turn of the wheel by its tyre, m: "
#define EXPLAIN_TURNS "shaft turns to one of the wheel: "
#define EXPLAIN_RPM "shaft speed, rev/min: "
#define EXPLAIN_W "w, rad/s: "
#define EXPLAIN_AXLE "passed to the axle: "
#define EXPLAIN_PULLED "first joint alone (pulled): "
#define EXPLAIN_HELD "last joint alone (held): "
#define EXPLAIN_SECTION                                                        \
    "Inside the line, a section carries the arrows before it or behind it. "   \
    "The longest sum, joints %zu to %zu:"
#define EXPLAIN_SHAKE_DRAWN                                                    \
    "In the %d draws: the middle is %s, its uncertainty %s."
#define EXPLAIN_SECTION_SHAKE "worst shaft section: "
#define EXPLAIN_NO_SPEED                                                       \
    "Not worked out: the shaft's speed is not known. It wants a road speed, "  \
    "a tyre and an axle ratio, or --rpm."

/* 7 */
#define EXPLAIN_SURE                                                           \
    "7. How sure: standard uncertainties, degrees"
#define EXPLAIN_SURE_ACCURACY "accuracy of the gauge, plus or minus: "
#define EXPLAIN_SURE_SHOWN "smallest step it shows: "
#define EXPLAIN_SURE_SET_UP "set-up of yoke and gauge: "
#define EXPLAIN_SURE_HEADING "heading of a member: "
#define EXPLAIN_SURE_ZERO "zero error of the gauge, shared: "
#define EXPLAIN_SURE_REST "rest of its accuracy: "
#define EXPLAIN_SURE_STEP "step: "
#define EXPLAIN_SURE_DIFFERENCES                                               \
    "Differences were read from cap to cap: each holds two looks (rest of "    \
    "the accuracy, step) and two placings (set-up, surface), and no zero "     \
    "error."
#define EXPLAIN_SURE_BUDGET                                                    \
    "Under each root: rest of the accuracy, step, set-up, surface, scatter "   \
    "of repeats; what is nothing is left out. The shared zero error falls "    \
    "out of a difference of readings of one form. Turned round, two looks "    \
    "halve the squares of the first two; opposite caps halve all."
#define EXPLAIN_SURE_OWN_SET_UP "Member %zu, set-up of its own: "
#define EXPLAIN_SURE_ALONG                                                     \
    "Member %zu, gauge off the shaft's line by 5 degrees: "
#define EXPLAIN_SURE_LEAN                                                      \
    "Member %zu, lean of the yoke by the crosswise gauge: "
#define EXPLAIN_SURE_PLACED "Member %zu, set-up from both, and dirt: "
#define EXPLAIN_SURE_SURFACE "Member %zu, surface: "
#define EXPLAIN_SURE_SURFACE_JOINT "Joint %zu, surface: "
#define EXPLAIN_SURE_SCATTER "Member %zu, scatter of its readings: "
#define EXPLAIN_SURE_MEAN "Member %zu, scatter of their mean: "
#define EXPLAIN_SURE_READING "Member %zu, its slope: "
#define EXPLAIN_SURE_TURNED "Member %zu, its slope, gauge turned round: "
#define EXPLAIN_SURE_OPPOSITE "Member %zu, its slope, opposite caps: "
#define EXPLAIN_SURE_DIFFERENCE "Joint %zu, its uncertainty: "
#define EXPLAIN_SURE_JOINTS                                                    \
    "A joint has two readings. Slopes count by the share of the bend seen "    \
    "from the side, headings by the share seen from above, the zero error "    \
    "where it does not fall out."
#define EXPLAIN_SURE_SIDE "Joint %zu, share from the side: "
#define EXPLAIN_SURE_PLAN "Joint %zu, share from above: "
#define EXPLAIN_SURE_STRAIGHT "Joint %zu, straight, share from the side: "
#define EXPLAIN_SURE_TWICE "Joint %zu, zero error in both readings: "
#define EXPLAIN_SURE_JOINT "Joint %zu, its uncertainty: "
#define EXPLAIN_SURE_OTHER                                                     \
    "The program's own figure has more in it and is carried on: %s "           \
    "(docs/angles.md, Uncertainty)."
#define EXPLAIN_SURE_STUDENT                                                   \
    "Repeats are few. Student's t for %s degrees of freedom, from a table: %s."
#define EXPLAIN_SURE_RANGE "Joint %zu, 95 %% either way, far from nothing: "
#define EXPLAIN_SURE_ANSWER "The answer says %s."
#define EXPLAIN_SURE_COUNTED                                                   \
    "The answer says %s: a size cannot be below 0, so that near it, and with " \
    "few repeats, the range is counted (docs/angles.md, Uncertainty)."
#define EXPLAIN_SURE_PAIRS                                                     \
    "The difference of two joints that should cancel. The shaft between them " \
    "takes part in both."
#define EXPLAIN_SURE_GAP "Joints %zu and %zu differ: "
#define EXPLAIN_SURE_BOTH_SIDE "Member %zu, in both, from the side: "
#define EXPLAIN_SURE_BOTH_PLAN "Member %zu, in both, from above: "
#define EXPLAIN_SURE_ZERO_SHARE "Member %zu, share of the zero error in both: "
#define EXPLAIN_SURE_PAIR "Joints %zu and %zu differ, its uncertainty: "
#define EXPLAIN_SHAKE_SURE                                                     \
    "Shake of one joint, its uncertainty: how steeply it grows with the "      \
    "angle, times the angle's own."

/* 8 */
#define EXPLAIN_LIMITS "8. Against the limits"
#define EXPLAIN_AWAY "%s, %s, uncertainties over: "
#define EXPLAIN_BELOW "%s, %s, uncertainties under: "
#define EXPLAIN_VERDICT_OVER "%d" NBSP "in" NBSP "100 that it is over: %s."
#define EXPLAIN_VERDICT_UNDER "%d" NBSP "in" NBSP "100 that it is under: %s."
#define EXPLAIN_VERDICT_SIDE                                                   \
    "%s: the side view alone shows only part of the angle."
#define EXPLAIN_VERDICT_ZERO "%s: none at all is not ruled out."
#define EXPLAIN_RULE                                                           \
    "Over or under from 95 in 100, within to 5, else it can't be told. The "   \
    "chances are counted in the 4096 draws."
#define EXPLAIN_MANY_LIMITS                                                    \
    "%zu figures of several published sets; halfturn angles lists them. Name " \
    "one set to see it worked here: --limits"
#define EXPLAIN_NO_VERDICT                                                     \
    "No verdict: angles count only with the axle carrying the vehicle's "      \
    "weight, and here it hangs, or nothing is said."

#endif
