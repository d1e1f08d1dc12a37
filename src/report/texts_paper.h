/* texts_paper.h - the words of the measuring sheet.
 *
 * What each caution and rule rests on: docs/measuring.md.
 */
#ifndef HALFTURN_REPORT_TEXTS_PAPER_H
#define HALFTURN_REPORT_TEXTS_PAPER_H

#include "halfturn/status.h"

#include "markup.h"

/* Refusals. */

#define PAPER_NO_FONT                                                          \
    HT_CANNOT_READ, "No font is installed, so nothing can be written on a "    \
                    "drawing. Install one, for instance the package "          \
                    "fonts-dejavu-core."
#define PAPER_NO_MEMORY                                                        \
    HT_NO_MEMORY, "There is not enough memory for the drawing."
#define PAPER_NOT_DRAWN                                                        \
    HT_BUG, "The drawing could not be made: %s. This is a mistake "            \
            "in this program. Tell its makers."

/* Head and foot of a page. */

#define PAPER_SHEET "Measuring sheet"
#define PAPER_LINE_OF "driveline %zu of %zu: %s"
#define PAPER_LINE_NUMBER "driveline %zu of %zu"
#define PAPER_UNIT_MARK "unit %s"
#define PAPER_CONTINUED "continued"
#define PAPER_GENERAL                                                          \
    "three joints; cross out what is not there"
#define PAPER_DATE "date"
#define PAPER_BY "measured by"
#define PAPER_UNIT "vehicle"
#define PAPER_LOAD "load"
#define PAPER_ODOMETER "odometer"
#define PAPER_FOOT_CASE                                                        \
    "Write the readings into %s under 'angles', then type: halfturn angles %s"
#define PAPER_FOOT                                                             \
    "Readings go into a case sheet under 'angles': halfturn new --help"
#define PAPER_NOT_SAFE                                                         \
    "This looks for vibration causes. It does not show that the vehicle is "   \
    "safe to drive."
#define PAPER_PAGE_OF "Halfturn %s, page %zu of %zu"

/* Cautions. */

#define PAPER_CAUTION "Caution"
#define PAPER_CAUTION_UNDER                                                    \
    "Never under a vehicle on a jack alone, never with the engine running, "   \
    "never alone. Key out, wheels chocked."
#define PAPER_CAUTION_WEIGHT                                                   \
    "Wheels on a level drive-on rack; or the axle at ride height on rated "    \
    "stands, the other wheels chocked. Never read with it hanging. Air "       \
    "springs can drop: prop them."
#define PAPER_CAUTION_ROLL                                                     \
    "To roll: stops on the rack, nobody under the vehicle, a second person "   \
    "on the brake. Brake on and chocks in before anyone goes under again."
#define PAPER_CAUTION_STANDS                                                   \
    "On stands: key out, gearbox in neutral, turn the shaft by hand. Sleeves " \
    "and hair clear of it."
#define PAPER_CAUTION_PARK                                                     \
    "Park, a gear, and a parking brake on gearbox or shaft hold the vehicle "  \
    "through this shaft. Out of Park, or with a strap or flange bolt off, "    \
    "only the chocks hold it."
#define PAPER_CAUTION_CLIPS                                                    \
    "Clips fly off: eye protection. One clip at a time, back and seated all "  \
    "round before the shaft turns. No strap off for a reading."
#define PAPER_CAUTION_MAKER                                                    \
    "The vehicle maker's figures and local codes come first. When in doubt, "  \
    "ask a qualified person."

/* How the vehicle stands. */

#define PAPER_STANDS "How the vehicle stands"
#define PAPER_ON_WHEELS "wheels on the ground"
#define PAPER_ON_STANDS "axle on stands at ride height"
#define PAPER_HANGING "hanging: no verdict"
#define PAPER_TYRES_RIGHT "tyres at pressure"
#define PAPER_MOUNTS_SOUND "mounts and springs sound"
#define PAPER_RIDE_FRONT "ride height front"
#define PAPER_RIDE_REAR "rear"
#define PAPER_MM "mm"
#define PAPER_RIDE_MAKER "mm (maker" NBSP "%s)"
#define PAPER_GAUGE "gauge" NBSP PLUS_MINUS
#define PAPER_STEP "step"
#define PAPER_READ_ON "read on"
#define PAPER_ON_CAP "cap"
#define PAPER_ON_FLANGE "machined flange"
#define PAPER_ON_YOKE "yoke"
#define PAPER_SET_UP "yoke set by"
#define PAPER_SET_CROSSWISE "gauge crosswise"
#define PAPER_SET_BY_EYE "eye"

/* The drawing. */

#define PAPER_VIEW "Where the caps are"
#define PAPER_FRONT "front"
#define PAPER_JOINT "joint %zu"
#define PAPER_MEMBER "member %zu"
#define PAPER_MARKS                                                            \
    "Filled letter: cap faces down first. Open letter: after the quarter turn."
#define PAPER_MARKS_OWN                                                        \
    "Filled letter: cap faces down first. Open: after the quarter turn. "      \
    "Square: as its heading says."

#define PAPER_VIEW_SAYS                                                        \
    "The line from the side, front at the left, a letter at each cap: %s."

/* How to read. */

#define PAPER_HOW "How to read"
#define PAPER_HOW_SET                                                          \
    "1. Clip out, face clean. Lay the gauge crosswise on the cap. Turn the "   \
    "shaft until it shows 0 within 1" DEGREE "; write it down."
#define PAPER_HOW_READ                                                         \
    "2. Lay it along the shaft, always from the same side, its arrow to the "  \
    "front. Lift it off between readings 1, 2 and 3. Then once more turned "   \
    "end for end, as it shows."
#define PAPER_HOW_SIGN                                                         \
    "3. Circle which end is lower. A strap is not a face to read on: take "    \
    "the machined ring of that flange, and write so."
#define PAPER_REAR_LOWER "rear end lower: +"
#define PAPER_REAR_HIGHER "rear end higher: " MINUS
#define PAPER_SIGN_SAYS                                                        \
    "Two shafts, front at the left: the rear end lower is plus, the rear end " \
    "higher is minus."
#define PAPER_PLUS "+"
#define PAPER_MINUS MINUS

/* The table of caps. */

#define PAPER_TURN_FIRST                                                       \
    "Shaft as it stands, cap %s turned down: read these caps"
#define PAPER_TURN_ROLL                                                        \
    "Roll by %s" NBSP "mm, a quarter shaft turn: read these"
#define PAPER_TURN_ROLL_INCHES                                                 \
    "Roll by %s" NBSP "mm (%s" NBSP "in), a quarter shaft turn: read these"
#define PAPER_TURN_QUARTER "Roll a quarter shaft turn: read these"
#define PAPER_TURN_OWN                                                         \
    "Turn until each of these caps faces down, one after another"
#define PAPER_TURN_NONE                                                        \
    "No cap here: read these on a machined face, the shaft in any position"
#define PAPER_ROLL_UNKNOWN                                                     \
    "Tyre or axle ratio is not known: mark the shaft with chalk."
#define PAPER_ROLL_STANDS "On stands: by hand."
#define PAPER_NOT_DOWN                                                         \
    "A cap not facing down then: yokes are clocked. Turn on to it, note the "  \
    "clocking."
#define PAPER_COLUMN_CAP "cap"
#define PAPER_COLUMN_MEMBER "member"
#define PAPER_COLUMN_HELD "retained by"
#define PAPER_COLUMN_OUT "clip out"
#define PAPER_COLUMN_ZERO "crosswise zero"
#define PAPER_COLUMN_SIGN "circle: rear end"
#define PAPER_COLUMN_READING "reading %d"
#define PAPER_COLUMN_TURNED "turned round"
#define PAPER_COLUMN_BACK "clip back, seated"
#define PAPER_HELD_CLIP "clip"
#define PAPER_HELD_STRAP "strap"
#define PAPER_HELD_PLATE "plate"
#define PAPER_CAP_REAR "rear cap, joint %zu"
#define PAPER_CAP_FRONT "front cap, joint %zu"
#define PAPER_CAP_NONE "machined face"

/* Headings, joints, run-out, the end. */

#define PAPER_HEADINGS "Headings: run to the left, mm in 1 m rearward"
#define PAPER_HEADINGS_HOW                                                     \
    MINUS " to the right. 10" NBSP "mm in 1" NBSP "m is 0.57" DEGREE "."
#define PAPER_MM_PER_M "mm/m"
#define PAPER_JOINTS "Joints and yokes, front to rear"
#define PAPER_JOINTS_ASK                                                       \
    "Clocked: the rear yoke against the front one, counter-clockwise from "   \
    "behind."
#define PAPER_KIND_CARDAN "Cardan"
#define PAPER_KIND_DOUBLE "double Cardan"
#define PAPER_KIND_CONSTANT "constant velocity"
#define PAPER_KIND_RUBBER "rubber disc"
#define PAPER_YOKES "yokes of %s"
#define PAPER_IN_LINE "in line"
#define PAPER_CLOCKED "clocked %s"
#define PAPER_CLOCKED_FIELD "clocked"
#define PAPER_RUNOUT "Run-out, total indicator reading, mm"
#define PAPER_RUNOUT_FRONT "shaft, front"
#define PAPER_RUNOUT_MIDDLE "shaft, middle"
#define PAPER_RUNOUT_REAR "shaft, rear"
#define PAPER_RUNOUT_FLANGE "pinion flange"
#define PAPER_RUNOUT_TYRE "tyre, radial"
#define PAPER_RUNOUT_TYRE_SIDE "tyre, lateral"
#define PAPER_RUNOUT_WHEEL "wheel, radial"
#define PAPER_RUNOUT_WHEEL_SIDE "wheel, lateral"
#define PAPER_NOTES "Notes"
#define PAPER_AFTER "Before any drive"
#define PAPER_AFTER_CLIPS "every clip seated all round"
#define PAPER_AFTER_BOLTS "straps and flange bolts at torque"
#define PAPER_AFTER_NUTS "wheel nuts"
#define PAPER_AFTER_PLAY "no play or roughness at any joint"
#define PAPER_AFTER_TOOLS "no tool left under the vehicle"

#endif
