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
#define EXPLAIN_OTHER_FORM                                                     \
    "Read in a form that is worked out as docs/angles.md says."

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
    "With every reading wrong by its uncertainty, 4096 times: %s. The middle " \
    "of these lies above what was read where the arrows nearly cancel."

/* 6 */
#define EXPLAIN_SHAKE "6. Shake, rad/s" "\302\262" ", peak, twice a turn"
#define EXPLAIN_RPM "shaft speed, rev/min: "
#define EXPLAIN_W "w, rad/s: "
#define EXPLAIN_AXLE "passed to the axle: "
#define EXPLAIN_PULLED "first joint alone (pulled): "
#define EXPLAIN_HELD "last joint alone (held): "
#define EXPLAIN_SECTION                                                        \
    "Inside the line, a section carries the arrows before it or behind it. "   \
    "The longest sum, joints %zu to %zu:"
#define EXPLAIN_SECTION_SHAKE "worst shaft section: "
#define EXPLAIN_NO_SPEED                                                       \
    "Not worked out: the shaft's speed is not known. It wants a road speed, "  \
    "a tyre and an axle ratio, or --rpm."

/* 7 */
#define EXPLAIN_SURE                                                           \
    "7. How sure: standard uncertainties, degrees"
#define EXPLAIN_SURE_ZERO "zero error of the gauge, shared: "
#define EXPLAIN_SURE_REST "rest of its accuracy: "
#define EXPLAIN_SURE_STEP "step: "
#define EXPLAIN_SURE_READING "Member %zu, one reading: "
#define EXPLAIN_SURE_DIFFERENCES                                               \
    "Differences were read from cap to cap: each holds two looks and two "     \
    "placings, and no zero error (docs/angles.md)."
#define EXPLAIN_SURE_KNOWN "Member %zu: %s, of its own form of reading."
#define EXPLAIN_SURE_BUDGET                                                    \
    "Under each root: rest of the accuracy, step, set-up, surface, and the "   \
    "scatter of repeats. The shared zero error falls out of a difference of " \
    "readings of one form."
#define EXPLAIN_SURE_JOINT "Joint %zu: "
#define EXPLAIN_SURE_JOINTS                                                    \
    "A joint has two readings. Slopes count by the share of the bend seen "    \
    "from the side, headings by the share seen from above."
#define EXPLAIN_SURE_OTHER                                                     \
    "The program's figure is another here: docs/angles.md, Uncertainty."
#define EXPLAIN_SURE_RANGE "Joint %zu, 95 %% range, plus or minus: "

/* 8 */
#define EXPLAIN_LIMITS "8. Against the limits"
#define EXPLAIN_AWAY "%s, %s, uncertainties over: "
#define EXPLAIN_BELOW "%s, %s, uncertainties under: "
#define EXPLAIN_VERDICT_OVER "%d" NBSP "in" NBSP "100 that it is over: %s."
#define EXPLAIN_VERDICT_UNDER "%d" NBSP "in" NBSP "100 that it is under: %s."
#define EXPLAIN_VERDICT_SIDE                                                   \
    "%s: the side view alone shows only part of the angle."
#define EXPLAIN_RULE                                                           \
    "Over or under from 95 in 100, within to 5, else it can't be told. The "   \
    "chances are counted in the 4096 draws."
#define EXPLAIN_MANY_LIMITS                                                    \
    "%zu figures of several published sets; halfturn angles lists them. Name " \
    "one set to see it worked here: --limits"
#define EXPLAIN_NO_VERDICT                                                     \
    "No verdict: angles count only with the axle carrying the vehicle's "      \
    "weight, and the sheet does not say so."

#endif
