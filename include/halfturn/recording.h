/* recording.h - audio and accelerometer tables in, uniform channels out.
 *
 * A file is decoded in blocks and decimated in two stages, once; only the
 * decimated signal is kept. Methods and accuracy: docs/recording.md.
 */
#ifndef HALFTURN_RECORDING_H
#define HALFTURN_RECORDING_H

#include "halfturn/sheet.h"
#include "halfturn/status.h"

struct ht_channel {
    char name[48];
    enum ht_unit unit;      /* HT_UNIT_M_S2 or HT_UNIT_FULL_SCALE */
    enum ht_axis axis;
    enum ht_place place;
    float *samples;         /* `frames` of them, mean (gravity) kept out */
    float *slow;            /* low-passed specific force incl. gravity in the
                               channel's unit at slow_rate_hz, or NULL */
    double mean;            /* what was taken out */
    size_t clipped;         /* samples at full scale */
};

struct ht_gap {
    double from_s, to_s;    /* from frame 0: no data, samples are 0 there */
};

struct ht_recording {
    char format[48];        /* "WAV, 16 bit", "table, comma" */
    double rate_hz;         /* after decimation */
    double file_rate_hz;    /* before it */
    double band_hz;         /* flat (within 1 %) up to here */
    double start_s;         /* time of frame 0 on the file's own clock */
    double slow_rate_hz;
    size_t frames, slow_frames, channels;
    struct ht_channel *channel;
    struct ht_gap *gap;
    size_t gaps;
    size_t notes;
    char note[24][240];     /* what was assumed or found, one sentence each */
    void *memory;
};

/* The program that decodes sound files in a process of its own, and what it
 * may use; 0 and NULL: the usual. Any limit passed ends as HT_BAD_FILE. */
struct ht_decoder {
    const char *program;    /* its path; NULL: the one that was built in */
    size_t memory_bytes;    /* address space */
    double cpu_s;           /* computing time */
    double silent_s;        /* longest wait for its next bytes */
    double all_s;           /* from start to end, by the clock on the wall */
};

struct ht_recording_options {
    double highest_hz;      /* wanted band; decides the decimation; NAN: 500 */
    enum ht_unit unit;      /* of the whole file; UNKNOWN: found */
    const struct ht_sheet_channel *channel; /* may be NULL */
    size_t channels;
    enum ht_place place;
    char decimal;           /* '.', ',' or 0: found; for tables */
    const struct ht_decoder *decoder; /* for sound files; NULL: the usual */
    /* Asked while a sound file is decoded, with the share that is done (NAN:
     * its length is not known); false ends it with HT_STOPPED. May be NULL. */
    bool (*go_on)(void *context, double share);
    void *context;
};

/* Reads a sound file or a table. */
enum ht_status ht_recording_read(struct ht_recording *recording,
                                 const char *path,
                                 const struct ht_recording_options *options,
                                 struct ht_error *err);

/* Samples that the caller holds, of any origin: no file, no other program. */
struct ht_samples {
    const char *name;       /* for sentences about them; NULL: "samples" */
    const float *frames;    /* interleaved: count * channels values */
    size_t count, channels; /* channels 1 to 64 */
    double rate_hz;         /* 1 to 1e6 */
};

/* The same channels, decimation, checks and notes as for a sound file that
 * holds these samples; full scale is 1. They are copied. HT_BAD_USE for counts
 * and rates that cannot be. On any failure the recording is left empty. */
enum ht_status ht_recording_from_samples(
    struct ht_recording *recording, const struct ht_samples *samples,
    const struct ht_recording_options *options, struct ht_error *err);
void ht_recording_free(struct ht_recording *recording);

/* Row `row` stands on line `line`, not on the line after the row before:
 * blank lines and comments lie between. */
struct ht_table_jump {
    size_t row, line;
};

/* A table of numbers with a time column and named columns: speed logs too. */
struct ht_table {
    size_t columns, rows;
    char (*name)[64];       /* of each column, "" where there is no header */
    double *value;          /* row-major; NAN: empty cell */
    char separator, decimal;
    size_t first_row_line;  /* line number of row 0 in the file */
    size_t jumps;
    struct ht_table_jump *jump; /* rising */
    void *memory;
};
enum ht_status ht_table_read(struct ht_table *table, const char *path,
                             char decimal, const struct ht_ask *ask,
                             struct ht_error *err);
void ht_table_free(struct ht_table *table);

/* The line of the file on which a row stands. */
size_t ht_table_line(const struct ht_table *table, size_t row);

#endif
