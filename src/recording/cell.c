#include "cell.h"

#include "halfturn/number.h"

#include <math.h>

static bool is_blank(char c)
{
    return c == ' ' || c == '\r' || c == '\t';
}

static struct cell trim(const char *from, const char *to, char separator)
{
    while (from < to && is_blank(*from) && *from != separator)
        from++;
    while (to > from && is_blank(to[-1]))
        to--;
    if (to - from >= 2 && *from == '"' && to[-1] == '"')
        return (struct cell){ from + 1, (size_t)(to - from - 2) };
    return (struct cell){ from, (size_t)(to - from) };
}

bool ht_cell_next(const char **at, const char *end, char separator,
                  struct cell *cell, bool *more)
{
    const char *from = *at, *to = from;
    bool quoted = false;
    if (!*more)
        return false;
    for (; to < end && (quoted || *to != separator); to++)
        quoted ^= *to == '"';
    *more = to < end;
    *at = to < end ? to + 1 : end;
    *cell = trim(from, to, separator);
    return true;
}

static bool read_digits(const char **at, const char *end, int count,
                        int *value)
{
    *value = 0;
    for (int i = 0; i < count; i++, (*at)++) {
        if (*at >= end || **at < '0' || **at > '9')
            return false;
        *value = *value * 10 + (**at - '0');
    }
    return true;
}

static bool read_mark(const char **at, const char *end, const char *marks)
{
    for (; *at < end && *marks; marks++)
        if (**at == *marks) {
            (*at)++;
            return true;
        }
    return false;
}

/* Days since 1970-01-01 in the Gregorian calendar: a year of March to
 * February makes the leap day the last. */
static double days_since_1970(int year, int month, int day)
{
    int y = month > 2 ? year : year - 1, m = (month + 9) % 12;
    int days = 365 * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + day;
    return days - 719469.0;
}

/* Seconds of a zone: Z, +02:00, +0200; nothing is taken as no offset. */
static bool read_zone(const char *at, const char *end, double *seconds)
{
    int hours, minutes = 0;
    *seconds = 0;
    if (at == end || (end - at == 1 && (*at == 'Z' || *at == 'z')))
        return true;
    double sign = *at == '-' ? -1 : 1;
    if (!read_mark(&at, end, "+-") || !read_digits(&at, end, 2, &hours))
        return false;
    (void)read_mark(&at, end, ":");
    if (at < end && !read_digits(&at, end, 2, &minutes))
        return false;
    *seconds = sign * (3600.0 * hours + 60.0 * minutes);
    return at == end;
}

enum { YEAR, MONTH, DAY, HOUR, MINUTE, SECOND, DATE_PARTS };

/* 2026-03-01T14:05:09; the seconds may be missing. */
static bool read_date_parts(const char **at, const char *end,
                            int part[DATE_PARTS])
{
    static const struct {
        int digits, least, most;
        const char *mark; /* before it */
    } forms[DATE_PARTS] = {
        [YEAR] = { 4, 0, 9999, NULL },  [MONTH] = { 2, 1, 12, "-/" },
        [DAY] = { 2, 1, 31, "-/" },     [HOUR] = { 2, 0, 24, "T t" },
        [MINUTE] = { 2, 0, 59, ":" },   [SECOND] = { 2, 0, 60, ":" },
    };
    for (size_t i = 0; i < DATE_PARTS; i++) {
        part[i] = 0;
        if (forms[i].mark && !read_mark(at, end, forms[i].mark))
            return i == SECOND;
        if (!read_digits(at, end, forms[i].digits, &part[i]) ||
            part[i] < forms[i].least || part[i] > forms[i].most)
            return false;
    }
    return true;
}

static bool read_date(const struct cell *cell, double *value)
{
    const char *at = cell->text, *end = at + cell->length;
    int part[DATE_PARTS];
    if (!read_date_parts(&at, end, part))
        return false;
    double fraction = 0, place = 0.1, zone_s;
    if (read_mark(&at, end, ".,"))
        for (; at < end && *at >= '0' && *at <= '9'; at++, place /= 10)
            fraction += place * (*at - '0');
    if (!read_zone(at, end, &zone_s))
        return false;
    *value = 86400 * days_since_1970(part[YEAR], part[MONTH], part[DAY]) +
             3600.0 * part[HOUR] + 60.0 * part[MINUTE] + part[SECOND] -
             zone_s + fraction;
    return true;
}

enum cell_kind ht_cell_read(const struct cell *cell, char decimal,
                            double *value)
{
    *value = NAN;
    if (cell->length == 0)
        return CELL_EMPTY;
    switch (ht_number_read_mark(cell->text, cell->length, decimal, value)) {
    case HT_NUMBER_FINE:
        return CELL_NUMBER;
    case HT_NUMBER_NOT_FINITE:
        return CELL_NOT_FINITE;
    default:
        return read_date(cell, value) ? CELL_DATE : CELL_WORDS;
    }
}
