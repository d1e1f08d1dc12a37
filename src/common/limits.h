/* limits.h - the named ceilings on what a file may ask of us. */
#ifndef HALFTURN_COMMON_LIMITS_H
#define HALFTURN_COMMON_LIMITS_H

enum {
    HT_SHEET_BYTES_MAX = 64 * 1024,
    HT_CATALOGUE_BYTES_MAX = 1024 * 1024,
    HT_DOCUMENT_DEPTH_MAX = 32,
    HT_TABLE_COLUMNS_MAX = 64,
    HT_TABLE_ROWS_MAX = 20 * 1000 * 1000,
    HT_TABLE_LINE_BYTES_MAX = 4096,
    HT_CHANNELS_MAX = 64,
    HT_RATE_HZ_MAX = 1000 * 1000,
    HT_SENSOR_VALUE_MAX = 1000 * 1000 * 1000, /* no sensor reads more */
    HT_RECORDING_SECONDS_MAX = 6 * 3600
};

#endif
