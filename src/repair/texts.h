/* texts.h - every sentence this room says: refusals are rows of a status and a
 * sentence, the rest rows of a text alone. */
#ifndef HALFTURN_REPAIR_TEXTS_H
#define HALFTURN_REPAIR_TEXTS_H

#include "halfturn/status.h"

/* Refusals. */

#define REPAIR_NO_MEMORY                                                       \
    HT_NO_MEMORY, "There is not enough memory for the shims."
#define REPAIR_STOPPED HT_STOPPED, "The search for shims was stopped."
#define REPAIR_TOO_MANY                                                        \
    HT_TOO_BIG,                                                                \
        "The shelf makes %zu combinations. At most %zu are tried: leave out "  \
        "sizes under shims that you would not use."
#define REPAIR_FITTED_OFF                                                      \
    HT_BAD_FILE,                                                               \
        "Entry %zu of fitted (at: %s) does not fit this driveline. Give "      \
        "turn_deg for a wedge at the axle, lift_mm for plates under a centre " \
        "support or gearbox mount that is there, teeth with spline_teeth."
#define REPAIR_AFTER_OTHER                                                     \
    HT_BAD_FILE,                                                               \
        "The readings after the repair do not hold one slope for each member " \
        "that was read before it. Read the same members again."

/* What has to be put right first. */

#define REPAIR_FIRST_SUSPENSION                                                \
    "The readings must be taken with the axle carrying the vehicle's weight. " \
    "Say so with suspension."
#define REPAIR_FIRST_HANGING                                                   \
    "The suspension hung when these angles were read. Read them again at "     \
    "ride height."
#define REPAIR_FIRST_HEIGHT_UNKNOWN                                            \
    "Measure the ride height and give it beside the maker's figure "           \
    "(checks, ride_height_mm)."
#define REPAIR_FIRST_HEIGHT_HALF                                               \
    "Give the ride height at this driveline's axle as measured and as the "    \
    "maker says, both (driveline, ride_height_mm)."
#define REPAIR_FIRST_HEIGHT_OFF                                                \
    "The ride height is %s\302\240mm off the maker's figure, more than "       \
    "%s\302\240mm. Put it right, then read the angles again."
#define REPAIR_FIRST_LOOK                                                      \
    "Look at springs, bushes and mounts. Enter what is sound under checks, "   \
    "sound. Missing: %s."
#define REPAIR_FIRST_WORN                                                      \
    "Found on the vehicle: %s. Put it right, then read the angles again."
#define REPAIR_FIRST_DIFFERENCES                                               \
    "Angles between caps do not say how each member lies. Read every member "  \
    "on its own for a plan."
#define REPAIR_FIRST_LIMITS                                                    \
    "Say which limits the joints are to keep: the vehicle maker's figures, "   \
    "or a named set, under limits."
#define REPAIR_FIRST_SHELF                                                     \
    "Nothing is on the shelf. List wedges and plates with their sizes under "  \
    "shims."
#define REPAIR_FIRST_NO_PLACE                                                  \
    "Nothing on the shelf goes into this driveline."

/* Names of what is looked at. */

#define REPAIR_SPRINGS "springs"
#define REPAIR_BUSHES "bushes"
#define REPAIR_MOUNTS "mounts"

/* Names of what was found. */

#define REPAIR_SEEN_SPRING "a sagging or broken spring"
#define REPAIR_SEEN_MOUNT "a collapsed mount"
#define REPAIR_SEEN_BUSH "a worn bush"
#define REPAIR_SEEN_RUBBER "a torn centre support"
#define REPAIR_SEEN_BEARING "a rough centre bearing"
#define REPAIR_SEEN_JOINT "a loose joint"
#define REPAIR_SEEN_SPLINE "a worn slip spline"
#define REPAIR_SEEN_FLANGE "loose flange bolts"

/* What was left out, and what was taken. */

#define REPAIR_STEERED                                                         \
    "No wedge under a steered axle: it turns the steering's caster one for "   \
    "one."
#define REPAIR_STEERED_UNKNOWN                                                 \
    "No wedge is planned until the sheet says that the axle is not steered "   \
    "(axle, steered: no)."
#define REPAIR_LINE_STEERED_UNKNOWN                                            \
    "No wedge is planned until the sheet says that this driveline's axle is "  \
    "not steered (driveline, axle, steered: no)."
#define REPAIR_FRONT_AXLE                                                      \
    "No wedge at a front axle until the sheet says that this very axle is "    \
    "not steered (driveline, axle, steered: no): a wedge turns a steered "     \
    "axle's caster one for one."
#define REPAIR_NO_RIGID_AXLE                                                   \
    "No wedge: this final drive is held by the body, not by springs on an "    \
    "axle."
#define REPAIR_NO_SUPPORT                                                      \
    "Plates for a centre support are left out: this shaft has none."
#define REPAIR_GEARBOX_FORWARD                                                 \
    "Plates under the gearbox are planned for shafts that run rearward only."
#define REPAIR_NO_STACKS                                                       \
    "So many sizes: one plate at a place, none stacked."
#define REPAIR_LENGTHS_TAKEN                                                   \
    "Not measured, and taken for anything from %s to %s\302\240mm: %s."
#define REPAIR_SIDE_VIEW                                                       \
    "Headings were not given. The plan holds if gearbox and axle run "         \
    "straight ahead."
#define REPAIR_SPLINE_WHERE                                                    \
    "The slip spline is taken to lie in the shaft at the axle."
#define REPAIR_NO_SPEED                                                        \
    "The shaft's speed is not known: shakes are not held to a limit."

#define REPAIR_TURNING_NO_HELP                                                 \
    "Turning round what is in the other way round does not make it likelier "  \
    "that every limit is kept."
#define REPAIR_ON_TOP                                                          \
    "These readings have in them what was put in (fitted). What is planned "   \
    "here comes on top of that."
#define REPAIR_FITTED_NOT_READ                                                 \
    "The sheet says what was put in (fitted), but holds no readings after "    \
    "it. Read every member again, as a set of its own with when: after."

/* Rows of the shelf that go nowhere. */

#define REPAIR_ROW_NOWHERE                                                     \
    "Left out: entry %zu of shims does not say where it goes. Give at: axle, " \
    "centre_support or gearbox_mount."
#define REPAIR_ROW_NO_KIND                                                     \
    "Left out: entry %zu of shims does not say what it is. Give kind: wedge, " \
    "or kind: plate."
#define REPAIR_ROW_WEDGE                                                       \
    "Left out: entry %zu of shims. Wedges go under the axle; at a centre "     \
    "support or gearbox mount plates are planned (kind: plate, steps_mm)."
#define REPAIR_ROW_PLATE                                                       \
    "Left out: entry %zu of shims. A plate under the axle tilts nothing; "     \
    "there wedges are planned (kind: wedge, steps_deg)."
#define REPAIR_ROW_NO_DEGREES                                                  \
    "Left out: entry %zu of shims has no sizes. Give the wedges on the shelf " \
    "as steps_deg: [1, 2]."
#define REPAIR_ROW_NO_MM                                                       \
    "Left out: entry %zu of shims has no sizes. Give the plates on the shelf " \
    "as steps_mm: [3, 5]."
#define REPAIR_ROW_WEDGE_MM                                                    \
    "Entry %zu of shims is a wedge: its steps_mm are not used."
#define REPAIR_ROW_PLATE_DEGREES                                               \
    "Entry %zu of shims is a plate: its steps_deg are not used."

/* Lengths by name. */

#define REPAIR_LENGTH_SHAFT "shaft %zu, joint to joint"
#define REPAIR_LENGTH_AXLE "pinion joint to wheel axis"
#define REPAIR_LENGTH_SPACING "gearbox mount to engine mounts"
#define REPAIR_LENGTH_MOUNT "gearbox mount to first joint"
#define REPAIR_LENGTH_SUPPORT "centre support to the joint next to it"

#endif
