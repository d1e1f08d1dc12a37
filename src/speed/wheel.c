#include "wheel.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>

/* Errors of a smoothed log last about this long. */
static const double error_lasts_s = 1.5;
static const double grid_hz = 20;

static void doubt_point(struct ht_wheel *wheel, size_t i,
                        const struct ht_log_doubt *doubt, double turns_per_m,
                        double accel_m_s2)
{
    double quick = doubt->quick_m_s * turns_per_m;
    double slow = hypot(doubt->scale * wheel->hz[i],
                        doubt->lag_s * accel_m_s2 * turns_per_m);
    double stays_s = 32 / fmax(wheel->hz[i], 1);
    double both = quick * quick + slow * slow + 1e-12;
    wheel->sd_hz[i] = sqrt(both);
    wheel->lasts_s[i] =
        (quick * quick * error_lasts_s + slow * slow * stays_s) / both;
    wheel->quiet[i] = 1;
}

static void start_from_log(struct ht_wheel *wheel,
                           const struct ht_speed_path *path, double turns_per_m,
                           double lag_s, const struct ht_log_doubt *doubt)
{
    static const struct ht_log_doubt no_log = { 3, 1, 0 };
    double last = 0;
    for (size_t i = 0; i < wheel->points; i++) {
        double t = (double)i / wheel->rate_hz + lag_s;
        double v = ht_path_speed(path, t);
        double slope =
            (ht_path_speed(path, t + 0.2) - ht_path_speed(path, t - 0.2)) / 0.4;
        last = isfinite(v) ? v * turns_per_m : last;
        wheel->hz[i] = wheel->first_hz[i] = last;
        doubt_point(wheel, i, isfinite(v) ? doubt : &no_log, turns_per_m,
                    isfinite(slope) ? slope : 0);
    }
}

enum ht_status ht_wheel_create(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_speed_path *path,
                               double turns_per_m, double lag_s,
                               const struct ht_log_doubt *doubt,
                               struct ht_error *err)
{
    *wheel = (struct ht_wheel){ .step = 1 };
    if (work->rate_hz > 2 * grid_hz)
        wheel->step = (size_t)(work->rate_hz / grid_hz);
    wheel->rate_hz = work->rate_hz / (double)wheel->step;
    wheel->points = (work->frames - 1) / wheel->step + 1;
    size_t n = wheel->points;
    wheel->memory = ht_allocate(6 * n, sizeof(double));
    if (!wheel->memory)
        return ht_fail(err, SPEED_NO_MEMORY);
    wheel->hz = wheel->memory;
    wheel->turns = wheel->hz + n;
    wheel->sd_hz = wheel->turns + n;
    wheel->lasts_s = wheel->sd_hz + n;
    wheel->quiet = wheel->lasts_s + n;
    wheel->first_hz = wheel->quiet + n;
    start_from_log(wheel, path, turns_per_m, lag_s, doubt);
    ht_wheel_integrate(wheel);
    return HT_OK;
}

void ht_wheel_free(struct ht_wheel *wheel)
{
    ht_release(wheel->memory);
    *wheel = (struct ht_wheel){ 0 };
}

void ht_wheel_integrate(struct ht_wheel *wheel)
{
    double sum = 0;
    for (size_t i = 0; i < wheel->points; i++) {
        wheel->turns[i] = sum;
        if (i + 1 < wheel->points)
            sum += 0.5 * (wheel->hz[i] + wheel->hz[i + 1]) / wheel->rate_hz;
    }
}
