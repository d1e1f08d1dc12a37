/* wheel.h - the wheel's speed and angle on a uniform grid.
 */
#ifndef HALFTURN_SPEED_WHEEL_H
#define HALFTURN_SPEED_WHEEL_H

#include "path.h"
#include "work.h"

/* Wheel speed on a uniform grid, point i at i * step work frames. */
struct ht_wheel {
    double rate_hz;
    size_t points, step;
    double *hz;       /* wheel turns per second */
    double *turns;    /* their integral */
    double *sd_hz;    /* standard uncertainty of hz */
    double *lasts_s;  /* for about how long an error of hz keeps its sign */
    double *quiet;    /* 1: the recording did not correct hz here */
    double *first_hz; /* hz before any correction */
    void *memory;
};
/* How wrong a log's speed may be before the recording corrects it. */
struct ht_log_doubt {
    double quick_m_s; /* scatter left after smoothing, changes in seconds */
    double scale;     /* relative, stays */
    double lag_s;     /* stays; counts with the acceleration */
};
enum ht_status ht_wheel_create(struct ht_wheel *wheel,
                               const struct ht_work *work,
                               const struct ht_speed_path *path,
                               double turns_per_m, double lag_s,
                               const struct ht_log_doubt *doubt,
                               struct ht_error *err);
void ht_wheel_free(struct ht_wheel *wheel);
void ht_wheel_integrate(struct ht_wheel *wheel);

#endif
