#include "phone.h"

#include "clock.h"
#include "columns.h"
#include "common/constants.h"
#include "common/limits.h"
#include "common/memory.h"
#include "notes.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SHORT_GAP = 3 }; /* fewer lost samples in a row are bridged */

/* Stamps this even (r.m.s. over a step) need no second reading. */
static const double EVEN_SHARE = 0.02;
static const double REFEREE_DB = 1;

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

static enum ht_status no_memory(struct phone *phone)
{
    return ht_fail(phone->err, HT_NO_MEMORY, "%s: out of memory",
                   phone->path);
}

static double cell_of(const struct phone *phone, size_t row, size_t column)
{
    return phone->table.value[row * phone->table.columns + column];
}

static enum ht_status not_rising(struct phone *phone, size_t row)
{
    size_t line = phone->table.first_row_line + row;
    return ht_fail_at(phone->err, HT_BAD_FILE, line, 0,
                      "%s, about line %zu: the time does not rise (%g after "
                      "%g). Are the columns swapped? Column %zu%s%s was taken "
                      "as the time.",
                      phone->path, line,
                      cell_of(phone, row, phone->columns.time),
                      cell_of(phone, row - 1, phone->columns.time),
                      phone->columns.time + 1,
                      phone->table.name[phone->columns.time][0] ? ", " : "",
                      phone->table.name[phone->columns.time]);
}

static enum ht_status too_long(struct phone *phone, size_t row, double stamp_s)
{
    size_t line = phone->table.first_row_line + row;
    return ht_fail_at(phone->err, HT_TOO_BIG, line, 0,
                      "%s, about line %zu: %.0f s after the first row; %d "
                      "hours are read. Is the time in another unit?",
                      phone->path, line, stamp_s,
                      HT_RECORDING_SECONDS_MAX / 3600);
}

/* No sensor reads more; and float streams hold it. */
static const double VALUE_MAX = 1e9;

static enum ht_status check_values(struct phone *phone, size_t row)
{
    for (size_t a = 0; a < phone->columns.axes; a++) {
        size_t column = phone->columns.axis_column[a];
        double value = cell_of(phone, row, column);
        size_t line = phone->table.first_row_line + row;
        if (fabs(value) > VALUE_MAX)
            return ht_fail_at(phone->err, HT_BAD_FILE, line, 0,
                              "%s, about line %zu: %g in column %zu cannot be "
                              "an acceleration.",
                              phone->path, line, value, column + 1);
    }
    return HT_OK;
}

static bool repeats(const struct phone *phone, size_t row)
{
    for (size_t c = 0; c < phone->table.columns; c++)
        if (cell_of(phone, row, c) != cell_of(phone, row - 1, c))
            return false;
    return true;
}

/* Keeps rows in the order they came, except repeats. Jitter may put a stamp
 * a little before the last one; a time that falls back often or far is no
 * time. */
static enum ht_status read_stamps(struct phone *phone)
{
    size_t n = phone->table.rows, dropped = 0, back = 0;
    phone->stamp_s = ht_allocate(n, sizeof *phone->stamp_s);
    phone->row = ht_allocate(n, sizeof *phone->row);
    if (!phone->stamp_s || !phone->row)
        return no_memory(phone);
    double first = cell_of(phone, 0, phone->columns.time);
    for (size_t r = 0; r < n; r++) {
        double time = cell_of(phone, r, phone->columns.time);
        if (isnan(time))
            return ht_fail(phone->err, HT_BAD_FILE,
                           "%s, about line %zu: the time is missing.",
                           phone->path, phone->table.first_row_line + r);
        double stamp = (time - first) * phone->columns.seconds;
        double last = phone->rows > 0 ? phone->stamp_s[phone->rows - 1] : -1;
        if (r > 0 && repeats(phone, r)) {
            dropped++;
            continue;
        }
        if (!(fabs(stamp) <= HT_RECORDING_SECONDS_MAX))
            return too_long(phone, r, stamp);
        if (check_values(phone, r) != HT_OK)
            return HT_BAD_FILE;
        back += stamp <= last;
        if (stamp < last - 1 || back > n / 5 + 3)
            return not_rising(phone, r);
        phone->stamp_s[phone->rows] = stamp;
        phone->row[phone->rows++] = r;
    }
    if (dropped > 0)
        ht_recording_note(phone->recording,
                          "%zu rows repeat the row before and are dropped.",
                          dropped);
    if (phone->rows < 8)
        return ht_fail(phone->err, HT_BAD_FILE,
                       "%s: only %zu rows have a time of their own.",
                       phone->path, phone->rows);
    return HT_OK;
}

static enum ht_status fit_clock(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    if (!ht_clock_fit(&phone->fit, phone->stamp_s, phone->rows))
        return no_memory(phone);
    recording->rate_hz = 1 / phone->fit.step_s;
    recording->file_rate_hz = recording->rate_hz;
    recording->band_hz = recording->rate_hz / 2;
    recording->frames = phone->fit.slots;
    if (phone->fit.slots > 2 * phone->rows + 100)
        return ht_fail(phone->err, HT_BAD_FILE,
                       "%s: more than half of the samples are missing (%zu "
                       "rows over %.0f s).",
                       phone->path, phone->rows,
                       phone->stamp_s[phone->rows - 1]);
    return HT_OK;
}

static enum ht_status describe_axis(struct phone *phone, size_t a)
{
    struct ht_channel *channel = &phone->recording->channel[a];
    size_t column = phone->columns.axis_column[a];
    const char *name = phone->table.name[column];
    if (name[0])
        (void)snprintf(channel->name, sizeof channel->name, "%.*s",
                       (int)sizeof channel->name - 1, name);
    else
        (void)snprintf(channel->name, sizeof channel->name, "axis %zu",
                       a + 1);
    channel->axis = phone->columns.axis[a];
    channel->place = phone->options->place;
    channel->samples =
        ht_allocate(phone->recording->frames, sizeof *channel->samples);
    return channel->samples ? HT_OK : no_memory(phone);
}

/* Values by the clock's own grid: row n stands at its slot; what is missing
 * is bridged on a straight line (a long gap is emptied later). */
static void place_by_clock(const struct phone *phone, size_t column,
                           float *samples)
{
    size_t last = 0;
    double before = NAN;
    for (size_t i = 0; i < phone->rows; i++) {
        double value = cell_of(phone, phone->row[i], column);
        size_t slot = phone->fit.slot[i];
        if (isnan(value))
            continue;
        if (isnan(before)) {
            before = value;
            last = 0;
        }
        size_t steps = slot - last;
        for (size_t k = 1; k < steps; k++)
            samples[last + k] = (float)(before + (value - before) * (double)k /
                                                     (double)steps);
        samples[slot] = (float)value;
        before = value;
        last = slot;
    }
    for (size_t s = last + 1; s < phone->fit.slots && !isnan(before); s++)
        samples[s] = (float)before;
}

/* Values by the stamps: cubic spline through them, read on the grid. */
static bool place_by_stamps(const struct phone *phone, size_t column,
                            float *samples)
{
    double *x = ht_allocate(phone->rows, sizeof *x);
    double *y = ht_allocate(phone->rows, sizeof *y);
    double *bend = ht_allocate(phone->rows, sizeof *bend);
    size_t n = 0, i = 0;
    for (size_t r = 0; x && y && bend && r < phone->rows; r++) {
        double value = cell_of(phone, phone->row[r], column);
        if (isnan(value) || (n > 0 && phone->stamp_s[r] <= x[n - 1]))
            continue;
        x[n] = phone->stamp_s[r];
        y[n++] = value;
    }
    bool fitted = x && y && bend && n >= 3 && ht_spline_fit(x, y, bend, n);
    for (size_t s = 0; fitted && s < phone->fit.slots; s++) {
        double at = phone->fit.start_s + (double)s * phone->fit.step_s;
        at = fmax(x[0], fmin(x[n - 1], at));
        while (i + 2 < n && x[i + 1] < at)
            i++;
        samples[s] = (float)ht_spline_at(x, y, bend, i, at);
    }
    ht_release(x);
    ht_release(y);
    ht_release(bend);
    return fitted;
}

/* Both readings of the axis with the strongest line; the stamps win only if
 * they make it clearly higher. */
static enum ht_status ask_referee(struct phone *phone)
{
    if (phone->fit.jitter_s < EVEN_SHARE * phone->fit.step_s)
        return HT_OK;
    double best_clock = 0, best_stamps = 0;
    float *scratch = ht_allocate(phone->fit.slots, sizeof *scratch);
    if (!scratch)
        return no_memory(phone);
    bool enough = true;
    for (size_t a = 0; enough && a < phone->columns.axes; a++) {
        size_t column = phone->columns.axis_column[a];
        double clock = 0, stamps = 0;
        place_by_clock(phone, column, scratch);
        enough = ht_line_height(scratch, phone->fit.slots, &clock) &&
                 place_by_stamps(phone, column, scratch) &&
                 ht_line_height(scratch, phone->fit.slots, &stamps);
        if (fmax(clock, stamps) > fmax(best_clock, best_stamps)) {
            best_clock = clock;
            best_stamps = stamps;
        }
    }
    ht_release(scratch);
    if (!enough)
        return no_memory(phone);
    phone->irregular = best_stamps > best_clock + REFEREE_DB;
    ht_recording_note(phone->recording,
                      phone->irregular
                          ? "The time stamps are uneven (%.2f ms) and the "
                            "sampling with them: the stamps are used."
                          : "The time stamps are uneven (%.2f ms); the "
                            "sensor's own clock is fitted and used.",
                      1000 * phone->fit.jitter_s);
    return HT_OK;
}

static enum ht_status fill_axes(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    recording->channel =
        ht_allocate(phone->columns.axes, sizeof *recording->channel);
    if (!recording->channel)
        return no_memory(phone);
    recording->channels = phone->columns.axes;
    for (size_t a = 0; a < recording->channels; a++) {
        enum ht_status status = describe_axis(phone, a);
        if (status != HT_OK)
            return status;
        size_t column = phone->columns.axis_column[a];
        if (!phone->irregular)
            place_by_clock(phone, column, recording->channel[a].samples);
        else if (!place_by_stamps(phone, column,
                                  recording->channel[a].samples))
            return no_memory(phone);
    }
    return HT_OK;
}

static enum ht_status find_gaps(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    size_t room = 0, missing = 0;
    for (size_t i = 1; i < phone->rows; i++) {
        size_t lost = phone->fit.slot[i] - phone->fit.slot[i - 1] - 1;
        missing += lost;
        if (lost < SHORT_GAP)
            continue;
        if (!ht_grow((void **)&recording->gap, &room, recording->gaps + 1,
                     sizeof *recording->gap))
            return no_memory(phone);
        recording->gap[recording->gaps++] = (struct ht_gap){
            (double)(phone->fit.slot[i - 1] + 1) * phone->fit.step_s,
            (double)phone->fit.slot[i] * phone->fit.step_s
        };
    }
    if (missing > 0)
        ht_recording_note(recording,
                          "%zu samples are missing, %zu gaps are longer than "
                          "two.",
                          missing, recording->gaps);
    return HT_OK;
}

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Middle length of the acceleration vector, of at most 20 000 samples. */
static bool median_norm(const struct ht_recording *recording, double *middle)
{
    size_t step = recording->frames / 20000 + 1, count = 0;
    double *norm = ht_allocate(recording->frames / step + 1, sizeof *norm);
    if (!norm)
        return false;
    for (size_t i = 0; i < recording->frames; i += step) {
        double square = 0;
        for (size_t c = 0; c < recording->channels; c++)
            square += (double)recording->channel[c].samples[i] *
                      (double)recording->channel[c].samples[i];
        norm[count++] = sqrt(square);
    }
    qsort(norm, count, sizeof *norm, rising);
    *middle = norm[count / 2];
    ht_release(norm);
    return true;
}

/* Gravity tells g from m/s2: 0.9 to 1.1 or 8.8 to 10.8. */
static enum ht_unit unit_by_gravity(struct phone *phone, double norm)
{
    if (norm > 0.9 && norm < 1.1) {
        ht_recording_note(phone->recording,
                          "The values are taken to be in g: gravity reads "
                          "%.2f.", norm);
        return HT_UNIT_G;
    }
    if (norm > 8.8 && norm < 10.8)
        ht_recording_note(phone->recording,
                          "The values are taken to be in m/s\xc2\xb2: gravity "
                          "reads %.2f.", norm);
    else
        ht_recording_note(phone->recording,
                          "Gravity is not in the values; they are taken to be "
                          "in m/s\xc2\xb2.");
    return HT_UNIT_M_S2;
}

static const struct ht_sheet_channel *
named_channel(const struct ht_recording_options *options, const char *name)
{
    for (size_t i = 0; i < options->channels; i++)
        if (options->channel[i].name &&
            strcmp(options->channel[i].name, name) == 0)
            return &options->channel[i];
    return NULL;
}

static double scale_of(struct phone *phone, size_t a, enum ht_unit whole)
{
    struct ht_channel *channel = &phone->recording->channel[a];
    const struct ht_sheet_channel *named =
        named_channel(phone->options, channel->name);
    enum ht_unit unit = phone->options->unit;
    double scale = 1;
    if (named && named->unit)
        unit = named->unit;
    if (unit == HT_UNIT_UNKNOWN)
        unit = phone->columns.unit[a] ? phone->columns.unit[a] : whole;
    if (named && !isnan(named->scale))
        scale = named->scale;
    if (named && named->axis)
        channel->axis = named->axis;
    if (named && named->place)
        channel->place = named->place;
    channel->unit = HT_UNIT_M_S2;
    return unit == HT_UNIT_G ? scale * HT_M_S2_PER_G : scale;
}

static void empty_gaps(struct ht_recording *recording, float *samples)
{
    for (size_t g = 0; g < recording->gaps; g++) {
        size_t from = (size_t)llround(recording->gap[g].from_s *
                                      recording->rate_hz);
        size_t to =
            (size_t)llround(recording->gap[g].to_s * recording->rate_hz);
        for (size_t i = from; i < to && i < recording->frames; i++)
            samples[i] = 0;
    }
}

/* The axis that carries gravity points up (a resting accelerometer reads +1 g
 * on the axis that points up). */
static void name_vertical(struct ht_recording *recording)
{
    const double enough = 0.9 * HT_M_S2_PER_G;
    for (size_t c = 0; c < recording->channels; c++) {
        struct ht_channel *channel = &recording->channel[c];
        if (channel->axis != HT_AXIS_UNKNOWN || fabs(channel->mean) < enough)
            continue;
        channel->axis = channel->mean > 0 ? HT_AXIS_UP : HT_AXIS_DOWN;
        ht_recording_note(recording, "'%s' carries gravity: it points %s.",
                          channel->name, channel->mean > 0 ? "up" : "down");
    }
}

static enum ht_status finish_axes(struct phone *phone)
{
    struct ht_recording *recording = phone->recording;
    bool known = phone->options->unit != HT_UNIT_UNKNOWN;
    for (size_t a = 0; a < recording->channels; a++)
        known = known || phone->columns.unit[a];
    double norm = 0;
    if (!known && !median_norm(recording, &norm))
        return no_memory(phone);
    enum ht_unit whole = known ? HT_UNIT_M_S2 : unit_by_gravity(phone, norm);
    for (size_t a = 0; a < recording->channels; a++) {
        struct ht_channel *channel = &recording->channel[a];
        double scale = scale_of(phone, a, whole), sum = 0;
        for (size_t i = 0; i < recording->frames; i++)
            sum += (double)channel->samples[i];
        double mean = sum / (double)recording->frames;
        for (size_t i = 0; i < recording->frames; i++)
            channel->samples[i] =
                (float)(((double)channel->samples[i] - mean) * scale);
        channel->mean = mean * scale;
    }
    name_vertical(recording);
    if (!ht_recording_make_slow(recording))
        return no_memory(phone);
    for (size_t a = 0; a < recording->channels; a++)
        empty_gaps(recording, recording->channel[a].samples);
    return HT_OK;
}

static enum ht_status read_phone(struct phone *phone)
{
    static enum ht_status (*const steps[])(struct phone *) = {
        read_stamps, fit_clock, ask_referee, fill_axes, find_gaps, finish_axes
    };
    struct ht_recording *recording = phone->recording;
    enum ht_status status =
        ht_table_read(&phone->table, phone->path, phone->options->decimal,
                      phone->err);
    if (status == HT_OK)
        status = ht_columns_find(&phone->columns, &phone->table, phone->path,
                                 phone->options, recording, phone->err);
    for (size_t s = 0; s < sizeof steps / sizeof steps[0]; s++)
        if (status == HT_OK)
            status = steps[s](phone);
    return status;
}

enum ht_status ht_recording_from_table(struct ht_recording *recording,
                                       const char *path,
                                       const struct ht_recording_options *how,
                                       struct ht_error *err)
{
    struct phone phone = { .recording = recording, .options = how,
                           .path = path, .err = err };
    enum ht_status status = read_phone(&phone);
    if (status == HT_OK)
        (void)snprintf(recording->format, sizeof recording->format,
                       "table, %s",
                       phone.table.separator == ';'    ? "semicolons"
                       : phone.table.separator == '\t' ? "tabs"
                                                       : "commas");
    ht_clock_free(&phone.fit);
    ht_release(phone.stamp_s);
    ht_release(phone.row);
    ht_table_free(&phone.table);
    return status;
}
