#include "pairs.h"

#include "sheet_row.h"
#include "texts.h"

#include "common/constants.h"
#include "halfturn/number.h"

#include <math.h>
#include <string.h>

enum { READINGS_MAX = 2 * HT_JOINTS_MAX };

static enum ht_status read_one(const char *word, const struct ht_row *row,
                               double *reading_rad, struct ht_error *err)
{
    double degrees;
    enum ht_number_problem problem =
        ht_number_read_degrees(word, strlen(word), &degrees);
    if (problem == HT_NUMBER_DECIMAL_COMMA)
        return ht_fail(err, READING_COMMA, word);
    if (problem != HT_NUMBER_FINE)
        return ht_fail(err, READING_NO_NUMBER, word);
    if (!sheet_row_holds(row, degrees, 1))
        return ht_fail(err, READING_STEEP, word, row->low, row->high);
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
    const struct ht_row *row = sheet_row(
        each == 1 ? "angles/joints_deg" : "angles/slopes_deg/readings_deg");
    for (size_t w = 0; w < options->word_count && status == HT_OK; w++) {
        if (strcmp(options->words[w], "/") == 0) {
            status = check_joint(in_joint, each, err);
            in_joint = 0;
            continue;
        }
        if (count == each * (size_t)HT_JOINTS_MAX)
            return ht_fail(err, READING_TOO_MANY, HT_JOINTS_MAX);
        status = read_one(options->words[w], row, &row_rad[count++], err);
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
        pairs->slope[m] = (struct ht_sheet_slope){
            .readings_rad = { kept, count },
            .crosswise_rad = { &pairs->crosswise_rad,
                               isnan(pairs->crosswise_rad) ? 0U : 1U },
            .flip_a_rad = NAN, .flip_b_rad = NAN, .set_up_rad = NAN
        };
    }
    pairs->set.slopes = pairs->slope;
    pairs->set.slope_count = joints + 1;
}

static void fill_joints(struct pairs *pairs, const double *row_rad,
                        size_t joints)
{
    memcpy(pairs->joint_rad, row_rad, joints * sizeof *row_rad);
    pairs->set.joints_rad = (struct ht_numbers){ pairs->joint_rad, joints };
}

/* A comma list of an option, as the sheet takes it under a key. */
struct list {
    const char *text, *option, *key;
    bool lengths;
    size_t wanted;
};

static enum ht_status read_list(struct ht_numbers *numbers, double *room,
                                const struct list *list, struct ht_error *err)
{
    const struct ht_row *row = sheet_row(list->key);
    size_t count = 0;
    if (!list->text)
        return HT_OK;
    if (list->wanted == 0)
        return ht_fail(err, LIST_OF_NONE, list->option, list->text);
    bool fine =
        (list->lengths
             ? options_lengths(list->text, room, list->wanted, &count)
             : options_degrees(list->text, room, list->wanted, &count)) &&
        count == list->wanted;
    for (size_t i = 0; fine && i < count; i++)
        fine = sheet_row_holds(row, room[i],
                               list->lengths ? 1e-3 : HT_RAD_PER_DEG);
    *numbers = (struct ht_numbers){ room, count };
    if (fine)
        return HT_OK;
    return list->lengths
               ? ht_fail(err, LENGTHS_WRONG, list->option, list->text, row->low,
                         row->high, list->wanted)
               : ht_fail(err, LIST_WRONG, list->option, list->text, row->low,
                         row->high, list->wanted);
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

static void take_options(struct pairs *pairs, const struct options *options)
{
    memset(pairs, 0, sizeof *pairs);
    ht_sheet_clear(&pairs->sheet);
    ht_record_clear(&pairs->line, sheet_row("driveline")->child);
    ht_record_clear(&pairs->set, sheet_row("angles")->child);
    for (size_t s = 0; s < HT_MEMBERS_MAX; s++)
        ht_record_clear(&pairs->tube[s], sheet_row("driveline/tubes")->child);
    pairs->sheet.drivelines = &pairs->line;
    pairs->sheet.angles = &pairs->set;
    pairs->sheet.driveline_count = pairs->sheet.angles_count = 1;
    pairs->sheet.limits.name = options->limits;
    pairs->line.driven_from = options->driven_from;
    pairs->set.slopes_are =
        options->drawing ? HT_SLOPES_DRAWING : HT_SLOPES_INCLINATION;
    pairs->set.suspension = options->suspension;
    pairs->set.read_on = options->read_on;
    pairs->set.gauge_accuracy_rad = options->gauge_rad;
    pairs->set.gauge_step_rad = options->step_rad;
    pairs->set.gauge_set_up_rad = options->set_up_rad;
    pairs->crosswise_rad = options->crosswise_rad;
}

static void take_lengths(struct pairs *pairs, const struct ht_numbers *lengths)
{
    for (size_t s = 0; s < lengths->count; s++)
        pairs->tube[s].joint_to_joint_m = lengths->value[s];
    pairs->line.tubes = pairs->tube;
    pairs->line.tube_count = lengths->count;
}

/* Sections are the members between two joints. */
static enum ht_status take_lists(struct pairs *pairs,
                                 const struct options *options, size_t joints,
                                 struct ht_error *err)
{
    double length_m[HT_MEMBERS_MAX];
    struct ht_numbers lengths = { 0 };
    struct ht_numbers *into[] = { &pairs->set.headings_rad,
                                  &pairs->line.yokes_rad,
                                  &pairs->set.offsets_m, &lengths };
    double *room[] = { pairs->heading_rad, pairs->yoke_rad, pairs->offset_m,
                       length_m };
    const struct list lists[] = {
        { options->headings, "headings", "angles/headings_deg", false,
          joints + 1 },
        { options->yokes, "yokes", "driveline/yokes_deg", false, joints - 1 },
        { options->offsets, "offsets", "angles/offsets_mm", true, joints },
        { options->lengths, "lengths", "driveline/tubes/joint_to_joint_mm",
          true, joints - 1 },
    };
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < 4 && status == HT_OK; i++)
        status = read_list(into[i], room[i], &lists[i], err);
    take_lengths(pairs, &lengths);
    return status;
}

enum ht_status pairs_read(struct pairs *pairs, const struct options *options,
                          struct ht_error *err)
{
    double row_rad[READINGS_MAX] = { 0 };
    size_t joints = 0;
    take_options(pairs, options);
    enum ht_status status = check_options(options, err);
    if (status == HT_OK)
        status = read_row(row_rad, &joints, options->zeroed ? 1 : 2, options,
                          err);
    if (status != HT_OK)
        return status;
    if (options->zeroed)
        fill_joints(pairs, row_rad, joints);
    else
        fill_slopes(pairs, row_rad, joints);
    return take_lists(pairs, options, joints, err);
}
