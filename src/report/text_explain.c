/* Steps 2 to 5: bends, working angles, arrows, what is left over. */
#include "explain.h"

#include "lines.h"
#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts_explain.h"

#include "angles/spread.h"
#include "common/constants.h"

#include <math.h>

/* ---- 2 and 3: bends, working angles ------------------------------------- */

static double explain_bend(struct explain *explain, const char *name,
                           size_t joint, double behind, double before)
{
    struct ht_text line;
    explain_open(&line, name, joint + 1);
    (void)explain_number(&line, behind, EXPLAIN_DEGREES);
    (void)explain_less(&line, before, EXPLAIN_DEGREES);
    double bend = explain_result(&line, behind - before, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return bend;
}

static void explain_bends(struct explain *explain)
{
    explain_heading(explain, EXPLAIN_BENDS);
    for (size_t j = 0; j < explain->model.joints; j++) {
        explain->side[j] = explain_bend(explain, EXPLAIN_SIDE, j,
                                        explain->slope[j + 1],
                                        explain->slope[j]);
        if (!explain->model.side_view_only)
            explain->plan[j] = explain_bend(explain, EXPLAIN_PLAN, j,
                                            explain->heading[j + 1],
                                            explain->heading[j]);
    }
    if (explain->model.side_view_only)
        explain_sentence(explain, EXPLAIN_SIDE_ONLY);
}

static void explain_pythagoras(struct explain *explain, size_t j)
{
    struct ht_text line;
    double side = explain->side[j], plan = explain->plan[j];
    explain_open(&line, EXPLAIN_JOINT, j + 1);
    ht_text_add(&line, EXPLAIN_SQRT);
    (void)explain_size(&line, side, EXPLAIN_DEGREES);
    ht_text_add(&line, SQUARED " + ");
    (void)explain_size(&line, plan, EXPLAIN_DEGREES);
    ht_text_add(&line, SQUARED ")");
    explain->bend[j] = explain->pythagoras[j] =
        explain_result(&line, hypot(side, plan), EXPLAIN_DEGREES);
    explain_close(explain, &line);
}

static double sine(double degrees)
{
    return sin(degrees * HT_RAD_PER_DEG);
}

static double cosine(double degrees)
{
    return cos(degrees * HT_RAD_PER_DEG);
}

/* Haversine: exact, and sharp where an arc cosine is not. */
static void explain_exact(struct explain *explain, size_t j)
{
    struct ht_text line;
    double side = explain->side[j], plan = explain->plan[j];
    double a = explain->slope[j], b = explain->slope[j + 1];
    double half = pow(sine(side / 2), 2) +
                  cosine(a) * cosine(b) * pow(sine(plan / 2), 2);
    explain_open(&line, EXPLAIN_HALF_SQUARE, j + 1);
    ht_text_add(&line, EXPLAIN_SIN);
    (void)explain_size(&line, side, EXPLAIN_DEGREES);
    ht_text_add(&line, " / 2)" SQUARED " + " EXPLAIN_COS);
    (void)explain_number(&line, a, EXPLAIN_DEGREES);
    ht_text_add(&line, ") " TIMES " " EXPLAIN_COS);
    (void)explain_number(&line, b, EXPLAIN_DEGREES);
    ht_text_add(&line, ") " TIMES " " EXPLAIN_SIN);
    (void)explain_size(&line, plan, EXPLAIN_DEGREES);
    ht_text_add(&line, " / 2)" SQUARED);
    half = explain_result(&line, half, EXPLAIN_PARTS);
    explain_close(explain, &line);
    explain_open(&line, EXPLAIN_JOINT, j + 1);
    ht_text_add(&line, "2 " TIMES " " EXPLAIN_ARCSIN EXPLAIN_SQRT);
    half = explain_number(&line, half, EXPLAIN_PARTS);
    ht_text_add(&line, "))");
    explain->bend[j] = explain_result(
        &line, 2 * asin(sqrt(half)) * HT_DEG_PER_RAD, EXPLAIN_DEGREES);
    explain_close(explain, &line);
}

static void explain_working(struct explain *explain)
{
    explain_heading(explain, EXPLAIN_WORKING);
    for (size_t j = 0; j < explain->model.joints; j++)
        explain_pythagoras(explain, j);
    if (explain->model.side_view_only)
        return;
    explain_sentence(explain, EXPLAIN_EXACTLY);
    for (size_t j = 0; j < explain->model.joints; j++)
        explain_exact(explain, j);
}

/* The joint, from 0, of a line with one Cardan joint; else how many joints. */
size_t explain_only_cardan(const struct explain *explain)
{
    size_t joints = explain->model.joints, found = joints;
    for (size_t j = 0; j < joints; j++) {
        if (!ht_joint_is_cardan(explain->model.chain.kind[j]))
            continue;
        if (found < joints)
            return joints;
        found = j;
    }
    return found;
}

/* ---- 4 and 5: arrows and their sum -------------------------------------- */

static double explain_part(struct explain *explain, const char *name, size_t j,
                           double turn, bool along)
{
    struct ht_text line;
    explain_open(&line, name, j + 1);
    (void)explain_number(&line, explain->size[j], EXPLAIN_PARTS);
    ht_text_add(&line, " " TIMES " ");
    ht_text_add(&line, along ? EXPLAIN_COS : EXPLAIN_SIN);
    (void)explain_number(&line, turn, EXPLAIN_DEGREES);
    ht_text_add(&line, ")");
    double part = explain->size[j] * (along ? cosine(turn) : sine(turn));
    part = explain_result(&line, part, EXPLAIN_PARTS);
    explain_close(explain, &line);
    return part;
}

static double explain_turn(struct explain *explain, size_t j, double pins)
{
    struct ht_text line;
    double side = explain->side[j], plan = explain->plan[j];
    explain_open(&line, EXPLAIN_DIRECTION, j + 1);
    ht_text_add(&line, EXPLAIN_ARCTAN2);
    (void)explain_number(&line, side, EXPLAIN_DEGREES);
    ht_text_add(&line, ", ");
    (void)explain_number(&line, plan, EXPLAIN_DEGREES);
    ht_text_add(&line, ")");
    double points = explain_result(
        &line, atan2(side, plan) * HT_DEG_PER_RAD, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    explain_open(&line, EXPLAIN_TURN, j + 1);
    ht_text_add(&line, "2 " TIMES " (");
    (void)explain_number(&line, points, EXPLAIN_DEGREES);
    pins = explain_less(&line, pins, EXPLAIN_DEGREES);
    ht_text_add(&line, ")");
    double turn =
        explain_result(&line, 2 * (points - pins), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return turn;
}

static void explain_arrow(struct explain *explain, size_t j, double pins)
{
    struct ht_text line;
    explain_open(&line, EXPLAIN_SIZE, j + 1);
    ht_text_add(&line, EXPLAIN_TAN);
    (void)explain_number(&line, explain->bend[j], EXPLAIN_DEGREES);
    ht_text_add(&line, " / 2)" SQUARED);
    double tangent = tan(explain->bend[j] / 2 * HT_RAD_PER_DEG);
    explain->size[j] =
        explain_result(&line, tangent * tangent, EXPLAIN_PARTS);
    explain_close(explain, &line);
    double turn = explain_turn(explain, j, pins);
    explain->x[j] = explain_part(explain, EXPLAIN_X, j, turn, true);
    explain->y[j] = explain_part(explain, EXPLAIN_Y, j, turn, false);
}

/* Of the next joint, behind a Cardan joint or an even one. */
static double explain_pins(struct explain *explain, size_t j, double pins,
                           bool behind_cardan)
{
    double yoke = in_degrees(explain->model.chain.yoke_rad[j]);
    struct ht_text line;
    explain_open(&line, EXPLAIN_PINS, j + 1);
    pins = explain_number(&line, pins, EXPLAIN_DEGREES);
    ht_text_add(&line, behind_cardan ? " " MINUS " 90" : "");
    pins -= behind_cardan ? 90 : 0;
    if (explain_rounded(yoke, EXPLAIN_DEGREES) != 0)
        pins += explain_next(&line, yoke, EXPLAIN_DEGREES, false);
    pins = explain_result(&line, pins, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return pins;
}

static void explain_arrows(struct explain *explain)
{
    const enum ht_joint_kind *kind = explain->model.chain.kind;
    double pins = 0;
    explain_heading(explain, EXPLAIN_ADDS);
    explain_sentence(explain, EXPLAIN_ARROW);
    for (size_t j = 0; j < explain->model.joints; j++) {
        struct ht_text text;
        if (j == 0)
            pins = explain_given(explain, EXPLAIN_PINS, 1, 0, EXPLAIN_DEGREES);
        else
            pins = explain_pins(explain, j, pins,
                                ht_joint_is_cardan(kind[j - 1]));
        if (ht_joint_is_cardan(kind[j])) {
            explain_arrow(explain, j, pins);
            continue;
        }
        explain_open(&text, EXPLAIN_EVEN_JOINT, j + 1);
        explain_made(explain, &text);
    }
}

double explain_sum(struct explain *explain, const char *name,
                   const double *part, size_t from, size_t to)
{
    struct ht_text line;
    double sum = 0;
    explain_open(&line, name, 0);
    for (size_t j = from; j < to; j++) {
        if (j > from)
            ht_text_add(&line, part[j] < 0 ? " " MINUS " " : " + ");
        if (j > from)
            (void)explain_size(&line, part[j], EXPLAIN_PARTS);
        else
            (void)explain_number(&line, part[j], EXPLAIN_PARTS);
        sum += part[j];
    }
    sum = explain_result(&line, sum, EXPLAIN_PARTS);
    explain_close(explain, &line);
    return sum;
}

double explain_length(struct explain *explain, double x, double y)
{
    struct ht_text line;
    explain_open(&line, EXPLAIN_LENGTH, 0);
    ht_text_add(&line, EXPLAIN_SQRT);
    (void)explain_size(&line, x, EXPLAIN_PARTS);
    ht_text_add(&line, SQUARED " + ");
    (void)explain_size(&line, y, EXPLAIN_PARTS);
    ht_text_add(&line, SQUARED ")");
    double length = explain_result(&line, hypot(x, y), EXPLAIN_PARTS);
    explain_close(explain, &line);
    return length;
}

static void explain_angle(struct explain *explain)
{
    struct ht_text line;
    explain_open(&line, EXPLAIN_LEFTOVER, 0);
    ht_text_add(&line, "2 " TIMES " " EXPLAIN_ARCTAN EXPLAIN_SQRT);
    (void)explain_number(&line, explain->length, EXPLAIN_PARTS);
    ht_text_add(&line, "))");
    (void)explain_result(
        &line, 2 * atan(sqrt(explain->length)) * HT_DEG_PER_RAD, 2);
    explain_close(explain, &line);
}

/* Middle of the draws, half of the middle 68 in 100: what the answer has. */
static void explain_drawn_leftover(struct explain *explain)
{
    const struct ht_angles *angles = explain->angles;
    struct ht_text text = { 0 };
    explain->leftover = (struct explained){
        explain_rounded(in_degrees(angles->leftover_rad.value),
                        EXPLAIN_DEGREES),
        explain_rounded(in_degrees(angles->leftover_rad.u), EXPLAIN_DEGREES)
    };
    ht_text_addf(&text, EXPLAIN_LEFTOVER_RANGE, HT_SPREAD_DRAWS,
                 shown_number(explain->leftover.value, EXPLAIN_DEGREES).text,
                 shown_number(explain->leftover.u, EXPLAIN_DEGREES).text,
                 shown_angle_range(&angles->leftover_rad).text);
    double above = angles->leftover_rad.value - angles->leftover_read_rad;
    if (fabs(above) * HT_DEG_PER_RAD >= 0.005) {
        next_sentence(&text);
        ht_text_add(&text, above > 0 ? EXPLAIN_MIDDLE_ABOVE
                                     : EXPLAIN_MIDDLE_BELOW);
    }
    explain_made(explain, &text);
}

static void explain_leftover(struct explain *explain)
{
    struct ht_text text = { 0 };
    explain_heading(explain, EXPLAIN_SUM);
    size_t joints = explain->model.joints;
    double x = explain_sum(explain, EXPLAIN_SUM_X, explain->x, 0, joints);
    double y = explain_sum(explain, EXPLAIN_SUM_Y, explain->y, 0, joints);
    explain->length = explain_length(explain, x, y);
    explain_angle(explain);
    ht_text_addf(&text, EXPLAIN_LEFTOVER_EXACT,
                 shown_degrees(explain->angles->leftover_read_rad, 2).text);
    explain_made(explain, &text);
    if (explain_only_cardan(explain) < joints)
        explain_sentence(explain, EXPLAIN_LEFTOVER_ALONE);
    else
        explain_drawn_leftover(explain);
}

/* ---- the whole ---------------------------------------------------------- */

static void explain_all(struct explain *explain)
{
    put_paragraph(explain->out, "", EXPLAIN_HEAD);
    explain_slopes(explain);
    explain_bends(explain);
    explain_working(explain);
    explain_arrows(explain);
    explain_leftover(explain);
    explain_shake(explain);
    explain_sureness(explain);
    explain_limits(explain);
}

static void explain_one(struct ht_text *out, const struct ht_workup *workup,
                        const struct ht_angles *angles, double shaft_turns,
                        const struct ht_driveline *driveline)
{
    struct explain explain = { .out = out, .workup = workup,
                               .angles = angles, .shaft_turns = shaft_turns,
                               .driveline = driveline };
    ht_model_build(&explain.model, driveline);
    explain_all(&explain);
}

static enum ht_status explain_sets(struct ht_text *out,
                                   const struct ht_workup *workup,
                                   struct ht_error *err)
{
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < workup->line_count && status == HT_OK; i++) {
        const struct ht_line_angles *line = set_in_order(workup, i);
        struct ht_driveline driveline;
        struct ht_text name = { 0 };
        status = ht_driveline_from_sheet(&driveline, workup->sheet,
                                         line->driveline_index,
                                         line->set_index, err);
        ht_text_add(out, i ? "\n" : "");
        if (several_sets(workup))
            ht_text_addf(out, "%s\n\n", set_name(&name, workup, line));
        ht_text_end(out, &name);
        if (status == HT_OK)
            explain_one(out, workup, &line->angles, line->shaft_turns,
                        &driveline);
    }
    return status;
}

enum ht_status ht_report_explain_text(struct ht_text *out,
                                      const struct ht_workup *workup,
                                      const struct ht_driveline *driveline,
                                      struct ht_error *err)
{
    enum ht_status status = HT_OK;
    if (driveline)
        explain_one(out, workup, &workup->angles,
                    workup->rotation.shaft_turns, driveline);
    else if (workup->line_count > 0)
        status = explain_sets(out, workup, err);
    else
        put_paragraph(out, "", EXPLAIN_NOTHING);
    if (status != HT_OK)
        return status;
    return ht_text_ok(out) ? HT_OK : ht_fail(err, EXPLAIN_NO_MEMORY);
}
