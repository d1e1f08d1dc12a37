/* phone_stamps.c - when the rows of a table say that they were taken. */
#include "phone_work.h"

#include "common/limits.h"
#include "common/memory.h"
#include "common/parallel.h"
#include "notes.h"
#include "texts.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

static enum ht_status missing(struct phone *phone, size_t row)
{
    size_t line = ht_table_line(&phone->table, row);
    return ht_fail_at_line(phone->err, line, 0, RECORDING_NO_STAMP,
                           phone->path, line);
}

static enum ht_status not_rising(struct phone *phone, size_t row)
{
    size_t line = ht_table_line(&phone->table, row);
    size_t column = phone->columns.time;
    const char *name = phone->table.name[column];
    double here = ht_phone_cell(phone, row, column);
    double before = ht_phone_cell(phone, row - 1, column);
    return *name ? ht_fail_at_line(phone->err, line, 0,
                                   RECORDING_TIME_FALLS_NAMED, phone->path,
                                   line, here, before, column + 1, name)
                 : ht_fail_at_line(phone->err, line, 0, RECORDING_TIME_FALLS,
                                   phone->path, line, here, before,
                                   column + 1);
}

static enum ht_status too_long(struct phone *phone, size_t row, double stamp_s)
{
    size_t line = ht_table_line(&phone->table, row);
    return ht_fail_at_line(phone->err, line, 0, RECORDING_TIME_TOO_LONG,
                           phone->path, line, stamp_s,
                           HT_RECORDING_SECONDS_MAX / 3600);
}

static enum ht_status check_values(struct phone *phone, size_t row)
{
    for (size_t a = 0; a < phone->columns.axes; a++) {
        size_t column = phone->columns.axis_column[a];
        double value = ht_phone_cell(phone, row, column);
        if (!(fabs(value) > HT_SENSOR_VALUE_MAX))
            continue;
        size_t line = ht_table_line(&phone->table, row);
        return ht_fail_at_line(phone->err, line, 0, RECORDING_VALUE_TOO_LARGE,
                               phone->path, line, value, column + 1);
    }
    return HT_OK;
}

/* Most tables have nothing to look at twice: their stamps rise, no value is
 * too large. That is found out side by side. */
enum { SHARES = 8 };
struct share {
    const struct phone *phone;
    size_t from, to;              /* rows */
    bool ordinary;
    size_t before, longest, last; /* runs of rows whose axes repeat: until one
                                     moves, at most, at the end */
};

/* Whether the axes of a row repeat those before; notes what is too large. */
static bool look_at_axes(struct share *share, const double *row)
{
    const struct table_columns *columns = &share->phone->columns;
    const double *before = row - share->phone->table.columns;
    bool same = true;
    for (size_t a = 0; a < columns->axes; a++) {
        double value = row[columns->axis_column[a]];
        share->ordinary &= !(fabs(value) > HT_SENSOR_VALUE_MAX);
        same &= ht_phone_same(value, before[columns->axis_column[a]]);
    }
    return same;
}

static void look_at_rows(void *context, size_t index)
{
    struct share one = ((struct share *)context)[index];
    const struct phone *phone = one.phone;
    const double *value = phone->table.value;
    size_t columns = phone->table.columns, time = phone->columns.time;
    double first = value[time], seconds = phone->columns.seconds;
    double last = (value[(one.from - 1) * columns + time] - first) * seconds;
    bool moved = false;
    for (size_t r = one.from; r < one.to; r++) {
        const double *row = value + r * columns;
        double stamp = (row[time] - first) * seconds;
        one.ordinary &= stamp > last && stamp <= HT_RECORDING_SECONDS_MAX;
        phone->stamp_s[r] = last = stamp;
        if (look_at_axes(&one, row)) {
            one.last++;
            continue;
        }
        if (!moved)
            one.before = one.last;
        one.longest = one.last > one.longest ? one.last : one.longest;
        one.last = 0;
        moved = true;
    }
    if (!moved)
        one.before = one.last;
    ((struct share *)context)[index] = one;
}

static size_t largest(size_t a, size_t b)
{
    return a > b ? a : b;
}

/* Whether all rows can stay as they are; the stamps are filled in then. */
static bool are_ordinary(struct phone *phone)
{
    struct share share[SHARES];
    size_t rows = phone->table.rows, run = 0;
    const double *first = phone->table.value;
    bool ordinary = !isnan(first[phone->columns.time]) &&
                    check_values(phone, 0) == HT_OK;
    for (size_t i = 0; i < SHARES; i++)
        share[i] = (struct share){ .phone = phone, .ordinary = true,
                                   .from = 1 + i * (rows - 1) / SHARES,
                                   .to = 1 + (i + 1) * (rows - 1) / SHARES };
    phone->stamp_s[0] = 0;
    ht_parallel(SHARES, look_at_rows, share);
    phone->most_same = 0;
    for (size_t i = 0; i < SHARES; i++) {
        const struct share *s = &share[i];
        bool whole = s->last == s->to - s->from;
        phone->most_same = largest(largest(phone->most_same, s->longest),
                                   largest(run + s->before, s->last));
        run = whole ? run + s->last : s->last;
        ordinary = ordinary && s->ordinary;
    }
    return ordinary;
}

static bool repeats(const double *row, const double *before, size_t columns)
{
    for (size_t c = 0; c < columns; c++)
        if (row[c] != before[c])
            return false;
    return true;
}

/* The rows that are kept move up over those that are dropped. */
static void keep(struct phone *phone, size_t row, double stamp_s)
{
    size_t columns = phone->table.columns;
    double *value = phone->table.value;
    if (phone->rows != row)
        memmove(value + phone->rows * columns, value + row * columns,
                columns * sizeof *value);
    phone->stamp_s[phone->rows++] = stamp_s;
}

/* Keeps rows in the order they came, except repeats. Jitter may put a stamp
 * a little before the last one; a time that falls back often or far is no
 * time. */
static enum ht_status keep_rows(struct phone *phone, size_t *dropped)
{
    const struct ht_table *table = &phone->table;
    const double *row = table->value, *time = row + phone->columns.time;
    size_t n = table->rows, columns = table->columns, back = 0;
    double first = *time, last = -1;
    for (size_t r = 0; r < n; r++, row += columns, time += columns) {
        double stamp = (*time - first) * phone->columns.seconds;
        if (isnan(*time))
            return missing(phone, r);
        if (r > 0 && repeats(row, row - columns, columns)) {
            ++*dropped;
            continue;
        }
        if (!(fabs(stamp) <= HT_RECORDING_SECONDS_MAX))
            return too_long(phone, r, stamp);
        if (check_values(phone, r) != HT_OK)
            return HT_BAD_FILE;
        back += stamp <= last;
        if (stamp < last - 1 || back > n / 5 + 3)
            return not_rising(phone, r);
        keep(phone, r, stamp);
        last = stamp;
    }
    return HT_OK;
}

enum ht_status ht_phone_read_stamps(struct phone *phone)
{
    size_t dropped = 0;
    phone->stamp_s = ht_reserve(phone->table.rows, sizeof *phone->stamp_s);
    if (!phone->stamp_s)
        return ht_phone_no_memory(phone);
    if (are_ordinary(phone)) {
        phone->rows = phone->table.rows;
        return HT_OK;
    }
    phone->most_same = SIZE_MAX;
    enum ht_status status = keep_rows(phone, &dropped);
    if (status != HT_OK)
        return status;
    if (dropped == 1)
        ht_recording_note(phone->recording, RECORDING_ROW_REPEATS);
    else if (dropped > 1)
        ht_recording_note(phone->recording, RECORDING_ROWS_REPEAT, dropped);
    if (phone->rows < HT_ROWS_LEAST)
        return ht_fail(phone->err, RECORDING_FEW_STAMPED, phone->path,
                       phone->rows, HT_ROWS_LEAST);
    return HT_OK;
}
