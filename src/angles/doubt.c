/* Thresholds: common practice, no source, but where a comment says. */
#include "doubt.h"

#include "check.h"
#include "note.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

struct doubting {
    struct ht_angles *result;
    const struct ht_driveline *driveline;
    const struct ht_model *model;
    struct ht_gauge gauge;
};

/* Beyond this many standard uncertainties chance is no explanation: one in
 * 15 000 for a normal law. */
static const double far_off = 4;

static void doubt(const struct doubting *doubting, size_t member,
                  const char *sentence, double first_rad, double second_rad)
{
    struct ht_angles *result = doubting->result;
    char room[32];
    if (result->doubts == sizeof result->doubt / sizeof result->doubt[0])
        return;
    ht_sentence_about(
        result->doubt[result->doubts++], sizeof result->doubt[0], sentence,
        ht_member_name(doubting->driveline, member, room, sizeof room),
        (double[]){ first_rad, second_rad }, 1);
}

/* Of what two placings of this member may differ by, one part. */
static double look_u(const struct doubting *doubting, size_t i)
{
    return ht_look_u_rad(&doubting->driveline->slope[i],
                         doubting->model->read.value_rad[i], doubting->gauge,
                         doubting->driveline->read_on);
}

/* ---- repeats ----------------------------------------------------------- */

static double mean_without(const struct ht_numbers *numbers, size_t left_out)
{
    double sum = 0;
    for (size_t i = 0; i < numbers->count; i++)
        sum += i == left_out ? 0 : numbers->value[i];
    return sum / (double)(numbers->count - 1);
}

static double range_without(const struct ht_numbers *numbers, size_t left_out)
{
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < numbers->count; i++)
        if (i != left_out) {
            low = fmin(low, numbers->value[i]);
            high = fmax(high, numbers->value[i]);
        }
    return high - low;
}

/* The reading without which the others lie closest together. */
static size_t outlier_of(const struct ht_numbers *numbers)
{
    size_t best = 0;
    for (size_t i = 1; i < numbers->count; i++)
        if (range_without(numbers, i) < range_without(numbers, best))
            best = i;
    return best;
}

static void doubt_repeats(const struct doubting *doubting, size_t i)
{
    const struct ht_sheet_slope *slope = &doubting->driveline->slope[i];
    const struct ht_numbers *numbers = &slope->readings_rad;
    double allowed = far_off * sqrt(2) * look_u(doubting, i);
    if (ht_slope_turned(slope) || numbers->count < 2)
        return;
    double range = range_without(numbers, numbers->count);
    if (range <= allowed)
        return;
    size_t off = outlier_of(numbers);
    if (numbers->count > 2 && range_without(numbers, off) <= allowed / 2)
        doubt(doubting, i, ANGLES_REPEAT_STANDS_OFF, numbers->value[off],
              mean_without(numbers, off));
    else
        doubt(doubting, i, ANGLES_REPEATS_SCATTER, range, allowed);
}

/* ---- pairs ------------------------------------------------------------- */

static void doubt_pairs(const struct doubting *doubting, size_t i)
{
    const struct ht_sheet_slope *slope = &doubting->driveline->slope[i];
    double zero = fabs(slope->flip_a_rad + slope->flip_b_rad) / 2;
    double accuracy = doubting->gauge.accuracy_rad;
    if (ht_slope_turned(slope) &&
        zero > 3 * accuracy + doubting->gauge.step_rad)
        doubt(doubting, i, ANGLES_FLIP_ZERO, zero, accuracy);
    if (ht_slope_turned(slope) || slope->opposite_rad.count != 2)
        return;
    const double *cap = slope->opposite_rad.value;
    double allowed = far_off * sqrt(2) * look_u(doubting, i);
    if (fabs(cap[0] - cap[1]) > allowed)
        doubt(doubting, i, ANGLES_OPPOSITE_DIFFER, fabs(cap[0] - cap[1]),
              allowed);
}

/* A yoke beyond this was not set at all. */
static void doubt_crosswise(const struct doubting *doubting, size_t i)
{
    const double most = 3 * HT_RAD_PER_DEG;
    const struct ht_sheet_slope *slope = &doubting->driveline->slope[i];
    double worst = 0;
    for (size_t k = 0; k < slope->crosswise_rad.count; k++)
        worst = fmax(worst, fabs(slope->crosswise_rad.value[k]));
    if (worst > most)
        doubt(doubting, i, ANGLES_CROSSWISE_LARGE, worst,
              ht_slope_set_up_rad(slope, doubting->model->read.value_rad[i],
                                  doubting->gauge));
}

/* ---- slips of the pen -------------------------------------------------- */

/* The larger working angle at a member, with a slope in its place. */
static double bend_with(const struct ht_model *model, size_t member,
                        double value_rad)
{
    struct ht_sources sources = model->read;
    struct ht_chain chain = model->chain;
    double most = 0;
    sources.value_rad[member] = value_rad;
    ht_model_place(model, &sources, &chain);
    for (size_t m = member > 0 ? member - 1 : 0;
         m < model->joints && m <= member; m++)
        most = fmax(most, ht_working_angle_rad(
                              chain.slope_rad[m], chain.heading_rad[m],
                              chain.slope_rad[m + 1],
                              chain.heading_rad[m + 1]));
    return most;
}

static const struct slip {
    double least_rad, bend_rad; /* of the slope, of its joints, to be asked */
    double gain;                /* how many times the bend must fall */
    double factor;              /* of the slope as it may have been meant */
    const char *sentence;
} slips[] = {
    { 10 * HT_RAD_PER_DEG, 8 * HT_RAD_PER_DEG, 3, 0.1, ANGLES_DECIMAL_SLIP },
    { 1 * HT_RAD_PER_DEG, 5 * HT_RAD_PER_DEG, 2, -1, ANGLES_SIGN_SLIP },
};

/* At most one member is named: where the change would bring most. */
static bool doubt_slip(const struct doubting *doubting, const struct slip *slip)
{
    const struct ht_model *model = doubting->model;
    double best = slip->gain;
    size_t found = model->readings;
    for (size_t i = 0; i < model->readings; i++) {
        double value = model->read.value_rad[i];
        double bend = bend_with(model, i, value);
        double other = bend_with(model, i, slip->factor * value);
        if (fabs(value) < slip->least_rad || bend < slip->bend_rad ||
            bend < best * other)
            continue;
        best = bend / fmax(other, 1e-9);
        found = i;
    }
    if (found < model->readings)
        doubt(doubting, found, slip->sentence, model->read.value_rad[found],
              slip->factor * model->read.value_rad[found]);
    return found < model->readings;
}

void ht_doubt_readings(struct ht_angles *result,
                       const struct ht_driveline *driveline,
                       const struct ht_model *model)
{
    const struct doubting doubting = { result, driveline, model,
                                       ht_gauge_filled(driveline->gauge) };
    if (model->by_joint)
        return;
    for (size_t i = 0; i < model->readings; i++) {
        doubt_repeats(&doubting, i);
        doubt_pairs(&doubting, i);
        doubt_crosswise(&doubting, i);
    }
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++)
        if (doubt_slip(&doubting, &slips[i]))
            return;
}
