/* texts.h - what this room says beside its table of findings (table.c).
 *
 * The room refuses nothing. Safety sentences stand above every ranking; the
 * other rows are figures that follow a statement of the table in brackets.
 */
#ifndef HALFTURN_FINDINGS_TEXTS_H
#define HALFTURN_FINDINGS_TEXTS_H

/* Safety: the walk-round, the clips, and what was seen on the vehicle. */

#define FINDINGS_WALK_FAILED                                                   \
    "The walk-round failed. Do not drive: repair first."
#define FINDINGS_WALK_UNKNOWN                                                  \
    "The walk-round is not confirmed: wheel nuts, tyres, joint play, centre "  \
    "bearing, slip spline, brakes, steering. Do it before any drive."
#define FINDINGS_CLIPS_OFF                                                     \
    "Retaining clips are not refitted. Do not drive: seat every clip all "     \
    "round, replace weak or rusted ones."
#define FINDINGS_CLIPS_UNKNOWN                                                 \
    "Nobody has confirmed that the retaining clips are back and seated all "   \
    "round. Check before any drive."
#define FINDINGS_LOOSE_WHEEL_NUTS                                              \
    "Wheel nuts are loose. Do not drive: tighten to the maker's torque, look " \
    "for damaged studs and seats."
#define FINDINGS_LOOSE_JOINT                                                   \
    "A joint has play, roughness or rust dust. Do not drive: a joint that "    \
    "lets go drops the shaft. Repair first."
#define FINDINGS_LOOSE_FLANGE                                                  \
    "Flange bolts are loose. Do not drive: renew single-use bolts, tighten "   \
    "to the maker's torque."
#define FINDINGS_WHEEL_BEARING                                                 \
    "A wheel bearing has play or growls. Do not drive: repair first."
#define FINDINGS_WORN_SPLINE                                                   \
    "The slip spline has play. Do not drive: have it judged against the "      \
    "maker's limit first."

/* Where an observation comes from. */

#define FINDINGS_SAID "said by the driver"
#define FINDINGS_LOOKED_SEEN "seen"
#define FINDINGS_LOOKED_SOUND "found sound"
#define FINDINGS_SUPPOSED "supposed"
#define FINDINGS_IN_ONE_LINE "in one line with another"

/* Figures: level, unit, speed; before them what shares the line. */

#define FINDINGS_UNIT_M_S2 "m/s²"
#define FINDINGS_UNIT_SOUND "of full scale"
#define FINDINGS_LEVEL "%s %s at %s km/h"
#define FINDINGS_LEVEL_SHARED "or %.40s; %s %s at %s km/h"
#define FINDINGS_BY_HAND "%s Hz by hand at %s km/h"
#define FINDINGS_GROWTH "power %s of speed"
#define FINDINGS_PULL "%s dB"
#define FINDINGS_ANGLE_LIMIT "%.60s: %s°, limit %s°"
#define FINDINGS_SHAKE_LIMIT "%s rad/s², limit %s rad/s²"
#define FINDINGS_LEFTOVER "leftover angle %s°"
#define FINDINGS_YOKES "%s°"
#define FINDINGS_ON_DRIVELINE "%.100s, on %.40s"
#define FINDINGS_RUNOUT "%s mm, published limits near %s mm"
#define FINDINGS_RIDE_HEIGHT "%s mm off"

#endif
