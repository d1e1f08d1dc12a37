/* columns.h - which column of a phone's table is what. */
#ifndef HALFTURN_RECORDING_COLUMNS_H
#define HALFTURN_RECORDING_COLUMNS_H

#include "halfturn/recording.h"

enum { HT_AXES_MAX = 16, HT_ROWS_LEAST = 8 };

struct table_columns {
    size_t time;            /* column of the time */
    double seconds;         /* of one unit of it */
    size_t axes;
    size_t axis_column[HT_AXES_MAX];
    enum ht_unit unit[HT_AXES_MAX]; /* by its header, or UNKNOWN */
    enum ht_axis axis[HT_AXES_MAX];
};

/* Notes what was assumed and what is left out. HT_BAD_FILE when there is no
 * time or no acceleration. */
enum ht_status ht_columns_find(struct table_columns *columns,
                               const struct ht_table *table, const char *path,
                               const struct ht_recording_options *options,
                               struct ht_recording *recording,
                               struct ht_error *err);

#endif
