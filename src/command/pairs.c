#include "pairs.h"

#include "texts.h"

#include "common/constants.h"
#include "halfturn/number.h"

#include <math.h>
#include <string.h>

enum { READINGS_MAX = 2 * HT_JOINTS_MAX };

static enum ht_status read_one(const char *word, double *reading_rad,
                               struct ht_error *err)
{
    double degrees;
    enum ht_number_problem problem =
        ht_number_read_degrees(word, strlen(word), &degrees);
    if (problem == HT_NUMBER_DECIMAL_COMMA)
        return ht_fail(err, READING_COMMA, word);
    if (problem != HT_NUMBER_FINE)
        return ht_fail(err, READING_NO_NUMBER, word);
    if (fabs(degrees) > 60)
        return ht_fail(err, READING_STEEP, word);
    *reading_rad = degrees * HT_RAD_PER_DEG;
    return HT_OK;
}

/* So many readings stand between two '/'. */
static enum ht_status check_joint(size_t found, size_t wanted,
                                  struct ht_error *err)
{
    if (found == wanted)
        return HT_OK;
    return wanted == 1 ? ht_fail(err, READING_NOT_ONE, found)
                       : ht_fail(err, READING_NOT_IN_PAIRS, found);
}

/* All readings in one row, so many for each joint. */
static enum ht_status read_row(double *row_rad, size_t *joints, size_t each,
                               const struct options *options,
                               struct ht_error *err)
{
    size_t count = 0, in_joint = 0;
    enum ht_status status = HT_OK;
    for (size_t w = 0; w < options->word_count && status == HT_OK; w++) {
        if (strcmp(options->words[w], "/") == 0) {
            status = check_joint(in_joint, each, err);
            in_joint = 0;
            continue;
        }
        if (count == each * (size_t)HT_JOINTS_MAX)
            return ht_fail(err, READING_TOO_MANY, HT_JOINTS_MAX);
        status = read_one(options->words[w], &row_rad[count++], err);
        in_joint++;
    }
    if (status == HT_OK)
        status = check_joint(in_joint, each, err);
    *joints = count / each;
    return status;
}

/* A shaft read at both its ends has two readings of one slope; the same
 * number twice is one reading typed twice. */
static void fill_slopes(struct pairs *pairs, const double *row_rad,
                        size_t joints)
{
    for (size_t m = 0; m <= joints; m++) {
        double *kept = pairs->reading_rad[m];
        size_t count = 0;
        if (m > 0)
            kept[count++] = row_rad[2 * m - 1];
        if (m < joints && (count == 0 || row_rad[2 * m] != kept[0]))
            kept[count++] = row_rad[2 * m];
        pairs->driveline.slope[m] = (struct ht_sheet_slope){
            .readings_rad = { kept, count },
            .crosswise_rad = { &pairs->crosswise_rad,
                               isnan(pairs->crosswise_rad) ? 0U : 1U },
            .flip_a_rad = NAN, .flip_b_rad = NAN, .set_up_rad = NAN
        };
        pairs->driveline.heading_rad[m] = NAN;
    }
}

static enum ht_status fill_list(double *values_rad, const char *list,
                                size_t wanted, const char *option,
                                double most_deg, struct ht_error *err)
{
    size_t count;
    if (!list)
        return HT_OK;
    bool fine =
        options_degrees(list, values_rad, wanted, &count) && count == wanted;
    for (size_t i = 0; fine && i < wanted; i++)
        fine = fabs(values_rad[i]) <= most_deg * HT_RAD_PER_DEG * (1 + 1e-12);
    return fine ? HT_OK
                : ht_fail(err, LIST_WRONG, option, list, -most_deg, most_deg,
                          wanted);
}

static enum ht_status fill_lengths(double *length_m, const char *list,
                                   size_t wanted, const char *option,
                                   const double range_mm[2],
                                   struct ht_error *err)
{
    size_t count;
    if (!list)
        return HT_OK;
    bool fine = options_lengths(list, length_m, wanted, &count) &&
                count == wanted;
    for (size_t i = 0; fine && i < wanted; i++)
        fine = length_m[i] >= range_mm[0] / 1000 - 1e-12 &&
               length_m[i] <= range_mm[1] / 1000 + 1e-12;
    return fine ? HT_OK
                : ht_fail(err, LENGTHS_WRONG, option, list, range_mm[0],
                          range_mm[1], wanted);
}

/* Options that cannot stand together. */
static enum ht_status check_options(const struct options *options,
                                    struct ht_error *err)
{
    const struct {
        bool given;
        const char *name;
    } from_slopes[] = { { options->headings != NULL, "headings" },
                        { options->offsets != NULL, "offsets" },
                        { !isnan(options->crosswise_rad), "crosswise" },
                        { options->drawing, "drawing" } };
    for (size_t i = 0; options->zeroed && i < 4; i++)
        if (from_slopes[i].given)
            return ht_fail(err, OPTION_NOT_OF_ZEROED, from_slopes[i].name);
    if (options->headings && options->offsets)
        return ht_fail(err, OPTIONS_SAY_THE_SAME, "headings", "offsets");
    if (!isnan(options->crosswise_rad) && !isnan(options->set_up_rad))
        return ht_fail(err, OPTIONS_SAY_THE_SAME, "crosswise", "set-up");
    return HT_OK;
}

static void take_options(struct pairs *pairs, const struct options *options,
                         size_t joints)
{
    *pairs = (struct pairs){ .driveline = ht_driveline_blank(),
                             .crosswise_rad = options->crosswise_rad };
    pairs->driveline.members = joints + 1;
    pairs->driveline.by_joint = options->zeroed;
    pairs->driveline.drawing = options->drawing;
    pairs->driveline.suspension = options->suspension;
    pairs->driveline.read_on = options->read_on;
    pairs->driveline.driven_from = options->driven_from;
    pairs->driveline.gauge.accuracy_rad = options->gauge_rad;
    pairs->driveline.gauge.step_rad = options->step_rad;
    pairs->driveline.gauge.set_up_rad = options->set_up_rad;
}

static enum ht_status fill_lists(struct ht_driveline *driveline,
                                 const struct options *options, size_t joints,
                                 struct ht_error *err)
{
    double yoke_rad[HT_MEMBERS_MAX] = { 0 };
    enum ht_status status =
        fill_list(driveline->heading_rad, options->headings, joints + 1,
                  "headings", 45, err);
    if (status == HT_OK && joints > 1)
        status = fill_list(yoke_rad, options->yokes, joints - 1, "yokes", 180,
                           err);
    if (status == HT_OK)
        status = fill_lengths(driveline->offset_m, options->offsets, joints,
                              "offsets", (double[]){ -2000, 2000 }, err);
    if (status == HT_OK && joints > 1)
        status = fill_lengths(driveline->joint_to_joint_m + 1,
                              options->lengths, joints - 1, "lengths",
                              (double[]){ 50, 5000 }, err);
    /* sections are the members between two joints: 1 .. joints - 1 */
    for (size_t s = 0; s + 1 < joints; s++)
        driveline->yoke_rad[s + 1] = yoke_rad[s];
    return status;
}

enum ht_status pairs_read(struct pairs *pairs, const struct options *options,
                          struct ht_error *err)
{
    double row_rad[READINGS_MAX] = { 0 };
    size_t joints = 0;
    enum ht_status status = check_options(options, err);
    if (status == HT_OK)
        status = read_row(row_rad, &joints, options->zeroed ? 1 : 2, options,
                          err);
    if (status != HT_OK)
        return status;
    take_options(pairs, options, joints);
    for (size_t j = 0; options->zeroed && j < joints; j++)
        pairs->driveline.joint_rad[j] = row_rad[j];
    if (!options->zeroed)
        fill_slopes(pairs, row_rad, joints);
    return fill_lists(&pairs->driveline, options, joints, err);
}
