/* Step 1, the slopes, and how every line of arithmetic is written. */
#include "explain.h"

#include "lines.h"
#include "markup.h"
#include "shown.h"
#include "texts_explain.h"

#include "common/constants.h"

#include <math.h>

/* ---- lines -------------------------------------------------------------- */

void explain_open(struct ht_text *line, const char *name, size_t number)
{
    *line = (struct ht_text){ 0 };
    ht_text_addf(line, name, number);
}

double explain_number(struct ht_text *line, double value, int decimals)
{
    double scale = pow(10, decimals);
    double rounded = round(value * scale) / scale;
    if (rounded == 0)
        rounded = 0; /* no minus before a zero */
    ht_text_add(line, shown_number(rounded, decimals).text);
    return rounded;
}

double explain_size(struct ht_text *line, double value, int decimals)
{
    return explain_number(line, fabs(value), decimals);
}

double explain_result(struct ht_text *line, double value, int decimals)
{
    ht_text_add(line, " = ");
    return explain_number(line, value, decimals);
}

void explain_close(struct explain *explain, struct ht_text *line)
{
    put_paragraph(explain->out, "  - ", ht_text_get(line));
    ht_text_end(explain->out, line);
}

void explain_heading(struct explain *explain, const char *text)
{
    ht_text_add(explain->out, "\n");
    put_paragraph(explain->out, "", text);
}

void explain_sentence(struct explain *explain, const char *text)
{
    put_paragraph(explain->out, "  ", text);
}

void explain_made(struct explain *explain, struct ht_text *text)
{
    explain_sentence(explain, ht_text_get(text));
    ht_text_end(explain->out, text);
}

/* ---- 1: slopes ---------------------------------------------------------- */

double in_degrees(double rad)
{
    return rad * HT_DEG_PER_RAD;
}

static void put_mean(struct ht_text *line, const struct ht_numbers *readings)
{
    ht_text_add(line, "(");
    for (size_t i = 0; i < readings->count; i++) {
        ht_text_add(line, i ? " + " : "");
        (void)explain_number(line, in_degrees(readings->value[i]),
                             EXPLAIN_DEGREES);
    }
    ht_text_addf(line, ") / %zu", readings->count);
}

/* False: a form that has no short line here. */
static bool put_reading(struct ht_text *line,
                        const struct ht_sheet_slope *slope, double *value_rad)
{
    const struct ht_numbers *readings = &slope->readings_rad;
    double sum = 0;
    if (isfinite(slope->flip_a_rad) && isfinite(slope->flip_b_rad)) {
        ht_text_add(line, "(");
        (void)explain_number(line, in_degrees(slope->flip_a_rad),
                             EXPLAIN_DEGREES);
        ht_text_add(line, " " MINUS " (");
        (void)explain_number(line, in_degrees(slope->flip_b_rad),
                             EXPLAIN_DEGREES);
        ht_text_add(line, ")) / 2");
        *value_rad = (slope->flip_a_rad - slope->flip_b_rad) / 2;
        return true;
    }
    for (size_t i = 0; i < readings->count; i++)
        sum += readings->value[i];
    *value_rad = sum / (double)readings->count;
    ht_text_add(line, slope->is_face ? "90 " MINUS " " : "");
    put_mean(line, readings);
    if (slope->is_face)
        *value_rad = HT_PI / 2 - *value_rad;
    return readings->count > 0;
}

static bool is_single(const struct ht_sheet_slope *slope)
{
    return slope->readings_rad.count == 1 && !slope->is_face &&
           !isfinite(slope->flip_a_rad);
}

static void explain_slope(struct explain *explain, size_t member)
{
    const struct ht_sheet_slope *slope = &explain->driveline->slope[member];
    struct ht_text line = { 0 }, name = { 0 }, sum = { 0 };
    double slope_rad = explain->model.chain.slope_rad[member], own_rad = NAN;
    const char *given = explain->driveline->member[member];
    clean_text(&name, given ? given : "");
    ht_text_addf(&line, given ? EXPLAIN_MEMBER : EXPLAIN_UNNAMED, member + 1,
                 ht_text_get(&name));
    bool known = !explain->driveline->by_joint &&
                 put_reading(&sum, slope, &own_rad) &&
                 fabs(own_rad - slope_rad) < 1e-9;
    if (known && !is_single(slope)) {
        ht_text_add(&line, ht_text_get(&sum));
        ht_text_add(&line, " = ");
    }
    explain->slope[member] =
        explain_number(&line, in_degrees(slope_rad), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    if (!known && !explain->driveline->by_joint)
        explain_sentence(explain, EXPLAIN_OTHER_FORM);
    ht_text_end(explain->out, &sum);
    ht_text_end(explain->out, &name);
}

void explain_slopes(struct explain *explain)
{
    explain_heading(explain, explain->driveline->by_joint ? EXPLAIN_AS_JOINTS
                                                          : EXPLAIN_READINGS);
    for (size_t i = 0; i < explain->model.chain.members; i++) {
        explain_slope(explain, i);
        double scale = pow(10, EXPLAIN_DEGREES);
        double heading = in_degrees(explain->model.chain.heading_rad[i]);
        explain->heading[i] = round(heading * scale) / scale;
    }
}
