/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; the other rows are sentences alone: what could not be
 * done, and what was assumed.
 */
#ifndef HALFTURN_WORKUP_TEXTS_H
#define HALFTURN_WORKUP_TEXTS_H

#include "halfturn/status.h"

/* Refusals. */

#define WORKUP_CANNOT_OPEN                                                     \
    HT_CANNOT_READ, "%s cannot be opened: %s. Is the name right?"
#define WORKUP_CANNOT_READ                                                     \
    HT_CANNOT_READ, "%s cannot be read to its end: %s. Name a file that "  \
                    "can be read."
#define WORKUP_FILE_CHANGED                                                    \
    HT_CANNOT_READ, "%s: the file changed while it was being read. Wait until "\
                    "it is written, then try again."
#define WORKUP_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for this part of the work: %s. " \
                  "Close other programs."

#define WORKUP_STOPPED HT_STOPPED, "The work was stopped."
#define WORKUP_IN_SET HT_BAD_FILE, "Set %zu under angles. %s"

/* What could not be done, and what would bring it. */

#define WORKUP_ONLY_FIRST                                                      \
    "The sheet lists %zu entries under '%s'. Only the first is used."
#define WORKUP_NO_ANGLES "No joint angles were measured."
#define WORKUP_SET_EMPTY "Set %zu under angles holds no readings."
#define WORKUP_LINE_NOT_READ                                                   \
    "No angles were measured on the driveline '%.60s'."
#define WORKUP_NO_DRIVE "No drive was recorded."
#define WORKUP_NO_SPEED_FOR_ANGLES                                             \
    "No top speed and no complaint speed: the angles' effect on the axle has " \
    "no figure. Add top_speed_km_h under vehicle."
#define WORKUP_NO_SHAFT_SPEED                                                  \
    "No axle ratio or no tyre: the shaft's speed is not known. Add axle_teeth "\
    "and tyre under vehicle."
#define WORKUP_WORD_UNKNOWN                                                    \
    "'%.60s' under checks, %s, is not a word that is known, and says nothing."
#define WORKUP_WORD_NEAR                                                       \
    "'%.60s' under checks, %s, is not a word that is known, and says nothing. "\
    "Is it '%s'?"
#define WORKUP_TOOL_NEAR                                                       \
    "'%.60s' under next, tools, is no tool that a check asks for. Is it '%s'?"

/* What was assumed. */

#define WORKUP_COMPLAINT_SPEED_USED                                            \
    "No top speed is given: the complaint's highest speed is used."
#define WORKUP_ALL_SETS_SHOWN                                                  \
    "No limits are named: every published set is shown."

#define WORKUP_FIRST_LINE_TAKEN                                                \
    "Set %zu under angles names no driveline: taken as read on '%.60s'."
#define WORKUP_NORMAL_TAKEN                                                    \
    "No set says normal_height: yes. '%.60s' is taken for the normal ride "    \
    "height."
#define WORKUP_NORMAL_SET_TAKEN                                                \
    "No set says normal_height: yes. Set %zu is taken for the normal ride "    \
    "height."
#define WORKUP_NORMAL_TWICE                                                    \
    "Sets %zu and %zu under angles both say normal_height: yes. Set %zu is "   \
    "gone by."
#define WORKUP_HEIGHT_TWICE                                                    \
    "Sets %zu and %zu under angles have the same ride height, %g mm. Is that " \
    "right?"
#define WORKUP_MEMBER_TWICE                                                    \
    "Members %zu and %zu of a driveline are both called '%.60s'. They are "    \
    "told apart by their order alone."
#define WORKUP_NO_SUCH_MATERIAL                                                \
    "No critical speed for a tube of '%.60s': it is known for steel and "      \
    "aluminium."
#define WORKUP_LINE_NOT_ENGAGED                                                \
    "The driveline '%.60s' was not engaged: the wheels turn it, unless the "   \
    "hubs are free, and no torque goes through it."
#define WORKUP_NOT_ENGAGED                                                     \
    "The driveline was not engaged: the wheels turn it, unless the hubs are "  \
    "free, and no torque goes through it."

/* Limits written in the sheet. */

#define WORKUP_OWN_LIMITS "Figures of the case sheet"
#define WORKUP_OWN_SOURCE "given in the case sheet"

#endif
