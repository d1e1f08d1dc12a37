/* Readings after the repair, against what was to be expected. */
#include "centres.h"
#include "guess.h"
#include "sight.h"
#include "take.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

static const char *word_of(enum ht_shim_place place)
{
    return place == HT_SHIM_NOWHERE ? "?"
                                    : ht_shim_place_words[place - 1].text;
}

/* Counted from the front, as people do. */
static size_t supported_shaft(const struct ht_joint_centres *centres,
                              double support)
{
    struct supported carried = ht_centres_supported(centres);
    size_t n = isnan(support) ? 0 : (size_t)support - 1;
    return carried.first + n < carried.end ? carried.first + n : 0;
}

/* False: the figure that belongs to this place is not there, or the line has
 * no such place. */
static bool take_fitted(struct ht_shim_work *work,
                        const struct ht_sheet_fitted *fitted,
                        const struct ht_joint_centres *centres,
                        double spline_teeth)
{
    size_t n = centres->line.members;
    *work = (struct ht_shim_work){ .place = fitted->at };
    switch (work->place) {
    case HT_SHIM_AXLE:
        work->turn_rad = fitted->turn_rad;
        return !isnan(work->turn_rad);
    case HT_SHIM_SUPPORT:
        work->member = supported_shaft(centres, fitted->support);
        work->lift_m = fitted->lift_m;
        return work->member > 0 && !isnan(work->lift_m);
    case HT_SHIM_GEARBOX:
        work->lift_m = fitted->lift_m;
        return !isnan(work->lift_m) && !centres->axle_in_front;
    case HT_SHIM_SPLINE:
        work->member = centres->axle_in_front ? 1 : n - 2;
        work->turn_rad = fitted->teeth * 2 * HT_PI / spline_teeth;
        return n > 2 && !isnan(work->turn_rad);
    case HT_SHIM_NOWHERE:
        break;
    }
    return false;
}

static enum ht_status take_works(struct ht_shims_after *after,
                                 const struct ht_shims_input *input,
                                 const struct ht_joint_centres *centres,
                                 struct ht_error *err)
{
    const struct ht_sheet *sheet = input->sheet;
    double teeth = input->driveline_index < sheet->driveline_count
                       ? sheet->drivelines[input->driveline_index].spline_teeth
                       : NAN;
    after->works = 0;
    for (size_t i = 0; i < sheet->fitted_count; i++) {
        if (!ht_take_fitted(input, &sheet->fitted[i]))
            continue;
        if (after->works == HT_SHIM_PLACES_MAX)
            break;
        if (!take_fitted(&after->work[after->works++], &sheet->fitted[i],
                         centres, teeth))
            return ht_fail(err, REPAIR_FITTED_OFF, i + 1,
                           word_of(sheet->fitted[i].at));
    }
    after->said = after->works > 0;
    return HT_OK;
}

/* A wedge with its thick end at the wrong side, a plate above for below. */
static void try_reversed(struct ht_shims_after *after,
                         const struct possible *possible,
                         const struct sight *seen)
{
    for (size_t i = 0; i < after->works && !after->fits_reversed; i++) {
        struct ht_shim_work work[HT_SHIM_PLACES_MAX];
        struct ht_shim_reading reading[HT_MEMBERS_MAX];
        struct sight expected[HT_MEMBERS_MAX];
        memcpy(work, after->work, sizeof work);
        work[i].turn_rad *= -1;
        work[i].lift_m *= -1;
        ht_sight_predict(expected, possible, work, after->works);
        after->reversed = i;
        after->fits_reversed =
            work[i].place != HT_SHIM_SPLINE &&
            ht_sight_fits(reading, expected, seen, after->members);
    }
}

/* The lines and the readings of one comparison. */
struct pair {
    const struct ht_shims_input *input;
    struct ht_driveline before, later;
    struct ht_joint_centres centres;
    struct possible possible;
};

static enum ht_status compare(struct ht_shims_after *after,
                              const struct pair *pair, struct ht_error *err)
{
    struct sight expected[HT_MEMBERS_MAX], seen[HT_MEMBERS_MAX];
    const struct possible *possible = &pair->possible;
    after->compared = true;
    enum ht_status status = ht_sight_read(seen, &pair->later, err);
    if (status != HT_OK)
        return status;
    ht_sight_predict(expected, possible, after->work, after->works);
    after->all_as_predicted =
        ht_sight_fits(after->reading, expected, seen, after->members);
    if (after->all_as_predicted)
        return HT_OK;
    if (!after->said)
        return ht_guess(after, pair->input, possible, expected, seen, err);
    try_reversed(after, possible, seen);
    return HT_OK;
}

/* ---- limits before and after --------------------------------------------- */

static enum ht_status share_kept(double *share, const struct ht_rules *rules,
                                 const struct ht_driveline *driveline,
                                 struct ht_error *err)
{
    bool stood = driveline->suspension == HT_SUSPENSION_WHEELS_ON_GROUND ||
                 driveline->suspension == HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT;
    *share = NAN;
    if (!stood || rules->rules == 0)
        return HT_OK;
    struct ht_chain *line = ht_allocate(POSSIBLE_DRAWS, sizeof *line);
    enum ht_status status =
        line ? ht_chain_draw(line, POSSIBLE_DRAWS, driveline, err)
             : ht_fail(err, REPAIR_NO_MEMORY);
    if (status == HT_OK)
        *share = ht_possible_share(line, rules);
    ht_release(line);
    return status;
}

static enum ht_status hold_to_limits(struct ht_shims_after *after,
                                     const struct pair *pair,
                                     struct ht_error *err)
{
    struct ht_rules rules;
    struct ht_angles_options options = ht_take_limits(pair->input);
    enum ht_status status = ht_rules_list(&rules, &pair->before, &options, err);
    if (status == HT_OK)
        status = share_kept(&after->kept_before, &rules, &pair->before, err);
    if (status == HT_OK)
        status = share_kept(&after->kept_after, &rules, &pair->later, err);
    return status;
}

static enum ht_status compare_pair(struct ht_shims_after *after,
                                   struct pair *pair, struct ht_error *err)
{
    enum ht_status status = take_works(after, pair->input, &pair->centres, err);
    after->members = pair->centres.line.members;
    if (status == HT_OK)
        status = hold_to_limits(after, pair, err);
    if (status != HT_OK)
        return status;
    if (pair->before.by_joint || pair->later.by_joint ||
        pair->later.members != after->members)
        return after->said ? ht_fail(err, REPAIR_AFTER_OTHER) : HT_OK;
    status = ht_possible_create(&pair->possible, &pair->centres, &pair->before,
                                err);
    if (status == HT_OK)
        status = compare(after, pair, err);
    ht_possible_free(&pair->possible);
    return status;
}

enum ht_status ht_shims_compare(struct ht_shims_after *after,
                                const struct ht_shims_input *input,
                                size_t after_index, struct ht_error *err)
{
    struct pair pair = { .input = input };
    *after = (struct ht_shims_after){ 0 };
    enum ht_status status =
        ht_take_line(&pair.before, &pair.centres, input, err);
    if (status == HT_OK)
        status = ht_driveline_from_sheet(&pair.later, input->sheet,
                                         input->driveline_index, after_index,
                                         err);
    if (status == HT_OK)
        status = compare_pair(after, &pair, err);
    if (status != HT_OK)
        *after = (struct ht_shims_after){ 0 };
    return status;
}
