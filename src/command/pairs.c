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

/* All readings in one row, two for each joint. */
static enum ht_status read_row(double *row_rad, size_t *joints,
                               const struct options *options,
                               struct ht_error *err)
{
    size_t count = 0, in_joint = 0;
    for (size_t w = 0; w < options->word_count; w++) {
        if (strcmp(options->words[w], "/") == 0) {
            if (in_joint != 2)
                return ht_fail(err, READING_NOT_IN_PAIRS, in_joint);
            in_joint = 0;
            continue;
        }
        if (count == READINGS_MAX)
            return ht_fail(err, READING_TOO_MANY, HT_JOINTS_MAX);
        enum ht_status status =
            read_one(options->words[w], &row_rad[count++], err);
        if (status != HT_OK)
            return status;
        in_joint++;
    }
    if (in_joint != 2)
        return ht_fail(err, READING_NOT_IN_PAIRS, in_joint);
    *joints = count / 2;
    return HT_OK;
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

enum ht_status pairs_read(struct pairs *pairs, const struct options *options,
                          struct ht_error *err)
{
    double row_rad[READINGS_MAX] = { 0 }, yoke_rad[HT_MEMBERS_MAX] = { 0 };
    size_t joints = 0;
    enum ht_status status = read_row(row_rad, &joints, options, err);
    if (status != HT_OK)
        return status;
    *pairs = (struct pairs){ .driveline = ht_driveline_blank() };
    pairs->driveline.members = joints + 1;
    pairs->driveline.suspension = options->suspension;
    pairs->driveline.read_on = options->read_on;
    pairs->driveline.driven_from = options->driven_from;
    pairs->driveline.gauge.accuracy_rad = options->gauge_rad;
    pairs->driveline.gauge.step_rad = options->step_rad;
    pairs->driveline.gauge.set_up_rad = options->set_up_rad;
    fill_slopes(pairs, row_rad, joints);
    status = fill_list(pairs->driveline.heading_rad, options->headings,
                       joints + 1, "headings", 45, err);
    if (status == HT_OK && joints > 1)
        status = fill_list(yoke_rad, options->yokes, joints - 1, "yokes", 180,
                           err);
    /* sections are the members between two joints: 1 .. joints - 1 */
    for (size_t s = 0; s + 1 < joints; s++)
        pairs->driveline.yoke_rad[s + 1] = yoke_rad[s];
    return status;
}
