/* Readings after the repair, against what was to be expected. */
#include "centres.h"
#include "possible.h"
#include "take.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "common/statistics.h"

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
        if (after->works == HT_SHIM_PLACES_MAX)
            break;
        if (!take_fitted(&after->work[after->works++], &sheet->fitted[i],
                         centres, teeth))
            return ht_fail(err, REPAIR_FITTED_OFF, i + 1,
                           word_of(sheet->fitted[i].at));
    }
    return HT_OK;
}

struct sight { /* of one member */
    double mean_rad, variance;
};

static void see(struct sight *sight, const struct ht_chain *line, size_t member,
                double weight)
{
    double slope = line->slope_rad[member];
    sight->mean_rad += weight * slope;
    sight->variance += weight * slope * slope;
}

static void end_sight(struct sight *sight)
{
    sight->variance -= sight->mean_rad * sight->mean_rad;
    sight->variance = fmax(sight->variance, 0);
}

static void predict(struct sight *sight, const struct possible *possible,
                    const struct ht_shim_work *work, size_t works)
{
    size_t members = possible->centres->line.members;
    memset(sight, 0, members * sizeof *sight);
    for (size_t i = 0; i < POSSIBLE_DRAWS; i++) {
        struct ht_chain line;
        ht_possible_line(&line, possible, i, work, works);
        for (size_t m = 0; m < members; m++)
            see(&sight[m], &line, m, 1.0 / POSSIBLE_DRAWS);
    }
    for (size_t m = 0; m < members; m++)
        end_sight(&sight[m]);
}

/* What was read afterwards; its own draws say how well. */
static enum ht_status look_again(struct sight *sight,
                                 const struct ht_driveline *driveline,
                                 struct ht_error *err)
{
    struct ht_chain *line = ht_allocate(POSSIBLE_DRAWS, sizeof *line);
    enum ht_status status =
        line ? ht_chain_draw(line, POSSIBLE_DRAWS, driveline, err)
             : ht_fail(err, REPAIR_NO_MEMORY);
    memset(sight, 0, driveline->members * sizeof *sight);
    for (size_t i = 0; status == HT_OK && i < POSSIBLE_DRAWS; i++)
        for (size_t m = 0; m < driveline->members; m++)
            see(&sight[m], &line[i], m, 1.0 / POSSIBLE_DRAWS);
    for (size_t m = 0; m < driveline->members; m++)
        end_sight(&sight[m]);
    ht_release(line);
    return status;
}

static bool all_fit(struct ht_shim_reading *reading,
                    const struct sight *expected, const struct sight *seen,
                    size_t members)
{
    bool all = true;
    for (size_t m = 0; m < members; m++) {
        struct ht_shim_reading *r = &reading[m];
        r->predicted_rad = expected[m].mean_rad;
        r->measured_rad = seen[m].mean_rad;
        r->u_rad = sqrt(expected[m].variance + seen[m].variance);
        r->as_predicted = fabs(r->measured_rad - r->predicted_rad) <=
                          ht_normal_quantile(0.975) * r->u_rad;
        all = all && r->as_predicted;
    }
    return all;
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
        predict(expected, possible, work, after->works);
        after->reversed = i;
        after->fits_reversed =
            work[i].place != HT_SHIM_SPLINE &&
            all_fit(reading, expected, seen, after->members);
    }
}

static enum ht_status compare(struct ht_shims_after *after,
                              const struct possible *possible,
                              const struct ht_driveline *later,
                              struct ht_error *err)
{
    struct sight expected[HT_MEMBERS_MAX], seen[HT_MEMBERS_MAX];
    after->members = possible->centres->line.members;
    if (later->by_joint || later->members != after->members)
        return ht_fail(err, REPAIR_AFTER_OTHER);
    enum ht_status status = look_again(seen, later, err);
    if (status != HT_OK)
        return status;
    predict(expected, possible, after->work, after->works);
    after->all_as_predicted =
        all_fit(after->reading, expected, seen, after->members);
    if (!after->all_as_predicted)
        try_reversed(after, possible, seen);
    return HT_OK;
}

enum ht_status ht_shims_compare(struct ht_shims_after *after,
                                const struct ht_shims_input *input,
                                size_t after_index, struct ht_error *err)
{
    struct ht_driveline before, later;
    struct ht_joint_centres centres;
    struct possible possible = { 0 };
    *after = (struct ht_shims_after){ 0 };
    enum ht_status status = ht_take_line(&before, &centres, input, err);
    if (status == HT_OK)
        status = ht_driveline_from_sheet(&later, input->sheet,
                                         input->driveline_index, after_index,
                                         err);
    if (status == HT_OK)
        status = take_works(after, input, &centres, err);
    if (status == HT_OK)
        status = ht_possible_create(&possible, &centres, &before, err);
    if (status == HT_OK)
        status = compare(after, &possible, &later, err);
    ht_possible_free(&possible);
    if (status != HT_OK)
        *after = (struct ht_shims_after){ 0 };
    return status;
}
