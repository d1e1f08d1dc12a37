/* texts_figures.h - words in and beside the figures of the page, and the
 * labels that say a figure's finding to who cannot see it. As texts.h.
 */
#ifndef HALFTURN_REPORT_TEXTS_FIGURES_H
#define HALFTURN_REPORT_TEXTS_FIGURES_H

#include "markup.h"

#include "halfturn/status.h"

/* Shared by several figures. */

#define FIGURE_ROAD_SPEED "road speed, km/h"
#define FIGURE_FELT_HERE "felt here"
#define FIGURE_LEVEL_AXIS "%s peak, all axes, %s"
#define FIGURE_AT "at %s"

/* Figures as files. */

#define FIGURE_FONTS "DejaVu Sans, Verdana, sans-serif"
#define FIGURE_TITLE_SIDE "Side view"
#define FIGURE_TITLE_PLAN "Plan view"
#define FIGURE_TITLE_JOINTS "Joint angles"
#define FIGURE_TITLE_AXLE "Shake passed to the axle"
#define FIGURE_TITLE_TURN "One turn"
#define FIGURE_TITLE_SHAKES "Shake over road speed"
#define FIGURE_TITLE_SHIMS "Shims"
#define FIGURE_TITLE_MAP "What shakes, and when"
#define FIGURE_TITLE_LEVEL "How strong, at which speed"
#define FIGURE_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for the figures."
#define FIGURE_NOT_READ                                                        \
    HT_BUG, "A figure holds what its reader does not know. This is a mistake " \
            "in this program. Tell its makers."

/* Joint angles. */

#define FIGURE_SIDE_CAPTION                                                    \
    "Side view; dotted: level. Angles drawn %d times too large."
#define FIGURE_STRIPS_CAPTION                                                  \
    "Block: 95" NBSP "% range of this gauge. Hatched: outside the limit."
#define FIGURE_SIDE_LABEL                                                      \
    "Side view, front at the left, angles drawn %d times too large."
#define FIGURE_PLAN_CAPTION                                                    \
    "Plan view, from above; dotted: straight ahead. Angles drawn %d times "    \
    "too large."
#define FIGURE_PLAN_LABEL                                                      \
    "Plan view, front at the left, angles drawn %d times too large."
#define FIGURE_TURN_CAPTION                                                    \
    "How far each member hurries (up) and lags (down) while the driving end "  \
    "turns once, evenly."
#define FIGURE_TURN_AXIS "degrees ahead of an even turn"
#define FIGURE_TURN_ROTATION "turn of the driving end, degrees"
#define FIGURE_TURN_LABEL                                                      \
    "Over one turn the %s leaves an even turn by at most %s."
#define FIGURE_SHAKE_CAPTION                                                   \
    "Shake over road speed. Thick: passed to the axle, with its 95" NBSP       \
    "% range. It grows with the square of the speed."
#define FIGURE_SHAKE_AXIS "rad/s² peak, twice per shaft turn"
#define FIGURE_SHAKE_LABEL "Shake passed to the axle: %s at %s."
#define FIGURE_TO_AXLE "to the axle"
#define FIGURE_PULLED "shaft, pulled"
#define FIGURE_HELD "shaft, held"
#define FIGURE_SECTION "worst section"
#define FIGURE_LIMIT_AXLE "limit, axle: %s"
#define FIGURE_LIMIT_SHAFT "limit, shaft: %s"
#define FIGURE_JOINT_BENDS "Joint %zu bends %s."
#define FIGURE_FRONT "front"
#define FIGURE_JOINT "Joint %zu"
#define FIGURE_HALF_RANGE "±" NBSP "%s"
#define FIGURE_LOW_HIGH "%s–%s"
#define FIGURE_CHANCE_OVER "%d in 100 over"
#define FIGURE_CHANCE_UNDER "%d in 100 under"
#define FIGURE_SIDE_ALONE "side view only"
#define FIGURE_ZERO_OPEN "zero not ruled out"
#define FIGURE_SHAKE_ZERO                                                      \
    ", as zero is not ruled out. Limit %s: %s. The vehicle maker's figure "    \
    "comes first."
#define FIGURE_SHAKE_SIDE                                                      \
    " from the side alone. Limit %s: %s. The vehicle maker's figure comes "    \
    "first."
#define FIGURE_STRIP "%s %s: %s."
#define FIGURE_STRIP_WHY "%s %s: %s, %s."
#define FIGURE_SHAKE_CAPTION_END                                               \
    ". Block: 95" NBSP "% range, in rad/s² peak. Hatched: outside the limit."
#define FIGURE_SHAKE "Shake passed to the axle: %s"
#define FIGURE_SHAKE_VERDICT "Shake passed to the axle: %s, %s"
#define FIGURE_SHAKE_CHANCE                                                    \
    ", %d" NBSP "in" NBSP "100 that it is over. Limit %s: %s. The vehicle "    \
    "maker's figure comes first."
#define FIGURE_ALL_SETS                                                        \
    "No limit set is named: all %zu are shown. The vehicle maker's figure "    \
    "comes first."
#define FIGURE_LIMITS_FROM                                                     \
    "Limits: %s. The vehicle maker's figure comes first."
#define FIGURE_LEFT_OVER BOLD_ON "Left over after all joints: %s." BOLD_OFF
#define FIGURE_LEFT_OVER_ONE BOLD_ON "Left over after the joint: %s." BOLD_OFF
#define FIGURE_TRAVEL "Over the travel"
#define FIGURE_LEFT_OVER_ZERO "Not to be told from zero with this gauge."
#define FIGURE_LEFT_OVER_SHAKES "At %s that shakes the axle with %s."

/* Shim plans: each row against its own limit. */

#define FIGURE_CHOICE_CAPTION                                                  \
    "Open block: as it stands. Filled: with the plan. Both are 95" NBSP        \
    "% ranges, in parts of the limit. Hatched: outside the limit. A pointed "  \
    "end runs off the figure."
#define FIGURE_CHOICE_HEAD                                                     \
    "Plan %zu: %d" NBSP "in" NBSP "100 that every limit is kept."
#define FIGURE_CHOICE_ROW "%s: %s now, %s then, %s."
#define FIGURE_CHOICE_MOST "%s: up to %s"
#define FIGURE_CHOICE_LEAST "%s: from %s"
#define FIGURE_CHOICE_BETWEEN "%s: %s to %s"
#define FIGURE_CHOICE_RATE "%s: up to %s" NBSP "rad/s²"
#define FIGURE_CHOICE_UNIT "%s, rad/s²"
#define FIGURE_CHOICE_AXLE "shake, axle"
#define FIGURE_CHOICE_PULLED "shake, shaft pulled"
#define FIGURE_CHOICE_HELD "shake, shaft held"
#define FIGURE_CHOICE_SECTION "shake, worst section"
#define FIGURE_CHOICE_AT_LIMIT "limit"
#define FIGURE_CHOICE_TIMES "%d times"

/* Causes. */

#define FIGURE_CAUSES_CAPTION                                                  \
    "Bar: how likely. Arrows: what raised it (filled) or lowered it "          \
    "(dashed), from its place without that finding. Two causes can be true "   \
    "at once."
#define FIGURE_CAUSE_BAR "%s: %s, %d in 100"
#define FIGURE_WITHOUT_IT "without it" NBSP "%d"
#define FIGURE_NOTHING_MOVES_IT "Nothing measured so far moves it."
#define FIGURE_ALSO_WEIGHED BOLD_ON "Also weighed." BOLD_OFF
#define FIGURE_WEIGHED "%s: %s."
#define FIGURE_WEIGHED_CAUSE "%s" NBSP "%d"
#define FIGURE_ONE_MORE_BELOW "1 more below that."
#define FIGURE_MORE_BELOW "%zu more below that."

/* Orders. */

#define FIGURE_MAP_CAPTION                                                     \
    "A part that shakes draws an upright ridge at its own order. Shown is "    \
    "what stands above the road noise. Left blank: not driven."
#define FIGURE_MAP_LABEL_NONE "Order map. No named order stands out."
#define FIGURE_MAP_LABEL                                                       \
    "Order map. %s is the strongest ridge, worst at %s."
#define FIGURE_MAP_AXIS "order: vibrations per turn of the wheel"
#define FIGURE_MAP_KEY "%s peak, %s; each step doubles"
#define FIGURE_CURVE_CAPTION "Band: 95" NBSP "% range."
#define FIGURE_CURVE_SHADED                                                    \
    "Shaded: what drivers usually notice, and complain of."
#define FIGURE_CURVE_LABEL                                                     \
    "%s against road speed: at most %s" NBSP "%s at %s."
#define FIGURE_NOTICED "noticed"
#define FIGURE_COMPLAINED_OF "complained of"
#define FIGURE_LEAST_SEEN "least seen"
#define FIGURE_ROWS_CAPTION                                                    \
    "%s peak, all axes, %s; each step of the axis doubles. Block: 95" NBSP     \
    "%% range. Dotted: up to the smallest level that would have been seen."
#define FIGURE_ROWS_ORDER "Order"
#define FIGURE_ROWS_AXIS "%s to %s"
#define FIGURE_ROWS_LEVEL "Level and range, at its worst speed"
#define FIGURE_ROW_LEVEL_AT "%s at %s"
#define FIGURE_ROW_BELOW "below" NBSP "%s"
#define FIGURE_ROWS_ONE_MORE "1 more is in the JSON output."
#define FIGURE_ROWS_MORE "%zu more are in the JSON output."

#endif
