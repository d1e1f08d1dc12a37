#include "shims.h"

#include "shown.h"
#include "texts.h"
#include "texts_shims.h"
#include "words.h"

#include <math.h>

const char *shim_member(struct ht_text *room, const struct ht_shims *shims,
                        size_t member)
{
    if (shims->member[member][0])
        return cleaned(room, shims->member[member]);
    room->length = 0;
    ht_text_addf(room, REPORT_MEMBER, member + 1);
    return ht_text_get(room);
}

/* "6 mm", or "3 + 6 mm" of two plates. */
static void say_plates(struct ht_text *text, const struct ht_shim_work *work)
{
    if (work->plate_m[1] > 0)
        ht_text_addf(text, REPORT_TWO_PLATES,
                     shown_short(1000 * work->plate_m[0]).text,
                     shown_short(1000 * work->plate_m[1]).text);
    else
        ht_text_addf(text, REPORT_ONE_PLATE,
                     shown_short(1000 * fabs(work->lift_m)).text);
}

void say_work(struct ht_text *text, const struct ht_shims *shims,
              const struct ht_shim_work *work)
{
    struct ht_text plates = { 0 }, member = { 0 };
    switch (work->place) {
    case HT_SHIM_AXLE:
        ht_text_addf(text,
                     work->turn_rad > 0 ? REPORT_WEDGE_UP : REPORT_WEDGE_DOWN,
                     shown_degrees(fabs(work->turn_rad), 1).text);
        break;
    case HT_SHIM_SUPPORT:
        say_plates(&plates, work);
        ht_text_addf(text,
                     work->lift_m > 0 ? REPORT_SUPPORT_UP : REPORT_SUPPORT_DOWN,
                     shim_member(&member, shims, work->member),
                     ht_text_get(&plates));
        break;
    case HT_SHIM_GEARBOX:
        say_plates(&plates, work);
        ht_text_addf(text,
                     work->lift_m > 0 ? REPORT_GEARBOX_UP : REPORT_GEARBOX_DOWN,
                     ht_text_get(&plates));
        break;
    case HT_SHIM_SPLINE:
        ht_text_addf(text,
                     work->turn_rad > 0 ? REPORT_SPLINE_LEFT
                                        : REPORT_SPLINE_RIGHT,
                     shim_member(&member, shims, work->member));
        break;
    case HT_SHIM_NOWHERE:
        break;
    }
    ht_text_end(text, &plates);
    ht_text_end(text, &member);
}

/* As sure as a verdict has to be. */
const char *without_plan(const struct ht_shims *shims)
{
    return shims->as_it_stands.probability >= 0.95 ? REPORT_NEEDS_NOTHING
                                                   : REPORT_NO_PLAN;
}

void say_chance(struct ht_text *text, const struct ht_shim_plan *plan)
{
    struct ht_text what = { 0 };
    ht_text_addf(text, REPORT_ALL_KEPT, in_100(plan->probability));
    if (plan->weakest[0]) {
        next_sentence(text);
        ht_text_addf(text, REPORT_WEAKEST, cleaned(&what, plan->weakest),
                     in_100(plan->weakest_probability));
    }
    ht_text_end(text, &what);
}
