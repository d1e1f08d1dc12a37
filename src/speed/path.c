#include "path.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <stdlib.h>

/* Power density of the second derivative of road speed, (m/s^3)^2 s: a jerk
 * of 0.5 m/s^3 that lasts about a second. Common practice, no source. */
static const double jerk_density = 0.5;
static const double most_points = 1e6;

void ht_solve_five(double *d0, double *d1, double *d2, double *b, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (i + 1 < n) {
            double l = d1[i] / d0[i];
            d0[i + 1] -= l * d1[i];
            if (i + 2 < n)
                d1[i + 1] -= l * d2[i];
            b[i + 1] -= l * b[i];
            d1[i] = l;
        }
        if (i + 2 < n) {
            double l = d2[i] / d0[i];
            d0[i + 2] -= l * d2[i];
            b[i + 2] -= l * b[i];
            d2[i] = l;
        }
    }
    for (size_t i = n; i-- > 0;) {
        b[i] /= d0[i];
        if (i + 1 < n)
            b[i] -= d1[i] * b[i + 1];
        if (i + 2 < n)
            b[i] -= d2[i] * b[i + 2];
    }
}

void ht_add_roughness(double *d0, double *d1, double *d2, size_t n,
                      double strength)
{
    for (size_t i = 0; i + 2 < n; i++) {
        d0[i] += strength;
        d0[i + 1] += 4 * strength;
        d0[i + 2] += strength;
        d1[i] -= 2 * strength;
        d1[i + 1] -= 2 * strength;
        d2[i] += strength;
    }
}

static double distance_to_multiple(double x, double step)
{
    double n = x / step;
    return fabs(n - round(n)) * step;
}

double ht_log_quantum(const double *speed_m_s, size_t rows)
{
    static const struct {
        double unit, step;
    } steps[] = {
        { HT_M_S_PER_MPH, 1 },   { HT_M_S_PER_KM_H, 1 },   { 1, 1 },
        { HT_M_S_PER_MPH, 0.5 }, { HT_M_S_PER_KM_H, 0.5 }, { 1, 0.1 },
        { HT_M_S_PER_MPH, 0.1 }, { HT_M_S_PER_KM_H, 0.1 },
    };
    for (size_t s = 0; s < sizeof steps / sizeof steps[0]; s++) {
        double quantum = steps[s].unit * steps[s].step;
        size_t off = 0;
        for (size_t i = 0; i < rows; i++)
            if (distance_to_multiple(speed_m_s[i], quantum) > 0.03 * quantum)
                off++;
        if (off * 50 < rows)
            return quantum;
    }
    return 0;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Scatter of a row from third differences, 20 sigma^2 for even steps. */
static double scatter_of_rows(const double *v, size_t rows, double *scratch)
{
    size_t n = 0;
    for (size_t i = 0; i + 3 < rows; i++)
        scratch[n++] = fabs(v[i + 3] - 3 * v[i + 2] + 3 * v[i + 1] - v[i]);
    if (n < 8)
        return 0.1;
    qsort(scratch, n, sizeof *scratch, by_value);
    return scratch[n / 2] / 0.6745 / sqrt(20.0);
}

/* A quantised log repeats itself: rows in a run err together. */
static double mean_run(const double *v, size_t rows)
{
    size_t runs = 1;
    for (size_t i = 1; i < rows; i++)
        runs += v[i] < v[i - 1] || v[i] > v[i - 1];
    return (double)rows / (double)runs;
}

static double row_sd(struct ht_speed_path *path, const struct ht_speed_log *log,
                     double *scratch)
{
    path->quantum_m_s = ht_log_quantum(log->speed_m_s, log->rows);
    double sd = scatter_of_rows(log->speed_m_s, log->rows, scratch);
    sd = fmin(sd, 0.3);
    sd = fmax(fmax(sd, path->quantum_m_s / sqrt(12.0)), 0.01);
    return sd * sqrt(fmin(mean_run(log->speed_m_s, log->rows), 25));
}

/* White scatter of density R through the low pass 1 / (1 + (w/c)^4) that the
 * smoothing is, c^4 = jerk density / R: variance R c / sqrt(8). */
static double scatter_left(double row_sd_m_s, double row_s)
{
    double density = row_sd_m_s * row_sd_m_s * row_s;
    double corner = pow(jerk_density / density, 0.25);
    return fmin(row_sd_m_s, sqrt(density * corner / sqrt(8.0)));
}

static bool reserve(struct ht_speed_path *path, size_t points)
{
    path->points = points;
    path->memory = ht_allocate(2 * points, sizeof(double));
    path->speed_m_s = path->memory;
    path->distance_m = path->memory ? path->speed_m_s + points : NULL;
    return path->memory != NULL;
}

void ht_path_integrate(struct ht_speed_path *path)
{
    double sum = 0;
    for (size_t i = 0; i < path->points; i++) {
        path->distance_m[i] = sum;
        if (i + 1 < path->points)
            sum += 0.5 * path->step_s *
                   (path->speed_m_s[i] + path->speed_m_s[i + 1]);
    }
}

static void fill_normal(const struct ht_speed_path *path,
                        const struct ht_speed_log *log, double *d0, double *d1,
                        double *b)
{
    double weight = 1 / (path->row_sd_m_s * path->row_sd_m_s);
    for (size_t i = 0; i < log->rows; i++) {
        double at = (log->time_s[i] - path->start_s) / path->step_s;
        size_t j = at > 0 ? (size_t)at : 0;
        if (j + 2 > path->points)
            j = path->points - 2;
        double f = fmin(fmax(at - (double)j, 0), 1), g = 1 - f;
        d0[j] += weight * g * g;
        d0[j + 1] += weight * f * f;
        d1[j] += weight * f * g;
        b[j] += weight * g * log->speed_m_s[i];
        b[j + 1] += weight * f * log->speed_m_s[i];
    }
}

enum ht_status ht_path_create(struct ht_speed_path *path,
                              const struct ht_speed_log *log,
                              struct ht_error *err)
{
    *path = (struct ht_speed_path){ .step_s = 0.1 };
    path->start_s = log->time_s[0];
    double length_s = log->time_s[log->rows - 1] - path->start_s;
    /* A log of months (a clock that jumped) must not ask for its memory. */
    path->step_s = fmax(path->step_s, length_s / most_points);
    size_t n = (size_t)ceil(length_s / path->step_s) + 3;
    size_t most = n > log->rows ? n : log->rows;
    double *scratch = ht_allocate(4 * most, sizeof *scratch);
    if (!scratch || !reserve(path, n)) {
        ht_release(scratch);
        ht_path_free(path);
        return ht_fail(err, SPEED_NO_MEMORY);
    }
    path->row_sd_m_s = row_sd(path, log, scratch);
    path->left_sd_m_s =
        scatter_left(path->row_sd_m_s, length_s / (double)(log->rows - 1));
    double *d0 = scratch, *d1 = d0 + n, *d2 = d1 + n, *b = d2 + n;
    for (size_t i = 0; i < 4 * n; i++)
        scratch[i] = i < n ? 1e-9 : 0;
    fill_normal(path, log, d0, d1, b);
    double h = path->step_s;
    ht_add_roughness(d0, d1, d2, n, 1 / (h * h * h * jerk_density));
    ht_solve_five(d0, d1, d2, b, n);
    for (size_t i = 0; i < n; i++)
        path->speed_m_s[i] = fmax(b[i], 0);
    ht_release(scratch);
    ht_path_integrate(path);
    return HT_OK;
}

enum ht_status ht_path_steady(struct ht_speed_path *path, double speed_m_s,
                              double from_s, double to_s, struct ht_error *err)
{
    *path = (struct ht_speed_path){ .step_s = 0.1, .start_s = from_s };
    path->row_sd_m_s = path->left_sd_m_s = 0.005 * speed_m_s;
    if (!reserve(path, (size_t)ceil((to_s - from_s) / path->step_s) + 3))
        return ht_fail(err, SPEED_NO_MEMORY);
    for (size_t i = 0; i < path->points; i++)
        path->speed_m_s[i] = speed_m_s;
    ht_path_integrate(path);
    return HT_OK;
}

void ht_path_free(struct ht_speed_path *path)
{
    ht_release(path->memory);
    *path = (struct ht_speed_path){ 0 };
}

static bool locate(const struct ht_speed_path *path, double time_s, size_t *i,
                   double *f)
{
    double at = (time_s - path->start_s) / path->step_s;
    if (!(at >= 0 && at <= (double)(path->points - 1)))
        return false;
    *i = (size_t)at;
    if (*i + 2 > path->points)
        *i = path->points - 2;
    *f = at - (double)*i;
    return true;
}

double ht_path_speed(const struct ht_speed_path *path, double time_s)
{
    size_t i;
    double f;
    if (!locate(path, time_s, &i, &f))
        return NAN;
    return path->speed_m_s[i] +
           f * (path->speed_m_s[i + 1] - path->speed_m_s[i]);
}

double ht_path_distance(const struct ht_speed_path *path, double time_s)
{
    size_t i;
    double f;
    if (!locate(path, time_s, &i, &f))
        return NAN;
    double v = path->speed_m_s[i], w = path->speed_m_s[i + 1];
    return path->distance_m[i] + path->step_s * f * (v + 0.5 * f * (w - v));
}
