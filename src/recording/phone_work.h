/* phone_work.h - a table on its way to channels: shared by the two files that
 * read accelerometer tables. */
#ifndef HALFTURN_RECORDING_PHONE_WORK_H
#define HALFTURN_RECORDING_PHONE_WORK_H

#include "clock.h"
#include "columns.h"

#include "halfturn/recording.h"

struct phone {
    struct ht_recording *recording;
    const struct ht_recording_options *options;
    const char *path;
    struct ht_table table;
    struct table_columns columns;
    double *stamp_s;
    size_t *row;            /* table row of each stamp that is kept */
    size_t rows;
    struct clock_fit fit;
    bool irregular;         /* the stamps are right, the sampling is uneven */
    struct ht_error *err;
};

enum ht_status ht_phone_no_memory(struct phone *phone);

/* The filled axes: unit, scale, mean, slow part; gaps become 0. */
enum ht_status ht_phone_finish(struct phone *phone);

#endif
