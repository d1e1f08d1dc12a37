/* phone_work.h - a table on its way to channels: shared by the files that read
 * accelerometer tables. */
#ifndef HALFTURN_RECORDING_PHONE_WORK_H
#define HALFTURN_RECORDING_PHONE_WORK_H

#include "clock.h"
#include "columns.h"

#include "halfturn/recording.h"

#include <math.h>

struct phone {
    struct ht_recording *recording;
    const struct ht_recording_options *options;
    const char *path;
    struct ht_table table;  /* once stamps are read: the rows that are kept */
    struct table_columns columns;
    double *stamp_s;
    size_t rows;
    size_t most_same;       /* rows in a run whose axes all repeat those of
                               the row before; SIZE_MAX: not known */
    struct clock_fit fit;
    bool irregular;         /* the stamps are right, the sampling is uneven */
    struct ht_error *err;
};

/* Slots [from, to) of the grid; samples[0] stands for slot `from`. */
struct stretch {
    size_t from, to;
    float *samples;
};

/* Whether two cells of a column hold the same, or both nothing. */
static inline bool ht_phone_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static inline double ht_phone_cell(const struct phone *phone, size_t row,
                                   size_t column)
{
    return phone->table.value[row * phone->table.columns + column];
}

enum ht_status ht_phone_no_memory(struct phone *phone);

/* stamp_s, from 0; rows that repeat the row before are dropped. */
enum ht_status ht_phone_read_stamps(struct phone *phone);

/* Whether the clock or the stamps tell when the samples were taken. */
enum ht_status ht_phone_ask_referee(struct phone *phone);

void ht_phone_place_by_clock(const struct phone *phone, size_t column,
                             const struct stretch *stretch);
/* By a cubic spline through them. False: out of memory. */
bool ht_phone_place_by_stamps(const struct phone *phone, size_t column,
                              const struct stretch *stretch);

/* The filled axes: unit, scale, mean, slow part; gaps become 0. */
enum ht_status ht_phone_finish(struct phone *phone);

#endif
