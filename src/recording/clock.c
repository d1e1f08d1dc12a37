#include "clock.h"

#include "common/limits.h"
#include "common/memory.h"
#include "common/statistics.h"
#include "signal/fft.h"
#include "signal/solve.h"
#include "signal/window.h"

#include <math.h>

static const double KNOT_S = 30;

/* Middle of the steps: jitter and a few lost samples do not move it. */
static bool median_step(const double *stamp_s, size_t n, double *step_s)
{
    double *step = ht_allocate(n - 1, sizeof *step);
    if (!step)
        return false;
    for (size_t i = 0; i + 1 < n; i++)
        step[i] = stamp_s[i + 1] - stamp_s[i];
    *step_s = ht_median(step, n - 1);
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
static void count_slots(struct clock_fit *fit, const double *stamp_s, size_t n,
                        double step_s)
{
    const double gain = 0.02, drift_gain = 1e-4;
    double expected = stamp_s[0], base = step_s;
    size_t slot = 0;
    for (size_t i = 0; i < n; i++) {
        double late = lateness(stamp_s, n, i, expected, step_s);
        if (i > 0 && late > 0.75 * step_s &&
            widest_step_here(stamp_s, n, i)) {
            double lost = round(late / step_s);
            slot += (size_t)lost;
            fit->lost += (size_t)lost;
            expected += lost * step_s;
        }
        fit->slot[i] = slot++;
        double error = stamp_s[i] - expected;
        error = fmax(-2 * base, fmin(2 * base, error));
        step_s += drift_gain * error;
        step_s = fmax(0.9 * base, fmin(1.1 * base, step_s));
        expected += step_s + gain * error;
    }
    fit->slots = slot;
}

/* Least squares of a broken line with `knots` knots, even in slots. */
static bool fit_broken_line(struct clock_fit *fit, const double *stamp_s,
                            size_t n, size_t knots)
{
    double *band = ht_allocate(2 * knots, sizeof *band);
    double *right = ht_allocate(knots, sizeof *right);
    double spacing = (double)(fit->slots - 1) / (double)(knots - 1);
    bool solved = band && right;
    for (size_t i = 0; solved && i < n; i++) {
        double place = (double)fit->slot[i] / spacing;
        size_t k = (size_t)fmin(place, (double)knots - 2);
        double high = place - (double)k, low = 1 - high;
        double stamp = stamp_s[i] - stamp_s[0];
        band[2 * k] += low * low;
        band[2 * k + 1] += low * high;
        band[2 * (k + 1)] += high * high;
        right[k] += low * stamp;
        right[k + 1] += high * stamp;
    }
    /* a knot without rows around it leans on its neighbours */
    for (size_t k = 0; solved && k < knots; k++)
        band[2 * k] += 1e-9;
    solved = solved && ht_solve_banded(band, 1, right, knots, 1);
    for (size_t i = 0; solved && i < n; i++) {
        double place = (double)fit->slot[i] / spacing;
        size_t k = (size_t)fmin(place, (double)knots - 2);
        double high = place - (double)k;
        fit->fitted_s[i] =
            stamp_s[0] + right[k] + high * (right[k + 1] - right[k]);
    }
    ht_release(band);
    ht_release(right);
    return solved;
}

bool ht_clock_fit(struct clock_fit *fit, const double *stamp_s, size_t n)
{
    double step;
    *fit = (struct clock_fit){ 0 };
    fit->slot = ht_allocate(n, sizeof *fit->slot);
    fit->fitted_s = ht_allocate(n, sizeof *fit->fitted_s);
    if (!fit->slot || !fit->fitted_s || !median_step(stamp_s, n, &step)) {
        ht_clock_free(fit);
        return false;
    }
    /* the middle step is coarse where stamps are rounded: use the mean of the
     * steps that are no gap */
    double sum = 0;
    size_t count = 0;
    for (size_t i = 0; i + 1 < n; i++) {
        double one = stamp_s[i + 1] - stamp_s[i];
        if (one < 2.5 * step) {
            sum += one;
            count++;
        }
    }
    if (count > 0 && sum > 0)
        step = sum / (double)count;
    if (!(step * HT_RATE_HZ_MAX >= 1))
        return true; /* no clock: step_s stays 0 */
    count_slots(fit, stamp_s, n, step);
    size_t knots = 2 + (size_t)((double)fit->slots * step / KNOT_S);
    if (!fit_broken_line(fit, stamp_s, n, knots)) {
        ht_clock_free(fit);
        return false;
    }
    double square = 0;
    for (size_t i = 0; i < n; i++)
        square += pow(stamp_s[i] - fit->fitted_s[i], 2);
    fit->jitter_s = sqrt(square / (double)n);
    fit->start_s = fit->fitted_s[0];
    fit->step_s =
        (fit->fitted_s[n - 1] - fit->fitted_s[0]) / (double)(fit->slots - 1);
    return true;
}

void ht_clock_free(struct clock_fit *fit)
{
    ht_release(fit->slot);
    ht_release(fit->fitted_s);
    *fit = (struct clock_fit){ 0 };
}

bool ht_spline_fit(const double *x, const double *y, double *bend, size_t n)
{
    size_t inner = n - 2;
    double *band = ht_allocate(2 * inner, sizeof *band);
    bool solved = band != NULL;
    for (size_t i = 0; solved && i < inner; i++) {
        double left = x[i + 1] - x[i], right = x[i + 2] - x[i + 1];
        band[2 * i] = (left + right) / 3;
        band[2 * i + 1] = right / 6;
        bend[i + 1] = (y[i + 2] - y[i + 1]) / right -
                      (y[i + 1] - y[i]) / left;
    }
    solved = solved && ht_solve_banded(band, 1, bend + 1, inner, 1);
    bend[0] = bend[n - 1] = 0;
    ht_release(band);
    return solved;
}

double ht_spline_at(const double *x, const double *y, const double *bend,
                    size_t i, double at)
{
    double h = x[i + 1] - x[i], b = (at - x[i]) / h, a = 1 - b;
    return a * y[i] + b * y[i + 1] +
           ((a * a * a - a) * bend[i] + (b * b * b - b) * bend[i + 1]) * h *
               h / 6;
}

static double surroundings(const double *power, size_t k, size_t bins)
{
    enum { AROUND = 20 };
    double near[2 * AROUND];
    size_t count = 0;
    for (size_t d = 3; d < 3 + AROUND; d++) {
        if (k >= d + 1)
            near[count++] = power[k - d];
        if (k + d < bins)
            near[count++] = power[k + d];
    }
    return count ? ht_median(near, count) : 0;
}

/* Power spectrum, Hann, of the middle `length` samples. */
static bool middle_power(const float *samples, size_t n, size_t length,
                         double *power)
{
    struct ht_fft *fft = ht_fft_create(length);
    if (!fft)
        return false;
    const float *from = samples + (n - length) / 2;
    double *input = ht_fft_input(fft);
    (void)ht_window_fill(HT_WINDOW_HANN, input, length);
    for (size_t i = 0; i < length; i++)
        input[i] *= (double)from[i];
    const double complex *bins = ht_fft_run(fft);
    for (size_t k = 0; k <= length / 2; k++)
        power[k] = creal(bins[k]) * creal(bins[k]) +
                   cimag(bins[k]) * cimag(bins[k]);
    ht_fft_free(fft);
    return true;
}

bool ht_line_height(const float *samples, size_t n, double *height_db)
{
    size_t length = 1;
    double best = 1;
    *height_db = 0;
    while (length * 2 <= n && length < 65536)
        length *= 2;
    if (length < 256)
        return true;
    double *power = ht_allocate(length, sizeof *power);
    bool known = power && middle_power(samples, n, length, power);
    for (size_t k = length / 50; known && k < length * 45 / 100; k++) {
        double floor = surroundings(power, k, length / 2);
        if (floor > 0 && power[k] > best * floor)
            best = power[k] / floor;
    }
    ht_release(power);
    *height_db = 10 * log10(best);
    return known;
}
