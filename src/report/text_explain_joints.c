/* Step 7, of joints and of the difference of a pair: their readings' shares. */
#include "explain.h"

#include "markup.h"
#include "shown.h"
#include "texts_explain.h"

#include "angles/interval.h"
#include "common/constants.h"
#include "common/statistics.h"

#include <math.h>
#include <stdlib.h>

/* How much of a bend is seen from the side and from above, signed. */
struct seen {
    double side, plan;
};

static double explain_share(struct explain *explain, const char *name, size_t j,
                            double part)
{
    struct ht_text line;
    explain_open(&line, name, j + 1);
    part = explain_number(&line, part, EXPLAIN_DEGREES);
    ht_text_add(&line, " / ");
    double whole =
        explain_number(&line, explain->pythagoras[j], EXPLAIN_DEGREES);
    double share = explain_result(&line, part / whole, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return share;
}

static struct seen explain_seen(struct explain *explain, size_t j)
{
    struct seen seen = { 1, 0 };
    if (!(explain->pythagoras[j] > 0)) {
        (void)explain_given(explain, EXPLAIN_SURE_STRAIGHT, j + 1, 1,
                            EXPLAIN_DEGREES);
        return seen;
    }
    seen.side = explain_share(explain, EXPLAIN_SURE_SIDE, j, explain->side[j]);
    if (!explain->model.side_view_only)
        seen.plan =
            explain_share(explain, EXPLAIN_SURE_PLAN, j, explain->plan[j]);
    return seen;
}

/* ---- under a root ------------------------------------------------------- */

struct root {
    struct ht_text line;
    double sum;
    bool begun;
};

static void root_open(struct root *root, const char *name, size_t a, size_t b)
{
    *root = (struct root){ 0 };
    ht_text_addf(&root->line, name, a, b);
    ht_text_add(&root->line, EXPLAIN_SQRT);
}

/* (share x u)^2 */
static void root_part(struct root *root, double share, double u)
{
    if (explain_rounded(share * u, EXPLAIN_PARTS) == 0)
        return;
    ht_text_add(&root->line, root->begun ? " + (" : "(");
    share = explain_size(&root->line, share, EXPLAIN_DEGREES);
    ht_text_add(&root->line, " " TIMES " ");
    u = explain_number(&root->line, u, EXPLAIN_DEGREES);
    ht_text_add(&root->line, ")" SQUARED);
    root->sum += share * share * u * u;
    root->begun = true;
}

/* Where the program's own figure has more in it, that one is carried on. */
static double root_close(struct explain *explain, struct root *root,
                         double own_rad)
{
    double own = in_degrees(own_rad);
    ht_text_add(&root->line, root->begun ? ")" : "0.0000)");
    double u =
        explain_result(&root->line, sqrt(root->sum), EXPLAIN_DEGREES);
    explain_close(explain, &root->line);
    if (fabs(u - own) <= 0.01 * own + 2e-4)
        return u;
    struct ht_text text = { 0 };
    u = explain_rounded(own, EXPLAIN_DEGREES);
    ht_text_addf(&text, EXPLAIN_SURE_OTHER,
                 shown_number(u, EXPLAIN_DEGREES).text);
    explain_made(explain, &text);
    return u;
}

/* What takes part twice: a shaft in both joints of it, a zero error in readings
 * along and across the axis. */
static double explain_both(struct explain *explain, const char *name,
                           size_t member, double front, double rear)
{
    struct ht_text line;
    explain_open(&line, name, member + 1);
    front = explain_number(&line, front, EXPLAIN_DEGREES);
    rear = explain_next(&line, rear, EXPLAIN_DEGREES, false);
    double both = explain_result(&line, front + rear, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return both;
}

/* ---- a joint ------------------------------------------------------------ */

static double explain_joint_u(struct explain *explain, size_t j,
                              struct seen seen,
                              const struct explain_budget *budget)
{
    const struct ht_model *model = &explain->model;
    const double *u = explain->reading_u;
    struct root root;
    if (model->by_joint)
        return u[j];
    double times = fabs(model->reading[j + 1].zero - model->reading[j].zero);
    double zero = times * seen.side;
    if (times > 1)
        zero = explain_both(explain, EXPLAIN_SURE_TWICE, j, seen.side,
                            seen.side);
    root_open(&root, EXPLAIN_SURE_JOINT, j + 1, 0);
    root_part(&root, seen.side, u[j]);
    root_part(&root, seen.side, u[j + 1]);
    root_part(&root, seen.plan, budget->heading);
    root_part(&root, seen.plan, budget->heading);
    root_part(&root, zero, budget->zero);
    return root_close(explain, &root, ht_model_joint_u(model, j).u_rad);
}

/* Far from nothing the range is that of the normal law, or Student's. */
static void explain_range(struct explain *explain, size_t j)
{
    const struct ht_estimate *e = &explain->angles->joint[j].angle_rad;
    struct ht_text line, text = { 0 };
    double dof = ht_joint_plane(&explain->model, j).dof;
    double u = explain->joint[j].u;
    double t = isfinite(dof) ? ht_student_quantile(0.975, dof)
                             : ht_normal_quantile(0.975);
    if (explain_rounded(t, 2) > 1.96) {
        ht_text_addf(&text, EXPLAIN_SURE_STUDENT, shown_number(dof, 1).text,
                     shown_number(t, 2).text);
        explain_made(explain, &text);
    }
    explain_open(&line, EXPLAIN_SURE_RANGE, j + 1);
    t = explain_number(&line, t, 2);
    ht_text_add(&line, " " TIMES " ");
    (void)explain_number(&line, u, EXPLAIN_DEGREES);
    double half = explain_result(&line, t * u, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    double above = in_degrees(e->high - e->value);
    double below = in_degrees(e->value - e->low);
    double apart = fmax(fabs(above - half), fabs(below - half));
    ht_text_addf(&text, apart < 0.005 + 0.03 * half ? EXPLAIN_SURE_ANSWER
                                                    : EXPLAIN_SURE_COUNTED,
                 shown_angle_range(e).text);
    explain_made(explain, &text);
}

/* ---- the difference of a pair ------------------------------------------- */

static double explain_gap(struct explain *explain, size_t front, size_t rear)
{
    double a = fmax(explain->bend[front], explain->bend[rear]);
    double b = fmin(explain->bend[front], explain->bend[rear]);
    struct ht_text line = { 0 };
    ht_text_addf(&line, EXPLAIN_SURE_GAP, front + 1, rear + 1);
    a = explain_number(&line, a, EXPLAIN_DEGREES);
    ht_text_add(&line, " " MINUS " ");
    b = explain_number(&line, b, EXPLAIN_DEGREES);
    double gap = explain_result(&line, a - b, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return gap;
}

static double zero_share(struct explain *explain, size_t front,
                         const double *share)
{
    const struct ht_reading *reading = &explain->model.reading[front];
    struct ht_text line;
    double sum = 0;
    bool alike = reading[0].zero == reading[1].zero &&
                 reading[1].zero == reading[2].zero;
    if (alike)
        return 0;
    explain_open(&line, EXPLAIN_SURE_ZERO_SHARE, front + 2);
    bool begun = false;
    for (size_t i = 0; i < 3; i++) {
        if (reading[i].zero == 0)
            continue;
        sum += explain_next(&line, reading[i].zero * share[i], EXPLAIN_DEGREES,
                            !begun);
        begun = true;
    }
    sum = explain_result(&line, sum, EXPLAIN_DEGREES);
    explain_close(explain, &line);
    return sum;
}

static void explain_pair(struct explain *explain, size_t p,
                         const struct seen *seen,
                         const struct explain_budget *budget)
{
    const struct ht_model *model = &explain->model;
    size_t front = model->pair[p].front, rear = model->pair[p].rear;
    const double *u = explain->reading_u;
    struct explained *pair = &explain->pair[p];
    struct root root;
    pair->value = explain_gap(explain, front, rear);
    if (model->by_joint) {
        root_open(&root, EXPLAIN_SURE_PAIR, front + 1, rear + 1);
        root_part(&root, 1, u[front]);
        root_part(&root, 1, u[rear]);
        pair->u = root_close(explain, &root, ht_model_pair_u(model, p).u_rad);
        return;
    }
    double share[] = { -seen[front].side, 0, -seen[rear].side }, plan = 0;
    share[1] = explain_both(explain, EXPLAIN_SURE_BOTH_SIDE, rear,
                            seen[front].side, seen[rear].side);
    if (budget->heading > 0 && !model->by_offsets)
        plan = explain_both(explain, EXPLAIN_SURE_BOTH_PLAN, rear,
                            seen[front].plan, seen[rear].plan);
    double zero = zero_share(explain, front, share);
    root_open(&root, EXPLAIN_SURE_PAIR, front + 1, rear + 1);
    for (size_t i = 0; i < 3; i++)
        root_part(&root, share[i], u[front + i]);
    root_part(&root, seen[front].plan, budget->heading);
    root_part(&root, plan, budget->heading);
    root_part(&root, seen[rear].plan, budget->heading);
    root_part(&root, zero, budget->zero);
    pair->u = root_close(explain, &root, ht_model_pair_u(model, p).u_rad);
}

void explain_joints_sure(struct explain *explain,
                         const struct explain_budget *budget)
{
    struct seen seen[HT_JOINTS_MAX] = { { 1, 0 } };
    size_t only = explain_only_cardan(explain);
    if (!explain->model.by_joint)
        explain_sentence(explain, EXPLAIN_SURE_JOINTS);
    for (size_t j = 0; j < explain->model.joints; j++) {
        if (!explain->model.by_joint)
            seen[j] = explain_seen(explain, j);
        explain->joint[j] = (struct explained){
            explain->bend[j], explain_joint_u(explain, j, seen[j], budget)
        };
        explain_range(explain, j);
    }
    if (only < explain->model.joints)
        explain->leftover = explain->joint[only];
    if (explain->model.pairs > 0)
        explain_sentence(explain, EXPLAIN_SURE_PAIRS);
    for (size_t p = 0; p < explain->model.pairs; p++)
        explain_pair(explain, p, seen, budget);
}
