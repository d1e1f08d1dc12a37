/* Step 6: shake; and, in step 7, how sure a single joint's is. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"

#include "angles/spread.h"
#include "common/constants.h"

#include <math.h>

/* ---- speed -------------------------------------------------------------- */

/* From the road speed, where that is where it comes from. */
static bool is_from_road(const struct explain *explain)
{
    const struct ht_accelerations *a = &explain->angles->accelerations;
    const struct ht_rotation *r = &explain->workup->rotation;
    double rpm = a->speed_m_s / r->circumference_m * explain->shaft_turns;
    return explain->workup->has_rotation && isfinite(rpm) &&
           fabs(rpm * 2 * HT_PI / a->shaft_rad_s - 1) < 1e-3;
}

static double explain_road_speed(struct explain *explain)
{
    const struct ht_rotation *r = &explain->workup->rotation;
    struct ht_text line;
    double km_h = explain->angles->accelerations.speed_m_s * HT_KM_H_PER_M_S;
    km_h = explain_given(explain, EXPLAIN_ROAD, 0, km_h, 1);
    double way = explain_given(explain, EXPLAIN_WHEEL, 0, r->circumference_m,
                               EXPLAIN_DEGREES);
    double turns = explain_given(explain, EXPLAIN_TURNS, 0,
                                 explain->shaft_turns, EXPLAIN_DEGREES);
    explain_open(&line, EXPLAIN_RPM, 0);
    (void)explain_number(&line, km_h, 1);
    ht_text_add(&line, " / 3.6 / ");
    (void)explain_number(&line, way, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " ");
    (void)explain_number(&line, turns, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " 60");
    double rpm = explain_result(&line, km_h / 3.6 / way * turns * 60,
                                EXPLAIN_SPEED);
    explain_close(explain, &line);
    return rpm;
}

static void explain_shaft_speed(struct explain *explain)
{
    double w_rad_s = explain->angles->accelerations.shaft_rad_s;
    struct ht_text line;
    double rpm = is_from_road(explain)
                     ? explain_road_speed(explain)
                     : explain_given(explain, EXPLAIN_RPM, 0,
                                     w_rad_s * 60 / (2 * HT_PI),
                                     EXPLAIN_SPEED);
    explain_open(&line, EXPLAIN_W, 0);
    ht_text_add(&line, "2 " TIMES " 3.14159265 " TIMES " ");
    (void)explain_number(&line, rpm, EXPLAIN_SPEED);
    ht_text_add(&line, " / 60");
    explain->w_rad_s = explain_result(&line, 2 * 3.14159265 * rpm / 60,
                                      EXPLAIN_SPEED);
    explain_close(explain, &line);
}

/* ---- shake -------------------------------------------------------------- */

static double explain_rate(struct explain *explain, const char *name,
                           double size)
{
    struct ht_text line;
    double w = explain->w_rad_s;
    explain_open(&line, name, 0);
    ht_text_add(&line, "4 " TIMES " ");
    (void)explain_number(&line, w, EXPLAIN_SPEED);
    ht_text_add(&line, SQUARED " " TIMES " ");
    (void)explain_number(&line, size, EXPLAIN_PARTS);
    double rate = explain_result(&line, 4 * w * w * size, EXPLAIN_RATE);
    explain_close(explain, &line);
    return rate;
}

/* What the answer holds against a limit is the middle of the draws. */
static struct explained explain_drawn(struct explain *explain,
                                      const struct ht_estimate *e)
{
    struct ht_text text = { 0 };
    struct explained drawn = { explain_rounded(e->value, EXPLAIN_RATE),
                               explain_rounded(e->u, EXPLAIN_RATE) };
    ht_text_addf(&text, EXPLAIN_SHAKE_DRAWN, HT_SPREAD_DRAWS,
                 shown_number(drawn.value, EXPLAIN_RATE).text,
                 shown_number(drawn.u, EXPLAIN_RATE).text);
    explain_made(explain, &text);
    return drawn;
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

static double explain_section(struct explain *explain)
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
    return explain_rate(explain, EXPLAIN_SECTION_SHAKE, length);
}

void explain_shake(struct explain *explain)
{
    const struct ht_angles *angles = explain->angles;
    size_t last = explain->model.joints - 1;
    bool alone = explain_only_cardan(explain) <= last;
    explain_heading(explain, EXPLAIN_SHAKE);
    if (!isfinite(angles->accelerations.shaft_rad_s)) {
        explain_sentence(explain, EXPLAIN_NO_SPEED);
        return;
    }
    explain_shaft_speed(explain);
    explain->axle.value = explain_rate(explain, EXPLAIN_AXLE, explain->length);
    if (!alone)
        explain->axle = explain_drawn(explain, &angles->accelerations.axle);
    explain->pulled.value =
        explain_rate(explain, EXPLAIN_PULLED, explain->size[0]);
    explain->held.value =
        explain_rate(explain, EXPLAIN_HELD, explain->size[last]);
    if (last < 2)
        return;
    explain->section.value = explain_section(explain);
    if (!alone)
        explain->section = explain_drawn(explain, &angles->section_rad_s2);
}

/* ---- its uncertainty ---------------------------------------------------- */

/* The slope of 4 w^2 tan^2(b/2), times the angle's own. */
static double explain_rate_u(struct explain *explain, const char *name,
                             size_t j)
{
    struct ht_text line;
    double w = explain->w_rad_s, u = explain->joint[j].u;
    double half = explain->bend[j] / 2;
    double t = tan(half * HT_RAD_PER_DEG);
    explain_open(&line, name, 0);
    ht_text_add(&line, "4 " TIMES " ");
    (void)explain_number(&line, w, EXPLAIN_SPEED);
    ht_text_add(&line, SQUARED " " TIMES " " EXPLAIN_TAN);
    (void)explain_number(&line, explain->bend[j], EXPLAIN_DEGREES);
    ht_text_add(&line, " / 2) " TIMES " (1 + " EXPLAIN_TAN);
    (void)explain_number(&line, explain->bend[j], EXPLAIN_DEGREES);
    ht_text_add(&line, " / 2)" SQUARED ") " TIMES " ");
    (void)explain_number(&line, u, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " 3.14159265 / 180");
    double rate = 4 * w * w * t * (1 + t * t) * u * 3.14159265 / 180;
    rate = explain_result(&line, rate, EXPLAIN_RATE);
    explain_close(explain, &line);
    return rate;
}

void explain_shakes_sure(struct explain *explain)
{
    size_t last = explain->model.joints - 1;
    size_t only = explain_only_cardan(explain);
    const enum ht_joint_kind *kind = explain->model.chain.kind;
    if (!(explain->w_rad_s > 0))
        return;
    explain_sentence(explain, EXPLAIN_SHAKE_SURE);
    if (ht_joint_is_cardan(kind[0]))
        explain->pulled.u = explain_rate_u(explain, EXPLAIN_PULLED, 0);
    if (ht_joint_is_cardan(kind[last]))
        explain->held.u = explain_rate_u(explain, EXPLAIN_HELD, last);
    if (only <= last)
        explain->axle.u = explain->section.u =
            explain_rate_u(explain, EXPLAIN_AXLE, only);
}
