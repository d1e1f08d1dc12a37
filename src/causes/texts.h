/* texts.h - every sentence this room says, but for titles, repairs and
 * cautions, which stand in catalogue.yaml.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail and ht_finish_problem; the rest are rows of a text
 * alone. */
#ifndef HALFTURN_CAUSES_TEXTS_H
#define HALFTURN_CAUSES_TEXTS_H

#include "halfturn/status.h"

/* Refusals: a catalogue. They stand behind file, line, column and key. */

#define CAUSES_NO_SOURCE                                                       \
    HT_BAD_FILE, "No source is called '%.40s'. Add it under 'sources', or "    \
                 "write 'practice'."
#define CAUSES_NO_SOURCE_NEAR                                                  \
    HT_BAD_FILE, "No source is called '%.40s'. Did you mean '%s'?"
#define CAUSES_NO_FINDING_NEAR                                                 \
    HT_BAD_FILE, "No finding is called '%.40s'. Did you mean '%s'?"
#define CAUSES_NO_FINDING                                                      \
    HT_BAD_FILE, "No finding is called '%.40s'. docs/findings.md lists them."
#define CAUSES_LEAK_TWICE HT_BAD_FILE, "'%.40s' has a leak already. Keep one."
#define CAUSES_LEAK_MISSING                                                    \
    HT_BAD_FILE, "The finding '%.40s' has no leak. Add it under 'leaks'."
#define CAUSES_SHARE_COUNT                                                     \
    HT_BAD_FILE, "'%.40s': shares given: %zu. Wanted: %zu, one for each "      \
                 "answer of the finding."
#define CAUSES_SHARE_SUM                                                       \
    HT_BAD_FILE, "'%.40s': the shares add up to %.3f. Wanted is 1."
#define CAUSES_SHARE_CERTAIN                                                   \
    HT_BAD_FILE, "'%.40s': the first share is %g. Nothing is certain; wanted " \
                 "is 0.001 to 0.999."
#define CAUSES_LINK_COUNT HT_BAD_FILE, "Links given: %zu. Wanted: %d at most."
#define CAUSES_LINK_TWICE                                                      \
    HT_BAD_FILE, "The cause has a link to '%.40s' already. Keep one."
#define CAUSES_LINK_BOTH                                                       \
    HT_BAD_FILE, "'%.40s': shares stand beside an answer or a strength. Give " \
                 "shares, or answer and strength."
#define CAUSES_LINK_NEITHER                                                    \
    HT_BAD_FILE, "'%.40s': wanted are shares, or a strength and one of the "   \
                 "finding's answers beyond the first."
#define CAUSES_ID_TWICE                                                        \
    HT_BAD_FILE,                                                               \
        "The cause '%.40s' stands twice. Keep one, or give it another id."
#define CAUSES_WEIGHT_COUNT                                                    \
    HT_BAD_FILE, "Weights given: %zu. Wanted: 1, or 5 for car, van, light "    \
                 "truck, heavy truck and bus."
#define CAUSES_NEED_UNKNOWN                                                    \
    HT_BAD_FILE, "The need '%.40s' is not known. Known are: %s."
#define CAUSES_COUNT HT_BAD_FILE, "Causes given: %zu. Wanted: 1 to %d."
#define CAUSES_READ_NO_MEMORY                                                  \
    HT_NO_MEMORY, "There is not enough memory to read %s."

/* What stands for its name when it is the library's own. */

#define CAUSES_BUILT_IN "the built-in catalogue"

/* Refusals: a ranking. */

#define CAUSES_NONE_LEFT                                                       \
    HT_BAD_FILE, "The catalogue holds no cause that this vehicle can have. "   \
                 "Look at its 'needs' and 'weights'."
#define CAUSES_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for the ranking."

/* Why a vehicle cannot have a cause. */

#define CAUSES_NO_SHAFT "A front drive has no propeller shaft"
#define CAUSES_NO_CARDAN "It has no Cardan joint by itself"
#define CAUSES_NO_CENTRE_SUPPORT                                               \
    "The shaft is in one piece and has no centre support"
#define CAUSES_NOT_AUTOMATIC "A manual gearbox has no converter"
#define CAUSES_NOT_MANUAL "An automatic gearbox has no clutch of this kind"
#define CAUSES_NO_ENGINE "An electric drive has no combustion engine"
#define CAUSES_NO_MOTOR "No electric motor is named"
#define CAUSES_ONE_AXLE "Only one axle is driven"
#define CAUSES_NO_HALF_SHAFT_JOINTS                                            \
    "The half-shafts of a rigid driven axle have no joints"
#define CAUSES_NO_HUB_REDUCTION "It has no hub reduction"
#define CAUSES_NO_HUB_NAMED "No hub reduction is named"

/* What raised or lowered a cause: a statement of the table of findings, and
 * the figure it rests on. */

#define CAUSES_SEEN "%.90s"
#define CAUSES_SEEN_FIGURE "%.90s (%.70s)"
#define CAUSES_SEEN_PERHAPS "%.90s, perhaps stronger than healthy"
#define CAUSES_SEEN_PERHAPS_FIGURE                                             \
    "%.90s, perhaps stronger than healthy (%.70s)"
#define CAUSES_SEEN_UNSURE "%.90s, not sure"
#define CAUSES_SEEN_UNSURE_FIGURE "%.90s, not sure (%.70s)"
#define CAUSES_ALIKE "%.80s / %.80s: nothing known parts them"
#define CAUSES_STOP "%.80s: %d in 100. %.130s"

/* The setting and why it was taken. */

#define CAUSES_COMPLAINT_SAID "complaint: as the sheet says"
#define CAUSES_FLEET_SAID "fleet: as the sheet says"
#define CAUSES_COURSE_SAID "course: as the sheet says"
#define CAUSES_COMPLAINT_TAKEN "complaint: there is a complaint"
#define CAUSES_FLEET_TAKEN "fleet: nobody complained"

/* The next check. */

#define CAUSES_TOOL "Needs: %s."
#define CAUSES_LAWFUL "Keep to a lawful speed."
#define CAUSES_NO_FASTER "No faster than %d km/h, within the law."
#define CAUSES_TWO_PEOPLE "Two people: one drives, one notes."
#define CAUSES_RISES "%.70s: \"%.50s\" rises to %d in 100"
#define CAUSES_FALLS "%.70s: \"%.50s\" falls to %d in 100"
#define CAUSES_STAYS "%.70s: \"%.50s\" stays at %d in 100"
#define CAUSES_TOOLS_SAID "At hand, as the sheet says: %s."
#define CAUSES_TOOLS_TAKEN                                                     \
    "The sheet names no tools: hands, lamp and lever are taken to be at hand."

#endif
