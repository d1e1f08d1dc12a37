/* Steps 6 to 8: shake, how sure, against the limits. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"
#include "words.h"

#include "common/constants.h"

#include <math.h>
#include <string.h>

#define SQUARED "\302\262"
enum { SPEED_DECIMALS = 2, LIMIT_LINES = 24 };

/* ---- 6: shake ----------------------------------------------------------- */

/* From the road speed, where that is where it comes from. */
static bool put_road_speed(struct ht_text *line,
                           const struct explain *explain, double rpm)
{
    const struct ht_rotation *r = &explain->workup->rotation;
    double speed_m_s = explain->angles->accelerations.speed_m_s;
    if (!explain->workup->has_rotation || !isfinite(speed_m_s) ||
        !isfinite(r->circumference_m * explain->shaft_turns))
        return false;
    double km_h = explain_number(line, speed_m_s * HT_KM_H_PER_M_S, 1);
    ht_text_add(line, " / 3.6 / ");
    double way = explain_number(line, r->circumference_m, 4);
    ht_text_add(line, " " TIMES " ");
    double turns = explain_number(line, explain->shaft_turns, 4);
    ht_text_add(line, " " TIMES " 60");
    return fabs(km_h / 3.6 / way * turns * 60 / rpm - 1) < 1e-3;
}

static double explain_rpm(struct explain *explain)
{
    const struct ht_accelerations *a = &explain->angles->accelerations;
    struct ht_text line, sum = { 0 };
    double rpm = a->shaft_rad_s * 60 / (2 * HT_PI);
    explain_open(&line, EXPLAIN_RPM, 0);
    if (put_road_speed(&sum, explain, rpm)) {
        const struct ht_rotation *r = &explain->workup->rotation;
        double km_h = round(a->speed_m_s * HT_KM_H_PER_M_S * 10) / 10;
        rpm = km_h / 3.6 / (round(r->circumference_m * 1e4) / 1e4) *
              (round(explain->shaft_turns * 1e4) / 1e4) * 60;
        ht_text_add(&line, ht_text_get(&sum));
        ht_text_add(&line, " = ");
    }
    rpm = explain_number(&line, rpm, SPEED_DECIMALS);
    explain_close(explain, &line);
    ht_text_end(explain->out, &sum);
    return rpm;
}

static void explain_rate(struct explain *explain, const char *name, double w,
                         double size)
{
    struct ht_text line;
    explain_open(&line, name, 0);
    ht_text_add(&line, "4 " TIMES " ");
    (void)explain_number(&line, w, SPEED_DECIMALS);
    ht_text_add(&line, SQUARED " " TIMES " ");
    (void)explain_number(&line, size, EXPLAIN_PARTS);
    (void)explain_result(&line, 4 * w * w * size, 1);
    explain_close(explain, &line);
}

static double length_of(const struct explain *explain, size_t from, size_t to)
{
    double x = 0, y = 0;
    for (size_t j = from; j < to; j++) {
        x += explain->x[j];
        y += explain->y[j];
    }
    return hypot(x, y);
}

static void explain_section(struct explain *explain, double w)
{
    struct ht_text text = { 0 };
    size_t joints = explain->model.joints, from = 0, to = 1;
    for (size_t m = 1; m < joints; m++) {
        if (length_of(explain, 0, m) > length_of(explain, from, to)) {
            from = 0;
            to = m;
        }
        if (length_of(explain, m, joints) > length_of(explain, from, to)) {
            from = m;
            to = joints;
        }
    }
    ht_text_addf(&text, EXPLAIN_SECTION, from + 1, to);
    explain_made(explain, &text);
    double x = explain_sum(explain, EXPLAIN_SUM_X, explain->x, from, to);
    double y = explain_sum(explain, EXPLAIN_SUM_Y, explain->y, from, to);
    double length = explain_length(explain, x, y);
    explain_rate(explain, EXPLAIN_SECTION_SHAKE, w, length);
}

void explain_shake(struct explain *explain)
{
    struct ht_text line;
    size_t last = explain->model.joints - 1;
    explain_heading(explain, EXPLAIN_SHAKE);
    if (!isfinite(explain->angles->accelerations.shaft_rad_s)) {
        explain_sentence(explain, EXPLAIN_NO_SPEED);
        return;
    }
    double rpm = explain_rpm(explain);
    explain_open(&line, EXPLAIN_W, 0);
    ht_text_add(&line, "2 " TIMES " 3.14159265 " TIMES " ");
    (void)explain_number(&line, rpm, SPEED_DECIMALS);
    ht_text_add(&line, " / 60");
    double w = explain_result(&line, 2 * 3.14159265 * rpm / 60,
                              SPEED_DECIMALS);
    explain_close(explain, &line);
    explain_rate(explain, EXPLAIN_AXLE, w, explain->length);
    explain_rate(explain, EXPLAIN_PULLED, w, explain->size[0]);
    explain_rate(explain, EXPLAIN_HELD, w, explain->size[last]);
    if (explain->model.joints > 2)
        explain_section(explain, w);
}

/* ---- 7: how sure -------------------------------------------------------- */

struct budget { /* degrees, as printed */
    double zero, rest, step;
};

static double root_line(struct explain *explain, const char *name,
                        const char *before, double value, const char *behind,
                        double result)
{
    struct ht_text line;
    explain_open(&line, name, 0);
    ht_text_add(&line, before);
    (void)explain_number(&line, value, EXPLAIN_DEGREES);
    ht_text_add(&line, behind);
    result = explain_result(&line, result, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return result;
}

static struct budget explain_gauge(struct explain *explain,
                                   struct ht_gauge gauge)
{
    struct budget budget;
    double a = round(gauge.accuracy_rad * HT_DEG_PER_RAD * 1e4) / 1e4;
    double d = round(gauge.step_rad * HT_DEG_PER_RAD * 1e4) / 1e4;
    /* the one share that is not asked for: half of it is zero error */
    double half = a / sqrt(6);
    budget.zero =
        root_line(explain, EXPLAIN_SURE_ZERO, "", a, " / sqrt(6)", half);
    budget.rest =
        root_line(explain, EXPLAIN_SURE_REST, "", a, " / sqrt(6)", half);
    budget.step = root_line(explain, EXPLAIN_SURE_STEP, "", d, " / sqrt(12)",
                            d / sqrt(12));
    return budget;
}

static double of_parts(struct ht_text *line, const double *part, size_t count)
{
    double squares = 0;
    ht_text_add(line, EXPLAIN_SQRT);
    for (size_t i = 0; i < count; i++) {
        ht_text_add(line, i ? " + " : "");
        double shown = explain_number(line, part[i], EXPLAIN_DEGREES);
        ht_text_add(line, SQUARED);
        squares += shown * shown;
    }
    ht_text_add(line, ")");
    return sqrt(squares);
}

/* The parts of a plain reading; when they do not make up what the program
 * took, the reading is of another form and its figure stands alone. */
static double explain_reading_u(struct explain *explain, size_t member,
                                struct ht_gauge gauge,
                                const struct budget *budget)
{
    const struct ht_driveline *line_ = explain->driveline;
    const struct ht_sheet_slope *slope = &line_->slope[member];
    const struct ht_reading *reading = &explain->model.reading[member];
    double u = ht_reading_u_rad(reading) * HT_DEG_PER_RAD;
    double set_up = isfinite(slope->set_up_rad) ? slope->set_up_rad
                                                : gauge.set_up_rad;
    enum ht_surface surface =
        slope->read_on == HT_SURFACE_UNKNOWN ? line_->read_on : slope->read_on;
    const double part[] = {
        budget->rest, budget->step, set_up * HT_DEG_PER_RAD,
        ht_surface_u_rad(surface) * HT_DEG_PER_RAD,
        reading->scatter_rad / sqrt((double)reading->repeats) * HT_DEG_PER_RAD
    };
    struct ht_text line;
    explain_open(&line, EXPLAIN_SURE_READING, member + 1);
    double sum = of_parts(&line, part, sizeof part / sizeof *part);
    if (fabs(sum - u) < 2e-4) {
        u = explain_result(&line, sum, EXPLAIN_DEGREES);
        explain_close(explain, &line);
        return u;
    }
    ht_text_free(&line);
    ht_text_addf(&line, EXPLAIN_SURE_KNOWN, member + 1,
                 shown_number(u, EXPLAIN_DEGREES).text);
    explain_made(explain, &line);
    return round(u * 1e4) / 1e4;
}

static void put_squares(struct ht_text *line, double a, double b)
{
    (void)explain_number(line, a, EXPLAIN_DEGREES);
    ht_text_add(line, SQUARED " + ");
    (void)explain_number(line, b, EXPLAIN_DEGREES);
    ht_text_add(line, SQUARED);
}

static void put_share(struct ht_text *line, double part, double whole)
{
    ht_text_add(line, "(");
    (void)explain_size(line, part, EXPLAIN_DEGREES);
    ht_text_add(line, " / ");
    (void)explain_number(line, whole, EXPLAIN_DEGREES);
    ht_text_add(line, ")" SQUARED " " TIMES " (");
}

/* Readings of two forms do not share the zero error alike. */
static void put_zero(struct ht_text *line, double side, double whole,
                     double times, double zero)
{
    ht_text_add(line, " + ");
    if (whole > 0)
        put_share(line, side, whole);
    (void)explain_number(line, times, 0);
    ht_text_add(line, SQUARED " " TIMES " ");
    (void)explain_number(line, zero, EXPLAIN_DEGREES);
    ht_text_add(line, whole > 0 ? SQUARED ")" : SQUARED);
}

/* Slopes count by the part of the bend that is seen from the side, headings
 * by the other one. */
static void explain_joint_u(struct explain *explain, size_t j,
                            const double *u, const struct budget *budget,
                            double heading_u)
{
    const struct ht_estimate *angle = &explain->angles->joint[j].angle_rad;
    double side = explain->side[j], plan = explain->plan[j];
    double whole = hypot(side, plan);
    struct ht_text line;
    whole = round(whole * 1e4) / 1e4;
    double down = whole > 0 ? fabs(side) / whole : 1;
    double left = whole > 0 ? fabs(plan) / whole : 0;
    explain_open(&line, EXPLAIN_SURE_JOINT, j + 1);
    ht_text_add(&line, EXPLAIN_SQRT);
    if (whole > 0 && plan != 0)
        put_share(&line, side, whole);
    put_squares(&line, u[j], u[j + 1]);
    if (whole > 0 && plan != 0) {
        ht_text_add(&line, ") + ");
        put_share(&line, plan, whole);
        put_squares(&line, heading_u, heading_u);
        ht_text_add(&line, ")");
    }
    double times = fabs(explain->model.reading[j + 1].zero -
                        explain->model.reading[j].zero);
    if (times > 0 && down > 0)
        put_zero(&line, side, whole, times, budget->zero);
    ht_text_add(&line, ")");
    double zero = times * budget->zero;
    double sum = down * down *
                     (u[j] * u[j] + u[j + 1] * u[j + 1] + zero * zero) +
                 2 * left * left * heading_u * heading_u;
    double root = explain_result(&line, sqrt(sum), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    if (fabs(root - angle->u * HT_DEG_PER_RAD) > 0.01 * root + 1e-3)
        explain_sentence(explain, EXPLAIN_SURE_OTHER);
    double factor = (angle->high - angle->value) / angle->u;
    explain_open(&line, EXPLAIN_SURE_RANGE, j + 1);
    (void)explain_number(&line, root, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " ");
    factor = explain_number(&line, factor, 3);
    (void)explain_result(&line, root * factor, 2);
    explain_close(explain, &line);
}

void explain_sureness(struct explain *explain)
{
    struct ht_gauge gauge = ht_gauge_filled(explain->driveline->gauge);
    double u[HT_MEMBERS_MAX];
    double heading_u =
        round(explain->model.heading_u_rad * HT_DEG_PER_RAD * 1e4) / 1e4;
    explain_heading(explain, EXPLAIN_SURE);
    struct budget budget = explain_gauge(explain, gauge);
    if (explain->driveline->by_joint) {
        explain_sentence(explain, EXPLAIN_SURE_DIFFERENCES);
        return;
    }
    explain_sentence(explain, EXPLAIN_SURE_BUDGET);
    for (size_t i = 0; i < explain->model.chain.members; i++)
        u[i] = explain_reading_u(explain, i, gauge, &budget);
    explain_sentence(explain, EXPLAIN_SURE_JOINTS);
    for (size_t j = 0; j < explain->model.joints; j++)
        explain_joint_u(explain, j, u, &budget, heading_u);
}

/* ---- 8: limits ---------------------------------------------------------- */

static void explain_limit(struct explain *explain,
                          const struct ht_limit_verdict *v)
{
    bool shake = strcmp(v->unit, "rad/s2") == 0;
    double scale = shake ? 1 : HT_DEG_PER_RAD;
    int decimals = shake ? 1 : EXPLAIN_DEGREES;
    struct ht_text line = { 0 }, what = { 0 }, set = { 0 };
    double over = v->is_minimum ? v->limit - v->value : v->value - v->limit;
    if (!(v->u * scale >= pow(10, -decimals)) || !isfinite(over))
        return; /* nothing to divide by at these decimals */
    ht_text_addf(&line, v->is_minimum ? EXPLAIN_BELOW : EXPLAIN_AWAY,
                 cleaned(&what, v->what), id_words(&set, v->set));
    ht_text_add(&line, "(");
    double a = explain_number(&line, (v->is_minimum ? v->limit : v->value) *
                                         scale, decimals);
    ht_text_add(&line, " " MINUS " ");
    double b = explain_number(&line, (v->is_minimum ? v->value : v->limit) *
                                         scale, decimals);
    ht_text_add(&line, ") / ");
    double u = explain_number(&line, v->u * scale, decimals);
    (void)explain_result(&line, (a - b) / u, 1);
    explain_close(explain, &line);
    if (verdict_has_chance(v))
        ht_text_addf(&line, v->is_minimum ? EXPLAIN_VERDICT_UNDER
                                          : EXPLAIN_VERDICT_OVER,
                     verdict_in_100(v), verdict_word(v->verdict));
    else
        ht_text_addf(&line, EXPLAIN_VERDICT_SIDE, verdict_word(v->verdict));
    explain_made(explain, &line);
    ht_text_end(explain->out, &what);
    ht_text_end(explain->out, &set);
}

void explain_limits(struct explain *explain)
{
    const struct ht_angles *angles = explain->angles;
    explain_heading(explain, EXPLAIN_LIMITS);
    if (!angles->verdict_allowed) {
        explain_sentence(explain, EXPLAIN_NO_VERDICT);
        return;
    }
    if (angles->verdicts > LIMIT_LINES) {
        struct ht_text text = { 0 };
        ht_text_addf(&text, EXPLAIN_MANY_LIMITS, angles->verdicts);
        explain_made(explain, &text);
        return;
    }
    explain_sentence(explain, EXPLAIN_RULE);
    for (size_t i = 0; i < angles->verdicts; i++)
        explain_limit(explain, &angles->verdict[i]);
}
