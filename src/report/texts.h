/* texts.h - every sentence, heading and caption of the report.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; every other row is a text alone, marked as markup.h
 * says. A row is whole: only names, numbers with their units, words of the
 * scales (words.c) and lists are put into it, and those in the parts and
 * figures stand in texts_figures.h.
 */
#ifndef HALFTURN_REPORT_TEXTS_H
#define HALFTURN_REPORT_TEXTS_H

#include "halfturn/status.h"

#include "markup.h"

/* Refusals. */

#define REPORT_NO_MEMORY_TEXT                                                  \
    HT_NO_MEMORY, "There is not enough memory for the text of this report."
#define REPORT_NO_MEMORY_PAGE                                                  \
    HT_NO_MEMORY, "There is not enough memory for the page of this report."
#define REPORT_NO_MEMORY_JSON                                                  \
    HT_NO_MEMORY, "There is not enough memory for the JSON text of this "      \
                  "report."
#define REPORT_NO_MEMORY_PARTS                                                 \
    HT_NO_MEMORY, "There is not enough memory for the list of turning parts."
#define REPORT_NO_MEMORY_MAP                                                   \
    HT_NO_MEMORY, "There is not enough memory for the picture of the order "   \
                  "map."
#define REPORT_MAP_NOT_ENCODED                                                 \
    HT_BUG, "The picture of the order map could not be made: %s. This is a "   \
            "mistake in this program. Tell its makers."

/* Numbers with units and ranges (shown.c). */

#define REPORT_DEGREE "°"
#define REPORT_KM_H NBSP "km/h"
#define REPORT_RAD_S2 NBSP "rad/s²"
#define REPORT_PLUS_MINUS "%s" NBSP "±" NBSP "%s"
#define REPORT_RANGE "%s" NBSP "(%s to" NBSP "%s)"
#define REPORT_LEVEL_RANGE "%s (%s to" NBSP "%s)"

/* Headings. */

#define REPORT_SAFETY "Safety first"
#define REPORT_NEXT "Next check: "
#define REPORT_NEXT_BOLD BOLD_ON "Next check." BOLD_OFF " %s"
#define REPORT_OUTCOMES "What its answers change"
#define REPORT_CAUSES "Likely causes"
#define REPORT_CAUSES_LONG                                                     \
    "Likely causes of the shake. Two can be true at once"
#define REPORT_REPAIR "Repair: "
#define REPORT_STRUCK "Left out: this vehicle cannot have it"
#define REPORT_UNTOLD "What could not be told"
#define REPORT_DOUBTS "Read these again"
#define REPORT_ASSUMED "Taken as given"
#define REPORT_ASSUMED_BOLD BOLD_ON "Taken as given." BOLD_OFF
#define REPORT_CAUTION "Caution"
#define REPORT_LIMITS "Limits. The vehicle maker's figure comes first"
#define REPORT_ANGLES "Joint angles"
#define REPORT_MAP "What shakes, and when"
#define REPORT_CURVE "How strong, at which speed"
#define REPORT_ORDERS "Every order, strongest first"
#define REPORT_BRAND "Halfturn report"
#define REPORT_TAB "%s - Halfturn report"

/* Head of the page. */

#define REPORT_NO_TITLE "Case without a title"
#define REPORT_UNIT "unit %s"
#define REPORT_MEASURED_BY "measured by %s"

/* The answer, at most 40 characters where no name stands in it. */

#define REPORT_JOINT_TOO_FAR "Joint %zu bends too far."
#define REPORT_JOINTS_TOO_FAR "%zu joints bend too far."
#define REPORT_JOINT_TOO_LITTLE "Joint %zu bends too little."
#define REPORT_NOT_CANCELLING "The joint angles do not cancel."
#define REPORT_ANGLES_OPEN "The angles cannot be decided yet."
#define REPORT_ANGLES_WITHIN "The joint angles are within the limits."
#define REPORT_ANGLES_PARTLY "Not every driveline could be judged."
#define REPORT_SHAKES_TOO_MUCH "These angles shake it too hard."
#define REPORT_ANGLES_MEASURED "The joint angles are measured."
#define REPORT_HANGING "Hanging suspension gives wrong angles. No verdict."
#define REPORT_SUSPENSION_UNKNOWN                                              \
    "Angles measured. Suspension not said: no verdict."
#define REPORT_NO_ORDER_SEEN "No named order was seen."
#define REPORT_STRONGEST "The strongest order is %s."
#define REPORT_TOO_LITTLE "Too little is measured to say."
#define REPORT_NOTHING_FOUND "Nothing abnormal was found."
#define REPORT_NOTHING_STANDS_OUT "Cannot tell yet. Nothing stands out."
#define REPORT_CAUSE "%s."
#define REPORT_CAUSE_OPEN "Cannot tell yet which cause it is."
#define REPORT_SPEED_NOT_FOUND "The speed could not be found."
#define REPORT_NO_DRIVE "No drive was worked out."
#define REPORT_NO_ANGLES "There are no joint angles to judge."

/* How sure: word and number, title, word and number. */

#define REPORT_SURENESS "%s: %d" NBSP "in" NBSP "100."
#define REPORT_NO_CAUSE                                                        \
    "No cause of vibration stands out (nothing abnormal: %d" NBSP "in" NBSP    \
    "100)."
#define REPORT_STANDS_FIRST "%s stands first, %s: %d" NBSP "in" NBSP "100."

/* The reason. */

#define REPORT_JOINT_OVER                                                      \
    "Joint %zu bends " OVER_ON "%s" OVER_OFF ", over the %s that is allowed."
#define REPORT_JOINT_OVER_IN_ALL                                               \
    "Joint %zu bends " OVER_ON "%s" OVER_OFF ", out of limits in all %zu "     \
    "published sets."
#define REPORT_LEFTOVER "All joints together leave %s."
#define REPORT_LEFTOVER_ZERO                                                   \
    "All joints together leave %s: not to be told from zero with this gauge."
#define REPORT_LEFTOVER_SHAKES                                                 \
    "All joints together leave %s, which shakes the axle twice per shaft turn."
#define REPORT_WORST_AT "The strongest order, %s, is worst at %s."
#define REPORT_WORST_WHERE_FELT                                                \
    "The strongest order, %s, is worst at %s, where the customer feels it."

/* The next check. */

#define REPORT_ONE_MINUTE "1" NBSP "minute."
#define REPORT_MINUTES "%s" NBSP "minutes."

/* What could not be told. */

#define REPORT_UNTOLD_SPEED BOLD_ON "The speed." BOLD_OFF " %s"
#define REPORT_PAIR_CLOSE                                                      \
    BOLD_ON "%s from %s." BOLD_OFF " They lie too close. %s"
#define REPORT_PAIR_IN_GEAR BOLD_ON "%s from %s." BOLD_OFF " %s"
#define REPORT_PAIR_ALWAYS                                                     \
    BOLD_ON "%s from %s." BOLD_OFF " They have the same frequency at every "   \
            "speed."
#define REPORT_SETS_DISAGREE                                                   \
    BOLD_ON "Joint %zu." BOLD_OFF " The published sets disagree: out of "      \
            "limits in %zu of %zu. Name the set that fits, or the maker's "    \
            "figure."
#define REPORT_JOINT_OPEN                                                      \
    BOLD_ON "Joint %zu" BOLD_OFF " against its %s limit: %s. %s"
#define REPORT_NOT_VISIBLE BOLD_ON "%s" BOLD_OFF " could not be seen. %s"
#define REPORT_NOT_DRIVEN_BELOW                                                \
    BOLD_ON "Below %s." BOLD_OFF " Felt there, but not driven."
#define REPORT_NOT_DRIVEN_ABOVE                                                \
    BOLD_ON "Above %s." BOLD_OFF " Felt there, but not driven."
#define REPORT_NO_ANGLE_VERDICT                                                \
    BOLD_ON "No verdict on the angles." BOLD_OFF " They count only with the "  \
            "axle carrying the vehicle's weight. Measure again on the "        \
            "wheels, or on stands at ride height."
#define REPORT_SIDE_VIEW_ONLY                                                  \
    BOLD_ON "Side view only." BOLD_OFF " The true angles are at least these. " \
            "Measure the headings too."
#define REPORT_UNEXPLAINED BOLD_ON "Not explained:" BOLD_OFF " %s"

/* Cautions. HSE, working under vehicles (INDG and vehicle repair pages); the
 * rest is common practice, no source. docs/report.md names what each rests
 * on. */

#define REPORT_CAUTION_WEIGHT                                                  \
    "Angles count only with the axle carrying the vehicle's weight."
#define REPORT_CAUTION_STANDS                                                  \
    "Stands or a lift on level ground, wheels chocked. Never under a vehicle " \
    "on a jack alone, never with the engine running. Keep clear of a turning " \
    "shaft."
#define REPORT_CAUTION_TWO_PEOPLE                                              \
    "Two people: one drives, one records. On a suitable road, within the law."
#define REPORT_CAUTION_BEFORE_DRIVE                                            \
    "Before any drive: joint clips seated all round, bolts at the maker's "    \
    "torque, wheel nuts checked."
#define REPORT_CAUTION_PRACTICE                                                \
    "Limits here are published practice. The vehicle maker's figures and "     \
    "local codes come first. When in doubt, ask a qualified person."
#define REPORT_NOT_SAFE                                                        \
    "This looks for vibration causes. It does not show that the vehicle is "   \
    "safe to drive."

/* Where the speed comes from. */

#define REPORT_SPEED_UNKNOWN "Speed not found."
#define REPORT_SPEED_PULSES "Speed from the pulses."
#define REPORT_SPEED_LOG "Speed from the log."
#define REPORT_SPEED_LOG_LATE                                                  \
    "Speed from the log, %s" NBSP "s late, corrected."
#define REPORT_SPEED_LOG_EARLY                                                 \
    "Speed from the log, %s" NBSP "s early, corrected."
#define REPORT_SPEED_STEADY "Speed from the steady speed that was held."
#define REPORT_SPEED_HINT "Speed from the hint and the recording."
#define REPORT_SPEED_RECORDING "Speed from the recording alone."
#define REPORT_GEAR "Gear" NBSP "%u."
#define REPORT_WHEEL_ROLLS                                                     \
    "Wheel rolls %s" NBSP "±" NBSP "%s" NBSP "m a turn, found."

/* Foot. The words are those of the scale (words.c); a test compares them. */

#define REPORT_MADE_BY "Made by Halfturn %s."
#define REPORT_FROM_SHEET "Case sheet: %s."
#define REPORT_FROM_RECORDING "Recording: %s."
#define REPORT_FROM_LOG "Speed log: %s."
#define REPORT_GAUGE "Gauge ±" NBSP "%s."
#define REPORT_GAUGE_STEP "Gauge ±" NBSP "%s, step %s."
#define REPORT_WORD_SCALE                                                      \
    "Words in 100: almost certain 95 and up, very likely 80, likely 60, even " \
    "40, less likely 25, unlikely 5, hardly below 5."

/* Several drivelines and several sets of readings. */

#define REPORT_DRIVELINE "driveline %zu"
#define REPORT_SET "set %zu"
#define REPORT_SET_ALONE "%s."
#define REPORT_SET_DECIDES "%s. The set to go by."
#define REPORT_ANSWER_FOR "Angles of %s, the worst of the sets to go by."
#define REPORT_ANSWER_FOR_SET "Angles of %s, the set to go by."
#define REPORT_NOTE_OF_SET "%s: %s"
#define REPORT_MM "%s" NBSP "mm"
#define REPORT_TRAVEL                                                          \
    "Angles and leftover over the travel, without their ranges. The verdicts " \
    "to go by are those at %s."
#define REPORT_TRAVEL_OF                                                       \
    "Angles and leftover over the travel of %s, without their ranges. The "    \
    "verdicts to go by are those at %s."
#define REPORT_HEAD_HEIGHT "Ride height"
#define REPORT_TRAVEL_JOINT "Joint" NBSP "%zu"
#define REPORT_HEAD_LEFT_OVER "Left over"
#define REPORT_LOWEST "lowest"
#define REPORT_HIGHEST "highest"
#define REPORT_NO_VERDICT_ON                                                   \
    BOLD_ON "No verdict on %s." BOLD_OFF " Angles count only with the axle "   \
            "carrying the vehicle's weight. Measure again on the wheels, or "  \
            "on stands at ride height."
#define REPORT_SIDE_VIEW_OF                                                    \
    BOLD_ON "Side view only: %s." BOLD_OFF " The true angles are at least "    \
            "these. Measure the headings too."
#define REPORT_SETS_DISAGREE_ON                                                \
    BOLD_ON "Joint %zu of %s." BOLD_OFF " The published sets disagree: out "   \
            "of limits in %zu of %zu. Name the set that fits, or the maker's " \
            "figure."
#define REPORT_JOINT_OPEN_ON                                                   \
    BOLD_ON "Joint %zu of %s" BOLD_OFF " against its %s limit: %s. %s"

/* Angles: table, what is left over, shakes, limits. */

#define REPORT_HEAD_JOINT "Joint"
#define REPORT_HEAD_ANGLE "Angle, 95 % range"
#define REPORT_HEAD_ALLOWED "Allowed"
#define REPORT_HEAD_VERDICT "Verdict"
#define REPORT_OUT_IN_SETS "out in %zu of %zu sets"
#define REPORT_BETWEEN "%s to %s"
#define REPORT_AT_MOST "at most %s"
#define REPORT_AT_LEAST "at least %s"
#define REPORT_CHANCE_OVER "%s, %d in 100 over"
#define REPORT_CHANCE_UNDER "%s, %d in 100 under"
#define REPORT_LEFT_OVER "Left over after all joints: %s."
#define REPORT_LEFT_OVER_ZERO                                                  \
    "Left over after all joints: %s, not to be told from zero with this gauge."
#define REPORT_AT_SPEED "At %s:"
#define REPORT_AT_SHAFT_SPEED "At %s" NBSP "rev/min of the shaft:"
#define REPORT_AT_BOTH "At %s, %s" NBSP "rev/min of the shaft:"
#define REPORT_SHAKE_AXLE "Shake passed to the axle: %s."
#define REPORT_SHAKE_PULLED "The shaft's own shake, pulled from the front: %s."
#define REPORT_SHAKE_HELD "The shaft's own shake, held from the rear: %s."
#define REPORT_DOES "What the angles do"
#define REPORT_DOES_LIMIT                                                      \
    "First limit met at %s (%s to %s): %s, %s" NBSP "rad/s\302\262 (%s)."
#define REPORT_DOES_LIMIT_FROM                                                 \
    "First limit met at %s (from %s): %s, %s" NBSP "rad/s\302\262 (%s)."
#define REPORT_DOES_NO_LIMIT                                                   \
    "No limit on shake is met up to %s. The first, %s, %s" NBSP                \
    "rad/s\302\262 (%s), would be at %s."
#define REPORT_DOES_COUPLE                                                     \
    "With all of %s" NBSP "N" NBSP "m going this way, joint %zu is bent "      \
    "most: by %s" NBSP "N" NBSP "m steadily and %s" NBSP "N" NBSP "m twice a " \
    "turn."
#define REPORT_DOES_CENTRE                                                     \
    "Centre bearing of %s: %s" NBSP "N steady, %s" NBSP "N twice a turn, "     \
    "never above %s" NBSP "N."
#define REPORT_DOES_CENTRE_TAKEN "Taken as standing at the shaft's rear joint."
#define REPORT_DOES_BEARING                                                    \
    "Hardest bearing, of %s: %s" NBSP "N steady, %s" NBSP "N twice a turn."
#define REPORT_DOES_STRAIGHT "Joints %zu and %zu: one is straight."
#define REPORT_DOES_PARALLEL "Joints %zu and %zu: parallel."
#define REPORT_DOES_INTERSECTING "Joints %zu and %zu: intersecting."
#define REPORT_DOES_PARALLEL_SIDE                                              \
    "Joints %zu and %zu: parallel as seen from the side."
#define REPORT_DOES_INTERSECTING_SIDE                                          \
    "Joints %zu and %zu: intersecting as seen from the side."
#define REPORT_DOES_SKEW                                                       \
    "Joints %zu and %zu: skew, their planes %s apart."
#define REPORT_DOES_CLOCK                                                      \
    "%s: with its yokes %s out of line the joints would leave %s, not %s."
#define REPORT_DOES_CLOCK_TEETH_LEFT                                           \
    "%s: its rear yoke moved by %ld of %u teeth, counter-clockwise as seen "   \
    "from behind, would leave %s, not %s."
#define REPORT_DOES_CLOCK_TEETH_RIGHT                                          \
    "%s: its rear yoke moved by %ld of %u teeth, clockwise as seen from "      \
    "behind, would leave %s, not %s."
#define REPORT_DOES_CLOCK_CARE                                                 \
    "The maker's marks come first, and its balance changes."
#define REPORT_DOES_DOUBLE                                                     \
    "Double joint %zu, %s" NBSP "mm off centre, can leave %s, the whole line " \
    "then up to %s (derived)."
#define REPORT_DOES_CROSSES                                                    \
    "Its crosses are taken as %s" NBSP "mm apart (common practice, no source)."
#define REPORT_DOES_CRITICAL                                                   \
    "%s: critical speed %s" NBSP "rev/min, at %s; half of it at %s."
#define REPORT_DOES_CRITICAL_RPM                                               \
    "%s: critical speed %s" NBSP "rev/min, half of it %s."
#define REPORT_DOES_NEAR                                                       \
    "Too near: the top speed takes it to %s" NBSP "in" NBSP "100 of that, "    \
    "over the 75 of common practice."
#define REPORT_DOES_HALF                                                       \
    "Half of it is reached, within 8" NBSP "in" NBSP "100: the couples can "   \
    "shake it there (common practice)."
#define REPORT_DOES_BARE                                                       \
    "These are bare tubes. Dents, liners, splines, yokes and soft supports "   \
    "lower them; short stiff shafts are flattered (common practice, no "       \
    "source)."
#define REPORT_DOES_STEEL "Steel taken where no material is named."
#define REPORT_HELD_MOST                                                       \
    "%s: %s, at most %s (%s): %s, %d" NBSP "in" NBSP "100 that it is over."
#define REPORT_HELD_LEAST                                                      \
    "%s: %s, at least %s (%s): %s, %d" NBSP "in" NBSP "100 that it is under."
#define REPORT_HELD_MOST_SIDE                                                  \
    "%s: %s, at most %s (%s): %s from the side alone."
#define REPORT_HELD_LEAST_SIDE                                                 \
    "%s: %s, at least %s (%s): %s from the side alone."
#define REPORT_HELD_MOST_ZERO                                                  \
    "%s: %s, at most %s (%s): %s, as zero is not ruled out."
#define REPORT_HELD_LEAST_ZERO                                                 \
    "%s: %s, at least %s (%s): %s, as zero is not ruled out."
#define REPORT_SETS_SAY_ZERO                                                   \
    "%s: %s, at most %s in all of %zu sets: %s, as zero is not ruled out."
#define REPORT_JOINT_MIXED                                                     \
    "A joint may bend from %s (%s) to %s (%s)."
#define REPORT_SETS_SAY_SIDE                                                   \
    "%s: %s, at most %s in all of %zu sets: %s from the side alone."
#define REPORT_SETS_SAY                                                        \
    "%s: %s. %zu of %zu sets say over. Strictest: at most %s (%s), %s. "       \
    "Loosest: at most %s (%s), %s."
#define REPORT_SETS_SAY_ALIKE                                                  \
    "%s: %s, at most %s in all of %zu sets: %s, %d" NBSP "in" NBSP "100 that " \
    "it is over."
#define REPORT_JOINTS_ALLOWED                                                  \
    "A joint's largest angle. Strictest: %s (%s). Loosest: %s (%s)."
#define REPORT_SET_SOURCE "%s: %s"

/* Causes: title and likelihood, what moved it, the rest. */

#define REPORT_CAUSE_LINE "%s: %s," NBSP "%d" NBSP "in" NBSP "100."
#define REPORT_LIKELIER                                                        \
    "%s: %s" NBSP "times likelier; without it %d" NBSP "in" NBSP "100."
#define REPORT_LESS_LIKELY                                                     \
    "%s: %s" NBSP "times less likely; without it %d" NBSP "in" NBSP "100."
#define REPORT_ONE_MORE_CAUSE "1 more, below 5 in 100."
#define REPORT_MORE_CAUSES "%zu more, each below 5 in 100."
#define REPORT_STRUCK_LINE "%s: %s"

/* Orders: table and what its columns mean. */

#define REPORT_HEAD_ORDER "Order"
#define REPORT_HEAD_LEVEL "Level, 95 % range"
#define REPORT_HEAD_WORST "Worst at"
#define REPORT_HEAD_GROWTH "Growth"
#define REPORT_HEAD_PULL "Pull, dB"
#define REPORT_SEEN_LEVEL "seen %s"
#define REPORT_NOT_SEEN_BELOW "not seen, below %s"
#define REPORT_ORDER_COLUMNS                                                   \
    "Level: %s peak, all axes, %s; 95" NBSP "%% range. Growth: with speed to " \
    "this power. Pull: level pulling over level on overrun."
#define REPORT_NOT_CALIBRATED "Not calibrated: compare orders, not vehicles."

/* Turning parts. */

#define REPORT_PARTS_NO_TYRE                                                   \
    "The tyre is not known, so nothing has a frequency. Add 'tyre' under "     \
    "'vehicle'."
#define REPORT_PARTS_AT "At %s km/h (%s mph)."
#define REPORT_PARTS_AT_GEAR "At %s km/h (%s mph) in gear %u."
#define REPORT_PARTS_WHEEL "One wheel turn is %s m (%s to %s)."
#define REPORT_PARTS_HZ "%s Hz"
#define REPORT_PARTS_REV_MIN "%s rev/min"
#define REPORT_PARTS_MET_AT "at %s km/h"
#define REPORT_PARTS_AWAY "%s%s %%"
#define REPORT_PARTS_COINCIDE "These lie on each other, or nearly:"
#define REPORT_PARTS_SAME                                                      \
    "%s and %s: the same in this gear. Another gear parts them, or nothing "   \
    "does."
#define REPORT_PARTS_APART "%s and %s: %s Hz apart."
#define REPORT_PARTS_MATCHES "What could shake at %s Hz (within 5 %%):"
#define REPORT_PARTS_NO_MATCH "What could shake at %s Hz: none, within 5 %%."
#define REPORT_PARTS_MATCHES_RANGE                                             \
    "What could shake at %s Hz from %s to %s km/h (within 5 %%), and where:"
#define REPORT_PARTS_NO_MATCH_RANGE                                            \
    "What could shake at %s Hz from %s to %s km/h: none, within 5 %%."
#define REPORT_PARTS_UNKNOWN "Not known how fast:"

#endif
