/* texts_shims.h - words about shims. As texts.h. */
#ifndef HALFTURN_REPORT_TEXTS_SHIMS_H
#define HALFTURN_REPORT_TEXTS_SHIMS_H

#include "markup.h"

#define REPORT_SHIMS "Shims"
#define REPORT_SHIMS_OF "Shims for the driveline %s."
#define REPORT_FIRST "No shims yet. Put this right first"
#define REPORT_SHIMS_TAKEN "Taken as given, and left out"
#define REPORT_MEMBER "member %zu"
#define REPORT_TRIED "Combinations of the shelf that were tried: %zu."
#define REPORT_AS_IT_STANDS "As it stands: "
#define REPORT_ALL_KEPT "%d in 100 that every limit is kept."
#define REPORT_WEAKEST "Least sure: %s, kept with %d in 100."
#define REPORT_NO_PLAN                                                         \
    "Nothing on the shelf makes this better. Other sizes, or another repair."
#define REPORT_NEEDS_NOTHING "Nothing needs doing here."
#define REPORT_NOT_ENOUGH                                                      \
    "None of these is sure enough. Measure closer (angles says how), or get "  \
    "other sizes."
#define REPORT_PLAN "Plan %zu, about %s" NBSP "minutes of work."
#define REPORT_PLAN_ADVISED "Try this one: the least work that is sure enough."
#define REPORT_PLAN_LIKELIEST "The likeliest of these."
#define REPORT_WEDGE_UP                                                        \
    "Axle: wedges of %s that turn the pinion's front end up. Springs above "   \
    "the axle: thick end to the rear. Springs below it: thick end to the "     \
    "front."
#define REPORT_WEDGE_DOWN                                                      \
    "Axle: wedges of %s that turn the pinion's front end down. Springs above " \
    "the axle: thick end to the front. Springs below it: thick end to the "    \
    "rear."
#define REPORT_ONE_PLATE "%s" NBSP "mm"
#define REPORT_TWO_PLATES "%s + %s" NBSP "mm"
#define REPORT_SUPPORT_UP "Centre support of the %s: raise by %s."
#define REPORT_SUPPORT_DOWN "Centre support of the %s: lower by %s."
#define REPORT_GEARBOX_UP "Gearbox mount: raise by %s."
#define REPORT_GEARBOX_DOWN "Gearbox mount: lower by %s."
#define REPORT_SPLINE_LEFT                                                     \
    "Slip spline of the %s: put it together one tooth on, the rear part "      \
    "counter-clockwise as seen from behind."
#define REPORT_SPLINE_RIGHT                                                    \
    "Slip spline of the %s: put it together one tooth on, the rear part "      \
    "clockwise as seen from behind."
#define REPORT_HEAD_MEMBER "Member"
#define REPORT_HEAD_NOW "Now"
#define REPORT_HEAD_EXPECT "To expect"
#define REPORT_HEAD_JOINT_NUMBER "Joint"
#define REPORT_HEAD_BENDS "Will bend"
#define REPORT_HEAD_READ "Read"
#define REPORT_HEAD_OFF "Off, degrees"
#define REPORT_LEFT_AFTER "Left over then: %s."
#define REPORT_AFTER_FITS "After the repair: the readings are as predicted."
#define REPORT_AFTER_OFF "After the repair: the readings are not as predicted."
#define REPORT_AFTER_REVERSED                                                  \
    "They fit if this was put in the other way round: %s"
#define REPORT_AFTER_UNSAID                                                    \
    "After the repair: the sheet does not say what was put in (fitted)."
#define REPORT_AFTER_AS_BEFORE                                                 \
    "The readings are as before it: nothing shows that anything was moved."
#define REPORT_AFTER_GUESS                                                     \
    "A guess: of what is on the shelf, this fits the readings best."
#define REPORT_AFTER_NO_GUESS                                                  \
    "The readings are not as before it, and nothing on the shelf fits them."
#define REPORT_AFTER_JOINTS_ONLY                                               \
    "Angles between caps do not say how each member lies, so the readings "    \
    "themselves are not compared."
#define REPORT_AFTER_LIMITS                                                    \
    "That every limit is kept: %d in 100 before, %d in 100 after."
#define REPORT_TURN_WEDGE_UP                                                   \
    "Axle: the wedges of %s are in the other way round. Turn them, so that "   \
    "they turn the pinion's front end up. Springs above the axle: thick end "  \
    "to the rear. Springs below it: thick end to the front."
#define REPORT_TURN_WEDGE_DOWN                                                 \
    "Axle: the wedges of %s are in the other way round. Turn them, so that "   \
    "they turn the pinion's front end down. Springs above the axle: thick "    \
    "end to the front. Springs below it: thick end to the rear."
#define REPORT_TURN_SUPPORT_UP                                                 \
    "Centre support of the %s: it was lowered by %s. Raise it by as much "     \
    "instead."
#define REPORT_TURN_SUPPORT_DOWN                                               \
    "Centre support of the %s: it was raised by %s. Lower it by as much "      \
    "instead."
#define REPORT_TURN_GEARBOX_UP                                                 \
    "Gearbox mount: it was lowered by %s. Raise it by as much instead."
#define REPORT_TURN_GEARBOX_DOWN                                               \
    "Gearbox mount: it was raised by %s. Lower it by as much instead."
#define REPORT_AS_PREDICTED "as predicted"
#define REPORT_NOT_PREDICTED "not as predicted"

/* Common practice, no source. */

#define REPORT_CAUTION_WEDGE                                                   \
    "A wedge wants new U-bolts. Afterwards check brake hoses, sensor leads, "  \
    "height sensors, and the aim of lamps and driver assistance."
#define REPORT_CAUTION_PLATE                                                   \
    "Shims of metal, held so that they cannot walk out; bolts long enough, "   \
    "at the maker's torque. Read the angles again afterwards."

#endif
