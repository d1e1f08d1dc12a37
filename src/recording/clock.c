#include "clock.h"

#include "common/limits.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "common/statistics.h"
#include "halfturn/status.h"
#include "signal/solve.h"

#include <math.h>

static const double KNOT_S = 30;

static double clamp(double x, double low, double high)
{
    return x < low ? low : x > high ? high : x;
}

/* Runs of steps out of the whole table are enough for their middle. */
enum { STEPS_LOOKED_AT = 16384, STEPS_IN_A_RUN = 64 };

/* Middle of the steps: jitter and a few lost samples do not move it. */
static bool median_step(const double *stamp_s, size_t n, double *step_s)
{
    size_t steps = n - 1, every = 1 + (steps - 1) / STEPS_LOOKED_AT;
    size_t count = 0, most = steps / every + STEPS_IN_A_RUN;
    double *step = ht_allocate(most, sizeof *step);
    if (!step)
        return false;
    for (size_t i = 0; i < steps; i++) {
        if (every > 1 && i % STEPS_IN_A_RUN == 0 && i > 0)
            i += (every - 1) * STEPS_IN_A_RUN;
        if (i < steps && count < most)
            step[count++] = stamp_s[i + 1] - stamp_s[i];
    }
    *step_s = ht_median(step, count);
    ht_release(step);
    return true;
}

/* How much later than expected the next rows come: the middle of seven, so
 * that one late stamp is not taken for a lost sample. */
static double lateness(const double *stamp_s, size_t n, size_t at,
                       double expected_s, double step_s)
{
    double late[7] = { 0 };
    size_t count = 0;
    for (size_t k = 0; k < 7 && at + k < n; k++)
        late[count++] = stamp_s[at + k] - (expected_s + (double)k * step_s);
    return ht_median(late, count);
}

/* With none of the next four late the middle of seven is not: nearly every
 * row is done with that. */
static bool may_be_late(const double *stamp_s, size_t n, size_t at,
                        double expected_s, double step_s, double limit_s)
{
    bool late = false;
    if (at + 7 > n)
        return true;
    for (size_t k = 0; k < 4; k++)
        late |= stamp_s[at + k] - (expected_s + (double)k * step_s) > limit_s;
    return late;
}

/* The middle of seven sees a gap up to three rows before it comes: it lies at
 * the widest of those steps. */
static bool widest_step_here(const double *stamp_s, size_t n, size_t at)
{
    double here = stamp_s[at] - stamp_s[at - 1];
    for (size_t k = at + 1; k < n && k <= at + 3; k++)
        if (stamp_s[k] - stamp_s[k - 1] > here)
            return false;
    return true;
}

/* Follows the stamps with a slow loop and counts the samples that are
 * missing between two rows. */
static bool count_slots(struct clock_fit *fit, const double *stamp_s, size_t n,
                        double step_s)
{
    const double gain = 0.02, drift_gain = 1e-4;
    double expected = stamp_s[0], base = step_s;
    size_t room = 0;
    for (size_t i = 0; i < n; i++) {
        double limit = 0.75 * step_s, late = 0;
        if (i > 0 && may_be_late(stamp_s, n, i, expected, step_s, limit))
            late = lateness(stamp_s, n, i, expected, step_s);
        if (late > limit && widest_step_here(stamp_s, n, i)) {
            double lost = round(late / step_s);
            fit->lost += (size_t)lost;
            expected += lost * step_s;
            if (!ht_grow((void **)&fit->loss, &room, fit->losses + 1,
                         sizeof *fit->loss))
                return false;
            fit->loss[fit->losses++] = (struct clock_loss){ i, fit->lost };
        }
        double error = stamp_s[i] - expected;
        if (fabs(error) > 2 * base) /* so rare that nothing waits for it */
            error = copysign(2 * base, error);
        step_s += drift_gain * error;
        if (!(step_s >= 0.9 * base && step_s <= 1.1 * base))
            step_s = clamp(step_s, 0.9 * base, 1.1 * base);
        expected += step_s + gain * error;
    }
    fit->slots = n + fit->lost;
    return true;
}

struct clock_rows ht_clock_rows(const struct clock_fit *fit, size_t row)
{
    size_t low = 0, high = fit->losses; /* the first at or behind the row */
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (fit->loss[middle].row < row)
            low = middle + 1;
        else
            high = middle;
    }
    return (struct clock_rows){ fit, row, low ? fit->loss[low - 1].lost : 0,
                                low };
}

/* A broken line through the stamps: knots even in slots. */
struct broken_line {
    double *band, *right;   /* of its equations; then right: at the knots */
    size_t knots;
    double spacing;         /* slots between knots */
};

/* Adds rows to the equations of the knots on both sides, knot by knot. */
static void add_rows(struct broken_line *line, const struct clock_fit *fit,
                     const double *stamp_s, size_t n)
{
    struct clock_rows rows = ht_clock_rows(fit, 0);
    for (size_t k = 0; k + 1 < line->knots; k++) {
        double *band = line->band + 2 * k, *right = line->right + k;
        double ll = band[0], lh = band[1], hh = band[2];
        double low_sum = right[0], high_sum = right[1];
        double end = k + 2 < line->knots ? (double)(k + 1) : INFINITY;
        while (rows.row < n) {
            double stamp = stamp_s[rows.row] - stamp_s[0];
            const struct clock_rows before = rows;
            double place = (double)ht_clock_next_slot(&rows) / line->spacing;
            if (!(place < end)) {
                rows = before;
                break;
            }
            double high = place - (double)k, low = 1 - high;
            ll += low * low;
            lh += low * high;
            hh += high * high;
            low_sum += low * stamp;
            high_sum += high * stamp;
        }
        band[0] = ll;
        band[1] = lh;
        band[2] = hh;
        right[0] = low_sum;
        right[1] = high_sum;
    }
}

static double line_at(const struct broken_line *line, size_t slot)
{
    double place = (double)slot / line->spacing;
    size_t k = (size_t)place;
    k = k > line->knots - 2 ? line->knots - 2 : k;
    return line->right[k] +
           (place - (double)k) * (line->right[k + 1] - line->right[k]);
}

/* Least squares. HT_BAD_FILE: the equations have no solution. */
static enum ht_status fit_broken_line(struct broken_line *line,
                                      const struct clock_fit *fit,
                                      const double *stamp_s, size_t n)
{
    line->spacing = (double)(fit->slots - 1) / (double)(line->knots - 1);
    line->band = ht_allocate(2 * line->knots, sizeof *line->band);
    line->right = ht_allocate(line->knots, sizeof *line->right);
    if (!line->band || !line->right)
        return HT_NO_MEMORY;
    add_rows(line, fit, stamp_s, n);
    /* a knot without rows around it leans on its neighbours */
    for (size_t k = 0; k < line->knots; k++)
        line->band[2 * k] += 1e-9;
    return ht_solve_banded(line->band, 1, line->right, line->knots, 1)
               ? HT_OK
               : HT_BAD_FILE;
}

/* Rows of a table that are judged side by side. */
enum { SHARES = 8 };
struct judging {
    const struct broken_line *line;
    const struct clock_fit *fit;
    const double *stamp_s;
    size_t rows;
    double square[SHARES];
};

static void judge_share(void *context, size_t index)
{
    struct judging *judging = context;
    const double *stamp_s = judging->stamp_s;
    size_t to = (index + 1) * judging->rows / SHARES;
    struct clock_rows rows =
        ht_clock_rows(judging->fit, index * judging->rows / SHARES);
    double square = 0;
    while (rows.row < to) {
        double stamp = stamp_s[rows.row] - stamp_s[0];
        double off = stamp - line_at(judging->line, ht_clock_next_slot(&rows));
        square += off * off;
    }
    judging->square[index] = square;
}

/* Of all stamps, against the line. */
static double squares_off(const struct broken_line *line,
                          const struct clock_fit *fit, const double *stamp_s,
                          size_t n)
{
    struct judging judging = { line, fit, stamp_s, n, { 0 } };
    double square = 0;
    ht_parallel(SHARES, judge_share, &judging);
    for (size_t i = 0; i < SHARES; i++)
        square += judging.square[i];
    return square;
}

static enum ht_status fit_line(struct clock_fit *fit, const double *stamp_s,
                               size_t n, double step_s)
{
    struct broken_line line = {
        .knots = 2 + (size_t)((double)fit->slots * step_s / KNOT_S)
    };
    enum ht_status status = fit_broken_line(&line, fit, stamp_s, n);
    if (status == HT_OK) {
        double first = line_at(&line, 0);
        fit->jitter_s = sqrt(squares_off(&line, fit, stamp_s, n) / (double)n);
        fit->start_s = stamp_s[0] + first;
        fit->step_s = (line_at(&line, fit->slots - 1) - first) /
                      (double)(fit->slots - 1);
    }
    ht_release(line.band);
    ht_release(line.right);
    return status;
}

/* The middle step is coarse where stamps are rounded: the mean of the steps
 * that are no gap. */
static double mean_step(const double *stamp_s, size_t n, double middle_s)
{
    double sum = 0;
    size_t count = 0;
    for (size_t i = 0; i + 1 < n; i++) {
        double one = stamp_s[i + 1] - stamp_s[i];
        bool whole = one < 2.5 * middle_s;
        sum += whole ? one : 0;
        count += whole;
    }
    return count > 0 && sum > 0 ? sum / (double)count : middle_s;
}

bool ht_clock_fit(struct clock_fit *fit, const double *stamp_s, size_t n)
{
    double step;
    *fit = (struct clock_fit){ 0 };
    if (!median_step(stamp_s, n, &step))
        return false;
    step = mean_step(stamp_s, n, step);
    if (!(step * HT_RATE_HZ_MAX >= 1))
        return true; /* no clock: step_s stays 0 */
    enum ht_status status = count_slots(fit, stamp_s, n, step)
                                ? fit_line(fit, stamp_s, n, step)
                                : HT_NO_MEMORY;
    if (status != HT_OK)
        ht_clock_free(fit); /* step_s is 0 again */
    return status != HT_NO_MEMORY;
}

void ht_clock_free(struct clock_fit *fit)
{
    ht_release(fit->loss);
    *fit = (struct clock_fit){ 0 };
}

/* The equations are tridiagonal and their diagonal outweighs the rest: plain
 * elimination, one division a row (Press et al., Numerical Recipes, 2.4). */
void ht_spline_fit(const double *x, const double *y, double *bend,
                   double *share, size_t n)
{
    double left = x[1] - x[0], slope = (y[1] - y[0]) / left;
    bend[0] = share[0] = 0;
    for (size_t i = 1; i + 1 < n; i++) {
        double right = x[i + 1] - x[i];
        double next = (y[i + 1] - y[i]) / right;
        double all = 1 / ((left + right) / 3 - left / 6 * share[i - 1]);
        share[i] = right / 6 * all;
        bend[i] = (next - slope - left / 6 * bend[i - 1]) * all;
        left = right;
        slope = next;
    }
    bend[n - 1] = 0;
    for (size_t i = n - 2; i > 0; i--)
        bend[i] -= share[i] * bend[i + 1];
}

double ht_spline_at(const double *x, const double *y, const double *bend,
                    size_t i, double at)
{
    double h = x[i + 1] - x[i], b = (at - x[i]) / h, a = 1 - b;
    return a * y[i] + b * y[i + 1] +
           ((a * a * a - a) * bend[i] + (b * b * b - b) * bend[i + 1]) * h *
               h / 6;
}
