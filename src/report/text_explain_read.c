/* Step 1: from what was read to slopes and headings. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"

#include "common/constants.h"

#include <math.h>

/* ---- what the gauge showed ---------------------------------------------- */

static double put_mean(struct ht_text *line, const struct ht_numbers *readings)
{
    double sum = 0;
    ht_text_add(line, "(");
    for (size_t i = 0; i < readings->count; i++)
        sum += explain_next(line, in_degrees(readings->value[i]),
                            EXPLAIN_DEGREES, i == 0);
    ht_text_addf(line, ") / %zu", readings->count);
    return sum / (double)readings->count;
}

static double put_turned(struct ht_text *line,
                         const struct ht_sheet_slope *slope)
{
    double one = in_degrees(slope->flip_a_rad);
    double other = in_degrees(slope->flip_b_rad);
    ht_text_add(line, "(");
    one = explain_number(line, one, EXPLAIN_DEGREES);
    other = explain_less(line, other, EXPLAIN_DEGREES);
    ht_text_add(line, ") / 2");
    return (one - other) / 2;
}

/* The calculation and its value; a single reading needs none. */
static double put_reading(struct ht_text *line,
                          const struct ht_sheet_slope *slope)
{
    const struct ht_numbers *readings = &slope->readings_rad;
    double value = NAN;
    ht_text_add(line, slope->is_face ? "90 " MINUS " " : "");
    if (ht_slope_turned(slope))
        value = put_turned(line, slope);
    else if (slope->opposite_rad.count == 2)
        value = put_mean(line, &slope->opposite_rad);
    else if (readings->count > 1)
        value = put_mean(line, readings);
    else if (readings->count == 1)
        value = explain_number(line, in_degrees(readings->value[0]),
                               EXPLAIN_DEGREES);
    bool is_single = readings->count == 1 && !slope->is_face &&
                     !ht_slope_turned(slope);
    value = slope->is_face ? 90 - value : value;
    return is_single ? value : explain_result(line, value, EXPLAIN_DEGREES);
}

/* Differences between caps, added up from the first member on. */
static double put_difference(struct ht_text *line,
                             const struct explain *explain, size_t member)
{
    if (member == 0)
        return explain_number(line, 0, EXPLAIN_DEGREES);
    double joint = explain->driveline->joint_rad[member - 1];
    double before =
        explain_number(line, explain->slope[member - 1], EXPLAIN_DEGREES);
    double more = explain_next(line, in_degrees(joint), EXPLAIN_DEGREES, false);
    return explain_result(line, before + more, EXPLAIN_DEGREES);
}

static double explain_reading(struct explain *explain, size_t member)
{
    struct ht_text line = { 0 }, name = { 0 };
    const char *given = explain->driveline->member[member];
    clean_text(&name, given ? given : "");
    ht_text_addf(&line, given ? EXPLAIN_MEMBER : EXPLAIN_UNNAMED, member + 1,
                 ht_text_get(&name));
    double value =
        explain->driveline->by_joint
            ? put_difference(&line, explain, member)
            : put_reading(&line, &explain->driveline->slope[member]);
    explain_close(explain, &line);
    ht_text_end(explain->out, &name);
    return value;
}

/* ---- headings from offsets, drawings ------------------------------------ */

static double explain_share(struct explain *explain, size_t m)
{
    const struct ht_driveline *line_ = explain->driveline;
    struct ht_text line;
    explain_open(&line, EXPLAIN_OFFSETS, m + 1);
    ht_text_add(&line, "(");
    double rear = explain_number(&line, 1000 * line_->offset_m[m], 1);
    double front = explain_less(&line, 1000 * line_->offset_m[m - 1], 1);
    ht_text_add(&line, ") / ");
    double length =
        explain_number(&line, 1000 * line_->joint_to_joint_m[m], 1);
    double share =
        explain_result(&line, (rear - front) / length, EXPLAIN_PARTS);
    explain_close(explain, &line);
    return share;
}

static double explain_offset_heading(struct explain *explain, size_t m,
                                     double slope)
{
    struct ht_text line;
    double share = explain_share(explain, m), heading;
    double c = cos(slope * HT_RAD_PER_DEG);
    bool drawing = explain->model.drawing;
    explain_open(&line, EXPLAIN_HEADING, m + 1);
    ht_text_add(&line, drawing ? EXPLAIN_ARCTAN : EXPLAIN_ARCSIN);
    (void)explain_number(&line, share, EXPLAIN_PARTS);
    ht_text_add(&line, " / ");
    if (drawing) {
        ht_text_add(&line, "(" EXPLAIN_SQRT "1 " MINUS " ");
        (void)explain_size(&line, share, EXPLAIN_PARTS);
        ht_text_add(&line, SQUARED ") " TIMES " ");
    }
    ht_text_add(&line, EXPLAIN_COS);
    (void)explain_number(&line, slope, EXPLAIN_DEGREES);
    ht_text_add(&line, drawing ? ")))" : "))");
    heading = drawing ? atan(share / (sqrt(1 - share * share) * c))
                      : asin(share / c);
    heading = explain_result(&line, in_degrees(heading), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return heading;
}

/* A drawing's side view made an inclination. */
static double explain_inclined(struct explain *explain, size_t m, double slope,
                               double heading)
{
    struct ht_text line;
    double tangent = tan(slope * HT_RAD_PER_DEG);
    explain_open(&line, EXPLAIN_INCLINED, m + 1);
    ht_text_add(&line, EXPLAIN_ARCTAN EXPLAIN_TAN);
    (void)explain_number(&line, slope, EXPLAIN_DEGREES);
    ht_text_add(&line, ") " TIMES " " EXPLAIN_COS);
    (void)explain_number(&line, heading, EXPLAIN_DEGREES);
    ht_text_add(&line, "))");
    double inclined = atan(tangent * cos(heading * HT_RAD_PER_DEG));
    inclined = explain_result(&line, in_degrees(inclined), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return inclined;
}

void explain_slopes(struct explain *explain)
{
    const struct ht_model *model = &explain->model;
    explain_heading(explain, explain->driveline->by_joint ? EXPLAIN_AS_JOINTS
                                                          : EXPLAIN_READINGS);
    for (size_t m = 0; m < model->chain.members; m++) {
        double slope = explain_reading(explain, m);
        double heading = explain_rounded(
            in_degrees(model->chain.heading_rad[m]), EXPLAIN_DEGREES);
        if (model->by_offsets && m > 0 && m < model->joints)
            heading = explain_offset_heading(explain, m, slope);
        else if (!model->side_view_only)
            (void)explain_given(explain, EXPLAIN_HEADING, m + 1, heading,
                                EXPLAIN_DEGREES);
        if (model->drawing && !model->side_view_only)
            slope = explain_inclined(explain, m, slope, heading);
        explain->slope[m] = slope;
        explain->heading[m] = heading;
    }
}
