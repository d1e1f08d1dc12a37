/* Step 7: how sure. The parts of one reading, then of a joint. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"

#include "common/constants.h"

#include <math.h>

/* ---- the gauge ---------------------------------------------------------- */

static double root_line(struct explain *explain, const char *name, double value,
                        double under, const char *root)
{
    struct ht_text line;
    explain_open(&line, name, 0);
    value = explain_number(&line, value, EXPLAIN_DEGREES);
    ht_text_add(&line, root);
    double result =
        explain_result(&line, value / sqrt(under), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return result;
}

static struct explain_budget explain_gauge(struct explain *explain,
                                           struct ht_gauge gauge)
{
    struct explain_budget budget = {
        .accuracy = explain_given(explain, EXPLAIN_SURE_ACCURACY, 0,
                                  in_degrees(gauge.accuracy_rad),
                                  EXPLAIN_DEGREES),
        .shown = explain_given(explain, EXPLAIN_SURE_SHOWN, 0,
                               in_degrees(gauge.step_rad), EXPLAIN_DEGREES),
        .set_up = explain_given(explain, EXPLAIN_SURE_SET_UP, 0,
                                in_degrees(gauge.set_up_rad),
                                EXPLAIN_DEGREES),
    };
    if (explain->model.heading_u_rad > 0)
        budget.heading = explain_given(
            explain, EXPLAIN_SURE_HEADING, 0,
            in_degrees(explain->model.heading_u_rad), EXPLAIN_DEGREES);
    /* the one share that is not asked for: half of it is zero error */
    budget.zero = root_line(explain, EXPLAIN_SURE_ZERO, budget.accuracy, 6,
                            " / sqrt(6)");
    budget.rest = root_line(explain, EXPLAIN_SURE_REST, budget.accuracy, 6,
                            " / sqrt(6)");
    budget.step = root_line(explain, EXPLAIN_SURE_STEP, budget.shown, 12,
                            " / sqrt(12)");
    return budget;
}

/* ---- one reading -------------------------------------------------------- */

/* What is under a root, a part at a time; nothing is left out as nothing. */
struct root {
    struct ht_text *line;
    double sum;
    bool begun;
};

static void root_part(struct root *root, double part, const char *behind,
                      double over)
{
    if (explain_rounded(part, EXPLAIN_DEGREES) == 0)
        return;
    ht_text_add(root->line, root->begun ? " + " : "");
    root->sum += explain_squared(root->line, part) / over;
    ht_text_add(root->line, behind);
    root->begun = true;
}

static double root_closed(struct explain *explain, struct root *root)
{
    ht_text_add(root->line, root->begun ? ")" : "0.0000)");
    double u = explain_result(root->line, sqrt(root->sum), EXPLAIN_DEGREES);
    explain_close(explain, root->line);
    return u;
}

static double explain_scatter(struct explain *explain, size_t m)
{
    const struct ht_numbers *readings =
        &explain->driveline->slope[m].readings_rad;
    struct ht_text line;
    double mean = explain->driveline->slope[m].is_face
                      ? 90 - explain->slope[m]
                      : explain->slope[m];
    double squares = 0, n = (double)readings->count;
    explain_open(&line, EXPLAIN_SURE_SCATTER, m + 1);
    ht_text_add(&line, EXPLAIN_SQRT "(");
    for (size_t i = 0; i < readings->count; i++) {
        ht_text_add(&line, i ? " + (" : "(");
        double off = explain_number(&line, in_degrees(readings->value[i]),
                                    EXPLAIN_DEGREES);
        off -= explain_less(&line, mean, EXPLAIN_DEGREES);
        ht_text_add(&line, ")" SQUARED);
        squares += off * off;
    }
    ht_text_addf(&line, ") / %zu)", readings->count - 1);
    double scatter =
        explain_result(&line, sqrt(squares / (n - 1)), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    explain_open(&line, EXPLAIN_SURE_MEAN, m + 1);
    (void)explain_number(&line, scatter, EXPLAIN_DEGREES);
    ht_text_addf(&line, " / sqrt(%zu)", readings->count);
    double result = explain_result(&line, scatter / sqrt(n), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return result;
}

/* Set-up from what the gauge showed crosswise: docs/angles.md. */
static double explain_crosswise(struct explain *explain, size_t m,
                                const struct explain_budget *budget)
{
    const struct ht_numbers *shown =
        &explain->driveline->slope[m].crosswise_rad;
    struct ht_text line;
    double worst = 0, g, s = explain->slope[m];
    for (size_t i = 0; i < shown->count; i++)
        worst = fmax(worst, fabs(in_degrees(shown->value[i])));
    explain_open(&line, EXPLAIN_SURE_ALONG, m + 1);
    ht_text_addf(&line, "%d " TIMES " 3.14159265 / 180", HT_ALONG_DEG);
    g = explain_result(&line, HT_ALONG_DEG * 3.14159265 / 180, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    explain_open(&line, EXPLAIN_SURE_LEAN, m + 1);
    ht_text_add(&line, EXPLAIN_SQRT);
    double sum = explain_squared(&line, worst);
    ht_text_add(&line, " + ");
    sum += explain_squared(&line, budget->accuracy) / 3;
    ht_text_add(&line, " / 3 + ");
    sum += explain_squared(&line, budget->shown) / 12;
    ht_text_add(&line, " / 12 + (");
    (void)explain_number(&line, g, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " ");
    (void)explain_size(&line, s, EXPLAIN_DEGREES);
    ht_text_add(&line, ")" SQUARED ")");
    double lean =
        explain_result(&line, sqrt(sum + g * g * s * s), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    explain_open(&line, EXPLAIN_SURE_PLACED, m + 1);
    ht_text_add(&line, EXPLAIN_SQRT "(");
    (void)explain_number(&line, g, EXPLAIN_DEGREES);
    ht_text_add(&line, " " TIMES " ");
    (void)explain_number(&line, lean, EXPLAIN_DEGREES);
    ht_text_add(&line, ")" SQUARED " + 0.75 " TIMES " (");
    (void)explain_number(&line, g, EXPLAIN_DEGREES);
    ht_text_add(&line, SQUARED " " TIMES " ");
    (void)explain_size(&line, s, EXPLAIN_DEGREES);
    ht_text_add(&line, ")" SQUARED " + ");
    sum = g * g * lean * lean + 0.75 * g * g * g * g * s * s +
          explain_squared(&line, HT_BURR_DEG);
    ht_text_add(&line, ")");
    double result = explain_result(&line, sqrt(sum), EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return result;
}

static double explain_set_up(struct explain *explain, size_t m,
                             const struct explain_budget *budget)
{
    const struct ht_sheet_slope *slope = &explain->driveline->slope[m];
    if (isfinite(slope->set_up_rad))
        return explain_given(explain, EXPLAIN_SURE_OWN_SET_UP, m + 1,
                             in_degrees(slope->set_up_rad), EXPLAIN_DEGREES);
    return slope->crosswise_rad.count > 0
               ? explain_crosswise(explain, m, budget)
               : budget->set_up;
}

static double explain_surface(struct explain *explain, const char *name,
                              size_t number, enum ht_surface own)
{
    enum ht_surface surface =
        own == HT_SURFACE_UNKNOWN ? explain->driveline->read_on : own;
    double u = in_degrees(ht_surface_u_rad(surface));
    return u > 0 ? explain_given(explain, name, number, u, EXPLAIN_DEGREES) : 0;
}

/* Turned round: two looks at one placing. Opposite caps: two of both. */
static double explain_reading_u(struct explain *explain, size_t m,
                                const struct explain_budget *budget)
{
    const struct ht_sheet_slope *slope = &explain->driveline->slope[m];
    bool turned = ht_slope_turned(slope);
    bool opposite = !turned && slope->opposite_rad.count == 2;
    double set_up = explain_set_up(explain, m, budget);
    double surface = explain_surface(explain, EXPLAIN_SURE_SURFACE, m + 1,
                                     slope->read_on);
    bool repeats = explain->model.reading[m].repeats > 1;
    double scatter = repeats ? explain_scatter(explain, m) : 0;
    struct ht_text line;
    explain_open(&line, turned     ? EXPLAIN_SURE_TURNED
                        : opposite ? EXPLAIN_SURE_OPPOSITE
                                   : EXPLAIN_SURE_READING, m + 1);
    ht_text_add(&line, EXPLAIN_SQRT);
    struct root root = { .line = &line };
    const char *looks = turned || opposite ? " / 2" : "";
    root_part(&root, budget->rest, looks, turned || opposite ? 2 : 1);
    root_part(&root, budget->step, looks, turned || opposite ? 2 : 1);
    root_part(&root, set_up, opposite ? " / 2" : "", opposite ? 2 : 1);
    root_part(&root, surface, opposite ? " / 2" : "", opposite ? 2 : 1);
    root_part(&root, scatter, "", 1);
    return root_closed(explain, &root);
}

/* Cap to cap: two looks and two placings, and no zero error. */
static double explain_difference_u(struct explain *explain, size_t j,
                                   const struct explain_budget *budget)
{
    double surface = explain_surface(explain, EXPLAIN_SURE_SURFACE_JOINT, j + 1,
                                     HT_SURFACE_UNKNOWN);
    struct ht_text line;
    explain_open(&line, EXPLAIN_SURE_DIFFERENCE, j + 1);
    ht_text_add(&line, EXPLAIN_SQRT);
    struct root root = { .line = &line };
    root_part(&root, budget->rest, " " TIMES " 2", 0.5);
    root_part(&root, budget->step, " " TIMES " 2", 0.5);
    root_part(&root, budget->set_up, " " TIMES " 2", 0.5);
    root_part(&root, surface, " " TIMES " 2", 0.5);
    return root_closed(explain, &root);
}

void explain_sureness(struct explain *explain)
{
    struct explain_budget budget;
    struct ht_gauge gauge = ht_gauge_filled(explain->driveline->gauge);
    bool by_joint = explain->driveline->by_joint;
    explain_heading(explain, EXPLAIN_SURE);
    budget = explain_gauge(explain, gauge);
    explain_sentence(explain, by_joint ? EXPLAIN_SURE_DIFFERENCES
                                       : EXPLAIN_SURE_BUDGET);
    for (size_t i = 0; i < explain->model.readings; i++)
        explain->reading_u[i] =
            by_joint ? explain_difference_u(explain, i, &budget)
                     : explain_reading_u(explain, i, &budget);
    explain_joints_sure(explain, &budget);
    explain_shakes_sure(explain);
}
