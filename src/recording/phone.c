#include "phone.h"

#include "phone_work.h"
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
        return ht_phone_no_memory(phone);
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
        return ht_phone_no_memory(phone);
    if (!(phone->fit.step_s * HT_RATE_HZ_MAX >= 1))
        return ht_fail(phone->err, HT_BAD_FILE,
                       "%s: the rows lie less than a millionth of a second "
                       "apart, or do not move on. Is the time in another "
                       "unit, or is column %zu not the time?",
                       phone->path, phone->columns.time + 1);
    recording->rate_hz = 1 / phone->fit.step_s;
    recording->file_rate_hz = recording->rate_hz;
    recording->band_hz = recording->rate_hz / 2;
    recording->frames = phone->fit.slots;
    recording->start_s =
        cell_of(phone, 0, phone->columns.time) * phone->columns.seconds +
        phone->fit.start_s;
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
    return channel->samples ? HT_OK : ht_phone_no_memory(phone);
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
        for (size_t k = 0; k < steps; k++)
            samples[last + k] = (float)(before + (value - before) * (double)k /
                                                     (double)steps);
        samples[slot] = (float)value;
        before = value;
        last = slot;
    }
    for (size_t s = last + 1; s < phone->fit.slots && !isnan(before); s++)
        samples[s] = (float)before;
}

/* The values that stand, at rising stamps; returns how many. */
static size_t stamped_values(const struct phone *phone, size_t column,
                             double *x, double *y)
{
    size_t n = 0;
    for (size_t r = 0; r < phone->rows; r++) {
        double value = cell_of(phone, phone->row[r], column);
        if (isnan(value) || (n > 0 && phone->stamp_s[r] <= x[n - 1]))
            continue;
        x[n] = phone->stamp_s[r];
        y[n++] = value;
    }
    return n;
}

/* Values by the stamps: cubic spline through them, read on the grid. A column
 * with fewer than three values has no curve: the clock places them. False:
 * out of memory. */
static bool place_by_stamps(const struct phone *phone, size_t column,
                            float *samples)
{
    double *x = ht_allocate(phone->rows, sizeof *x);
    double *y = ht_allocate(phone->rows, sizeof *y);
    double *bend = ht_allocate(phone->rows, sizeof *bend);
    bool have = x && y && bend;
    size_t n = have ? stamped_values(phone, column, x, y) : 0, i = 0;
    bool curved = n >= 3, fitted = curved && ht_spline_fit(x, y, bend, n);
    if (have && !curved)
        place_by_clock(phone, column, samples);
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
    return curved ? fitted : have;
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
        return ht_phone_no_memory(phone);
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
        return ht_phone_no_memory(phone);
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
        return ht_phone_no_memory(phone);
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
            return ht_phone_no_memory(phone);
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
            return ht_phone_no_memory(phone);
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

static enum ht_status read_phone(struct phone *phone)
{
    static enum ht_status (*const steps[])(struct phone *) = {
        read_stamps, fit_clock, ask_referee,
        fill_axes,   find_gaps, ht_phone_finish
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
