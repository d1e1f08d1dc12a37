#include "columns.h"

#include "notes.h"
#include "texts.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* A name as lower-case words: "Acc_X (m/s^2)" becomes "acc x m s 2". */
static void to_words(const char *name, char *words, size_t size)
{
    size_t n = 0;
    words[n++] = ' ';
    for (; *name && n + 2 < size; name++) {
        if (isalnum((unsigned char)*name) || (unsigned char)*name >= 0x80)
            words[n++] = (char)tolower((unsigned char)*name);
        else if (words[n - 1] != ' ')
            words[n++] = ' ';
    }
    if (words[n - 1] != ' ')
        words[n++] = ' ';
    words[n] = '\0';
}

static bool has_word(const char *words, const char *word)
{
    char padded[40];
    (void)snprintf(padded, sizeof padded, " %s ", word);
    return strstr(words, padded) != NULL;
}

static bool has_any(const char *words, const char *const *list)
{
    for (; *list; list++)
        if (has_word(words, *list))
            return true;
    return false;
}

static const char *const time_words[] = {
    "time", "t", "timestamp", "seconds", "elapsed", "zeit", "sec", "ms",
    "clock", "timestamps", "times", NULL
};
static const char *const other_words[] = {
    "gyro",  "rot", "rotation", "rad", "radps", "rads", "dps", "deg", "wx",
    "wy",    "wz",  "speed",    "lat", "lon",   "latitude", "longitude",
    "gps",   "mag", "magnetic", "temp", "pressure", "gx", "gy", "gz", "alt",
    "index", "sample", "accuracy", "heading", "abs", "absolute", "magnitude",
    "total", NULL
};
static const char *const acceleration_words[] = {
    "x", "y", "z", "ax", "ay", "az", "acc", "accel", "acceleration",
    "accelerometer", "accx", "accy", "accz", "forward", "rearward", "left",
    "right", "up", "down", "vertical", "lateral", "longitudinal", "mps2",
    NULL
};

static const struct {
    const char *word;
    enum ht_axis axis;
} axis_words[] = {
    { "forward", HT_AXIS_FORWARD }, { "rearward", HT_AXIS_REARWARD },
    { "left", HT_AXIS_LEFT },       { "right", HT_AXIS_RIGHT },
    { "up", HT_AXIS_UP },           { "down", HT_AXIS_DOWN },
};

static enum ht_axis axis_of(const char *words)
{
    for (size_t i = 0; i < sizeof axis_words / sizeof axis_words[0]; i++)
        if (has_word(words, axis_words[i].word))
            return axis_words[i].axis;
    return HT_AXIS_UNKNOWN;
}

static enum ht_unit unit_of(const char *words)
{
    if (has_word(words, "mps2") || strstr(words, " m s 2 ") ||
        strstr(words, " m s2 ") || strstr(words, " m s\xc2\xb2 "))
        return HT_UNIT_M_S2;
    return has_word(words, "g") ? HT_UNIT_G : HT_UNIT_UNKNOWN;
}

static double unit_by_name(const char *words)
{
    static const struct {
        const char *word;
        double seconds;
    } units[] = { { "ns", 1e-9 }, { "us", 1e-6 },  { "\xc2\xb5s", 1e-6 },
                  { "ms", 1e-3 }, { "s", 1 },      { "sec", 1 },
                  { "seconds", 1 } };
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (has_word(words, units[i].word))
            return units[i].seconds;
    return NAN;
}

/* Accelerometers that record a drive take 10 to 50 000 values a second. */
static double unit_by_step(const struct ht_table *table, size_t time)
{
    static const double units[] = { 1, 1e-3, 1e-6, 1e-9 };
    size_t last = table->rows - 1;
    double step = (table->value[last * table->columns + time] -
                   table->value[time]) /
                  (double)(last ? last : 1);
    for (size_t u = 0; u < sizeof units / sizeof units[0]; u++) {
        double rate = 1 / (step * units[u]);
        if (rate >= 9 && rate <= 50000)
            return units[u];
    }
    return NAN;
}

static bool find_time(struct table_columns *columns,
                      const struct ht_table *table)
{
    char words[80];
    for (size_t c = 0; c < table->columns; c++) {
        to_words(table->name[c], words, sizeof words);
        if (!has_any(words, time_words) || has_any(words, other_words))
            continue;
        columns->time = c;
        columns->seconds = unit_by_name(words);
        return true;
    }
    columns->time = 0;
    columns->seconds = NAN;
    return table->name[0][0] == '\0'; /* no header: the first column */
}

/* A header may name the wrong unit; a drive is sampled 5 to 100 000 times a
 * second. Falling time is left to the reader of stamps, who knows the line. */
static enum ht_status check_named_unit(const struct table_columns *columns,
                                       const struct ht_table *table,
                                       const char *path, struct ht_error *err)
{
    size_t last = table->rows - 1;
    double step_s = columns->seconds *
                    (table->value[last * table->columns + columns->time] -
                     table->value[columns->time]) / (double)last;
    if (step_s > 0.2 || (step_s > 0 && step_s < 1e-5))
        return ht_fail(err, RECORDING_TIME_UNIT, path,
                       table->name[columns->time], step_s);
    return HT_OK;
}

static enum ht_status find_time_unit(struct table_columns *columns,
                                     const struct ht_table *table,
                                     const char *path,
                                     struct ht_recording *recording,
                                     struct ht_error *err)
{
    const char *name = "s";
    if (isnan(columns->seconds)) {
        columns->seconds = unit_by_step(table, columns->time);
        if (isnan(columns->seconds))
            return ht_fail(err, RECORDING_TIME_STEP, path,
                           (table->value[(table->rows - 1) * table->columns +
                                         columns->time] -
                            table->value[columns->time]) /
                               (double)(table->rows - 1));
        name = columns->seconds == 1      ? "s"
               : columns->seconds == 1e-3 ? "ms"
               : columns->seconds == 1e-6 ? "\xc2\xb5s"
                                          : "ns";
        ht_recording_note(recording, RECORDING_TIME_TAKEN_IN, name);
        return HT_OK;
    }
    return check_named_unit(columns, table, path, err);
}

static void add_axis(struct table_columns *columns, size_t c,
                     const char *words)
{
    if (columns->axes == HT_AXES_MAX)
        return;
    columns->axis_column[columns->axes] = c;
    columns->unit[columns->axes] = unit_of(words);
    columns->axis[columns->axes++] = axis_of(words);
}

static bool is_named(const struct ht_recording_options *options,
                     const char *name)
{
    for (size_t i = 0; i < options->channels; i++)
        if (options->channel[i].name &&
            strcmp(options->channel[i].name, name) == 0)
            return true;
    return false;
}

static void note_left_out(struct ht_recording *recording, const char *left)
{
    if (*left)
        ht_recording_note(recording, RECORDING_LEFT_OUT, left);
}

static void find_axes(struct table_columns *columns,
                      const struct ht_table *table,
                      const struct ht_recording_options *options,
                      struct ht_recording *recording)
{
    char words[80], left[160] = "";
    bool headed = table->name[0][0] != '\0';
    for (size_t c = 0; c < table->columns; c++) {
        if (c == columns->time)
            continue;
        to_words(table->name[c], words, sizeof words);
        bool wanted = is_named(options, table->name[c]) ||
                      (has_any(words, acceleration_words) &&
                       !has_any(words, other_words)) ||
                      (!headed && table->columns <= 4);
        if (wanted) {
            add_axis(columns, c, words);
            continue;
        }
        size_t used = strlen(left);
        (void)snprintf(left + used, sizeof left - used, "%s%s",
                       used ? ", " : "",
                       headed ? table->name[c] : RECORDING_NAMELESS_COLUMN);
    }
    note_left_out(recording, left);
}

enum ht_status ht_columns_find(struct table_columns *columns,
                               const struct ht_table *table, const char *path,
                               const struct ht_recording_options *options,
                               struct ht_recording *recording,
                               struct ht_error *err)
{
    *columns = (struct table_columns){ 0 };
    if (table->rows < HT_ROWS_LEAST)
        return ht_fail(err, RECORDING_FEW_ROWS, path, table->rows,
                       HT_ROWS_LEAST);
    if (!find_time(columns, table))
        return ht_fail(err, RECORDING_NO_TIME, path);
    enum ht_status status =
        find_time_unit(columns, table, path, recording, err);
    if (status != HT_OK)
        return status;
    find_axes(columns, table, options, recording);
    if (columns->axes == 0)
        return ht_fail(err, RECORDING_NO_AXIS, path);
    return HT_OK;
}
