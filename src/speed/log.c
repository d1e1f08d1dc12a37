#include "log.h"

#include "path.h"
#include "say.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"
#include "halfturn/recording.h"
#include "halfturn/text.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const double fastest_m_s = 250 / 3.6;
static const double slowest_m_s = -0.5; /* below it the sign means it */
static const double jump_m_s = 8;       /* from both neighbours: a slip */

static const struct {
    const char *ending;
    double m_s;
} speed_units[] = {
    { "_mps", 1 },
    { "m/s", 1 },
    { "m_s", 1 },
    { "mps", 1 },
    { "_kmh", HT_M_S_PER_KM_H },
    { "km/h", HT_M_S_PER_KM_H },
    { "km_h", HT_M_S_PER_KM_H },
    { "kmh", HT_M_S_PER_KM_H },
    { "kph", HT_M_S_PER_KM_H },
    { "mph", HT_M_S_PER_MPH },
    { "knots", 1852.0 / 3600 },
};
static const struct {
    const char *ending;
    double seconds;
} time_units[] = {
    { "_ms", 1e-3 },  { "_us", 1e-6 }, { "_ns", 1e-9 }, { "_s", 1 },
    { "(ms)", 1e-3 }, { "(s)", 1 },    { "[s]", 1 },    { "millis", 1e-3 },
};
static const char *const time_names[] = { "time",    "t",       "timestamp",
                                          "seconds", "elapsed", "clock",
                                          "millis" };
static const char *const speed_names[] = { "speed", "v", "velocity",
                                           "vehicle_speed", "gps_speed" };

static void lower(char *to, size_t size, const char *from)
{
    size_t i = 0;
    for (; from[i] && i + 1 < size; i++)
        to[i] = (char)tolower((unsigned char)from[i]);
    to[i] = 0;
}

static bool ends(const char *text, const char *ending)
{
    size_t a = strlen(text), b = strlen(ending);
    if (a && strchr(")]", text[a - 1]) && !strchr(")]", ending[b - 1]))
        a--;
    return a >= b && memcmp(text + a - b, ending, b) == 0;
}

/* NAN when the text names no unit. */
static double speed_unit(const char *text)
{
    for (size_t i = 0; i < sizeof speed_units / sizeof speed_units[0]; i++)
        if (ends(text, speed_units[i].ending))
            return speed_units[i].m_s;
    return NAN;
}

static double time_unit(const char *text)
{
    for (size_t i = 0; i < sizeof time_units / sizeof time_units[0]; i++)
        if (ends(text, time_units[i].ending))
            return time_units[i].seconds;
    return NAN;
}

/* The name itself, or the name and a unit after it. */
static bool is_called(const char *text, const char *const *names, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        size_t length = strlen(names[i]);
        if (strncmp(text, names[i], length) == 0 &&
            !isalpha((unsigned char)text[length]))
            return true;
    }
    return false;
}

struct columns {
    size_t time, speed;
    double seconds, m_s; /* per unit of the file */
};

static size_t find_time(const struct ht_table *t)
{
    char name[64] = "";
    for (size_t c = 0; c < t->columns; c++) {
        lower(name, sizeof name, t->name[c]);
        if (is_called(name, time_names,
                      sizeof time_names / sizeof time_names[0]))
            return c;
    }
    return 0;
}

static bool says_speed(const char *name, int pass)
{
    if (pass == 0)
        return is_called(name, speed_names,
                         sizeof speed_names / sizeof speed_names[0]);
    if (pass == 1)
        return strstr(name, "speed") != NULL;
    return isfinite(speed_unit(name));
}

static size_t find_speed(const struct ht_table *t, size_t time,
                         const char *wanted)
{
    char name[64] = "";
    if (wanted) {
        for (size_t c = 0; c < t->columns; c++)
            if (strcmp(t->name[c], wanted) == 0)
                return c;
        return t->columns;
    }
    for (int pass = 0; pass < 3; pass++)
        for (size_t c = 0; c < t->columns; c++) {
            lower(name, sizeof name, t->name[c]);
            if (c != time && says_speed(name, pass))
                return c;
        }
    return t->columns;
}

static void list_names(const struct ht_table *t, char *out, size_t size)
{
    size_t at = 0;
    out[0] = 0;
    for (size_t c = 0; c < t->columns && at + 70 < size; c++)
        at += (size_t)snprintf(out + at, size - at, "%s%s", c ? ", " : "",
                               t->name[c][0] ? t->name[c] : SPEED_LOG_UNNAMED);
}

static enum ht_status find_columns(struct columns *found,
                                   const struct ht_table *t, const char *path,
                                   const struct ht_sheet_speed *how,
                                   struct ht_error *err)
{
    char names[300], name[64];
    list_names(t, names, sizeof names);
    found->time = find_time(t);
    found->speed = find_speed(t, found->time, how ? how->column : NULL);
    if (found->speed >= t->columns)
        return ht_fail(err, SPEED_LOG_NO_COLUMN, path, names);
    lower(name, sizeof name, t->name[found->time]);
    found->seconds = time_unit(name);
    if (how && how->unit) {
        lower(name, sizeof name, how->unit);
    } else {
        lower(name, sizeof name, t->name[found->speed]);
    }
    found->m_s = speed_unit(name);
    if (isfinite(found->m_s))
        return HT_OK;
    return ht_fail(err, SPEED_LOG_UNIT_UNKNOWN, path, t->name[found->speed]);
}

static void note(struct ht_speed_log *log, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static void note(struct ht_speed_log *log, const char *format, ...)
{
    if (log->notes == sizeof log->note / sizeof log->note[0])
        return;
    va_list args;
    va_start(args, format);
    ht_say_list(log->note[log->notes++], sizeof log->note[0], format, args);
    va_end(args);
}

/* Loggers write milliseconds without saying so: seconds since 1970 have ten
 * digits, and nobody logs speed once in twenty seconds. */
static double guess_seconds(const struct ht_table *t, size_t column)
{
    double first = t->value[column];
    double last = t->value[(t->rows - 1) * t->columns + column];
    double step = (last - first) / (double)(t->rows - 1);
    if (fabs(first) > 1e17)
        return 1e-9;
    if (fabs(first) > 1e14)
        return 1e-6;
    return fabs(first) > 1e11 || step > 20 ? 1e-3 : 1;
}

static enum ht_status check_row(const struct ht_speed_log *log, double time_s,
                                double speed_m_s, const char *path, size_t line,
                                struct ht_error *err)
{
    char number[40];
    if (log->rows && time_s < log->time_s[log->rows - 1]) {
        ht_format_number(number, sizeof number, time_s, 3);
        return ht_fail_at_line(err, line, 0, SPEED_LOG_TIME_FALLS, path, line,
                               number);
    }
    if (speed_m_s <= fastest_m_s && speed_m_s >= slowest_m_s)
        return HT_OK;
    ht_format_number(number, sizeof number, speed_m_s * HT_KM_H_PER_M_S, 0);
    return ht_fail_at_line(err, line, 0, SPEED_LOG_NO_ROAD_SPEED, path, line,
                           number);
}

static enum ht_status take_rows(struct ht_speed_log *log,
                                const struct ht_table *t,
                                const struct columns *c, const char *path,
                                struct ht_error *err)
{
    size_t empty = 0, same = 0;
    for (size_t i = 0; i < t->rows; i++) {
        const double *row = t->value + i * t->columns;
        double time_s = row[c->time] * c->seconds;
        double speed = row[c->speed] * c->m_s;
        if (!isfinite(time_s) || !isfinite(speed)) {
            empty++;
            continue;
        }
        enum ht_status status =
            check_row(log, time_s, speed, path, ht_table_line(t, i), err);
        if (status != HT_OK)
            return status;
        if (log->rows && !(time_s > log->time_s[log->rows - 1])) {
            same++;
            continue;
        }
        log->time_s[log->rows] = time_s;
        log->speed_m_s[log->rows++] = fmax(speed, 0);
    }
    if (empty == 1)
        note(log, SPEED_LOG_ROW_EMPTY);
    else if (empty)
        note(log, SPEED_LOG_ROWS_EMPTY, empty);
    if (same == 1)
        note(log, SPEED_LOG_ROW_REPEATS);
    else if (same)
        note(log, SPEED_LOG_ROWS_REPEAT, same);
    return HT_OK;
}

/* A single row that stands off both neighbours is a slip of the logger. */
static void drop_jumps(struct ht_speed_log *log)
{
    size_t kept = 1, dropped = 0;
    for (size_t i = 1; i < log->rows; i++) {
        double before = log->speed_m_s[kept - 1], here = log->speed_m_s[i];
        double after = i + 1 < log->rows ? log->speed_m_s[i + 1] : before;
        bool slip = fabs(here - before) > jump_m_s &&
                    fabs(here - after) > jump_m_s &&
                    fabs(after - before) < jump_m_s;
        if (slip) {
            dropped++;
            continue;
        }
        log->time_s[kept] = log->time_s[i];
        log->speed_m_s[kept++] = here;
    }
    log->rows = kept;
    if (dropped == 1)
        note(log, SPEED_LOG_ROW_JUMPS);
    else if (dropped)
        note(log, SPEED_LOG_ROWS_JUMP, dropped);
}

static void describe(struct ht_speed_log *log)
{
    char number[40];
    double quantum = ht_log_quantum(log->speed_m_s, log->rows);
    if (quantum > 0.2) {
        ht_format_number(number, sizeof number, quantum * HT_KM_H_PER_M_S, 1);
        note(log, SPEED_LOG_STEPS, number);
    }
    double longest = 0;
    for (size_t i = 1; i < log->rows; i++)
        longest = fmax(longest, log->time_s[i] - log->time_s[i - 1]);
    if (longest > 5) {
        ht_format_number(number, sizeof number, longest, 0);
        note(log, SPEED_LOG_HOLE, number);
    }
}

enum ht_status ht_speed_log_from_table(struct ht_speed_log *log,
                                       const struct ht_table *table,
                                       const char *path,
                                       const struct ht_sheet_speed *how,
                                       struct ht_error *err)
{
    *log = (struct ht_speed_log){ .rows = 0 };
    struct columns c = { 0 };
    if (table->rows < 2 || table->columns < 2)
        return ht_fail(err, SPEED_LOG_NO_TABLE, path, table->rows,
                       table->columns);
    enum ht_status status = find_columns(&c, table, path, how, err);
    if (status != HT_OK)
        return status;
    log->memory = ht_allocate(2 * table->rows, sizeof(double));
    if (!log->memory)
        return ht_fail(err, SPEED_LOG_NO_MEMORY, path);
    log->time_s = log->memory;
    log->speed_m_s = log->time_s + table->rows;
    if (!isfinite(c.seconds)) {
        c.seconds = guess_seconds(table, c.time);
        note(log, c.seconds > 0.5    ? SPEED_LOG_IN_S
                  : c.seconds > 5e-4 ? SPEED_LOG_IN_MS
                  : c.seconds > 5e-7 ? SPEED_LOG_IN_US
                                     : SPEED_LOG_IN_NS);
    }
    status = take_rows(log, table, &c, path, err);
    if (status == HT_OK && log->rows < HT_LOG_ROWS_LEAST)
        status = ht_fail(err, SPEED_LOG_FEW_ROWS, path, log->rows,
                         HT_LOG_ROWS_LEAST);
    if (status != HT_OK) {
        ht_speed_log_free(log);
        return status;
    }
    drop_jumps(log);
    describe(log);
    return HT_OK;
}

void ht_speed_log_free(struct ht_speed_log *log)
{
    ht_release(log->memory);
    *log = (struct ht_speed_log){ .rows = 0 };
}
