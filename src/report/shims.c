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

/* Of what is turned round, half of what it does is in already. */
static double halves(const struct ht_shim_work *work)
{
    return work->turned ? 2 : 1;
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
                     shown_short(1000 * fabs(work->lift_m) / halves(work))
                         .text);
}

/* Of a work: up, down; and the same of what is only turned round. */
static const char *words_of(const struct ht_shim_work *work)
{
    static const char *const words[][2][2] = {
        [HT_SHIM_AXLE] = { { REPORT_WEDGE_DOWN, REPORT_WEDGE_UP },
                           { REPORT_TURN_WEDGE_DOWN, REPORT_TURN_WEDGE_UP } },
        [HT_SHIM_SUPPORT] = { { REPORT_SUPPORT_DOWN, REPORT_SUPPORT_UP },
                              { REPORT_TURN_SUPPORT_DOWN,
                                REPORT_TURN_SUPPORT_UP } },
        [HT_SHIM_GEARBOX] = { { REPORT_GEARBOX_DOWN, REPORT_GEARBOX_UP },
                              { REPORT_TURN_GEARBOX_DOWN,
                                REPORT_TURN_GEARBOX_UP } },
        [HT_SHIM_SPLINE] = { { REPORT_SPLINE_RIGHT, REPORT_SPLINE_LEFT } },
    };
    return words[work->place][work->turned]
                [work->turn_rad > 0 || work->lift_m > 0];
}

void say_work(struct ht_text *text, const struct ht_shims *shims,
              const struct ht_shim_work *work)
{
    struct ht_text plates = { 0 }, member = { 0 };
    double turn = fabs(work->turn_rad) / halves(work);
    switch (work->place) {
    case HT_SHIM_AXLE:
        ht_text_addf(text, words_of(work), shown_degrees(turn, 1).text);
        break;
    case HT_SHIM_SUPPORT:
        say_plates(&plates, work);
        ht_text_addf(text, words_of(work),
                     shim_member(&member, shims, work->member),
                     ht_text_get(&plates));
        break;
    case HT_SHIM_GEARBOX:
        say_plates(&plates, work);
        ht_text_addf(text, words_of(work), ht_text_get(&plates));
        break;
    case HT_SHIM_SPLINE:
        ht_text_addf(text, words_of(work),
                     shim_member(&member, shims, work->member));
        break;
    case HT_SHIM_NOWHERE:
        break;
    }
    ht_text_end(text, &plates);
    ht_text_end(text, &member);
}

const char *without_plan(const struct ht_shims *shims)
{
    return shims->needs_nothing ? REPORT_NEEDS_NOTHING : REPORT_NO_PLAN;
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

static const char *after_words(const struct ht_shims_after *after)
{
    if (after->said)
        return after->all_as_predicted ? REPORT_AFTER_FITS : REPORT_AFTER_OFF;
    if (!after->compared)
        return REPORT_AFTER_JOINTS_ONLY;
    if (after->guessed)
        return REPORT_AFTER_GUESS;
    return after->all_as_predicted ? REPORT_AFTER_AS_BEFORE
                                   : REPORT_AFTER_NO_GUESS;
}

void say_after(struct ht_text *text, const struct ht_shims *shims,
               const struct ht_shims_after *after)
{
    struct ht_text work = { 0 };
    if (!after->said) {
        ht_text_add(text, REPORT_AFTER_UNSAID);
        next_sentence(text);
    }
    ht_text_add(text, after_words(after));
    for (size_t i = 0; after->guessed && i < after->works; i++) {
        next_sentence(text);
        say_work(text, shims, &after->work[i]);
    }
    if (after->fits_reversed) {
        next_sentence(text);
        say_work(&work, shims, &after->work[after->reversed]);
        ht_text_addf(text, REPORT_AFTER_REVERSED, ht_text_get(&work));
        ht_text_end(text, &work);
    }
    if (!isnan(after->kept_before) && !isnan(after->kept_after)) {
        next_sentence(text);
        ht_text_addf(text, REPORT_AFTER_LIMITS, in_100(after->kept_before),
                     in_100(after->kept_after));
    }
}
