#include "halfturn/number.h"

#include "decimal.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST = 63 };

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* U+2212, the minus sign that word processors and our own screens print. */
static size_t sign_length(const char *text, size_t length)
{
    if (length >= 1 && (text[0] == '-' || text[0] == '+'))
        return 1;
    if (length >= 3 && memcmp(text, "\xe2\x88\x92", 3) == 0)
        return 3;
    return 0;
}

static size_t digits_at(const char *text, size_t length, size_t at)
{
    size_t n = 0;
    while (at + n < length && is_digit(text[at + n]))
        n++;
    return n;
}

static bool has_shape(const char *text, size_t length, char mark)
{
    size_t at = sign_length(text, length);
    size_t whole = digits_at(text, length, at), part = 0;
    at += whole;
    if (at < length && text[at] == mark) {
        part = digits_at(text, length, at + 1);
        at += 1 + part;
    }
    if (whole + part == 0)
        return false;
    if (at < length && (text[at] == 'e' || text[at] == 'E')) {
        at++;
        if (at < length && (text[at] == '-' || text[at] == '+'))
            at++;
        size_t power = digits_at(text, length, at);
        if (power == 0)
            return false;
        at += power;
    }
    return at == length;
}

static bool is_word_not_finite(const char *text, size_t length)
{
    static const char *const words[] = { "nan", "inf", "infinity" };
    size_t at = sign_length(text, length);
    for (size_t w = 0; w < sizeof words / sizeof words[0]; w++) {
        size_t n = strlen(words[w]), same = 0;
        if (length - at != n)
            continue;
        while (same < n && (text[at + same] | 0x20) == words[w][same])
            same++;
        if (same == n)
            return true;
    }
    return false;
}

/* Most numbers are plain: no search for what else they could be. */
static bool read_plain(const char *text, size_t length, char mark,
                       double *value)
{
    char buffer[LONGEST + 1 + HT_DECIMAL_BEHIND] = "";
    memcpy(buffer, text, length);
    return ht_decimal_scan(buffer, mark, value) == buffer + length;
}

/* strtod follows the host's locale, so the text is handed to it with the
 * host's own decimal mark: the same digits in, the same double out. */
static double convert(const char *text, size_t length, char mark)
{
    char buffer[LONGEST + 16];
    const char *host = localeconv()->decimal_point;
    size_t sign = sign_length(text, length), n = 0;
    if (sign == 3 || text[0] == '-')
        buffer[n++] = '-';
    for (size_t i = sign; i < length; i++) {
        if (text[i] != mark) {
            buffer[n++] = text[i];
            continue;
        }
        for (const char *m = host; *m && n < sizeof buffer - 1; m++)
            buffer[n++] = *m;
    }
    buffer[n] = '\0';
    return strtod(buffer, NULL);
}

enum ht_number_problem ht_number_read_mark(const char *text, size_t length,
                                           char mark, double *value)
{
    double read;
    if (length == 0)
        return HT_NUMBER_EMPTY;
    if (length <= LONGEST && read_plain(text, length, mark, &read)) {
        *value = read;
        return HT_NUMBER_FINE;
    }
    if (is_word_not_finite(text, length))
        return HT_NUMBER_NOT_FINITE;
    if (length > LONGEST)
        return HT_NUMBER_NOT_A_NUMBER;
    if (!has_shape(text, length, mark))
        return mark == '.' && has_shape(text, length, ',')
                   ? HT_NUMBER_DECIMAL_COMMA
                   : HT_NUMBER_NOT_A_NUMBER;
    read = convert(text, length, mark);
    if (!isfinite(read))
        return HT_NUMBER_NOT_FINITE;
    *value = read;
    return HT_NUMBER_FINE;
}

enum ht_number_problem ht_number_read(const char *text, size_t length,
                                      double *value)
{
    return ht_number_read_mark(text, length, '.', value);
}

enum ht_number_problem ht_number_read_degrees(const char *text, size_t length,
                                              double *degrees)
{
    const char *d = memchr(text, 'd', length);
    if (!d)
        return ht_number_read(text, length, degrees);
    size_t head = (size_t)(d - text);
    double whole, minutes;
    enum ht_number_problem problem = ht_number_read(text, head, &whole);
    if (problem != HT_NUMBER_FINE)
        return problem;
    problem = ht_number_read(d + 1, length - head - 1, &minutes);
    if (problem != HT_NUMBER_FINE)
        return problem;
    if (whole != floor(whole) || !is_digit(d[1]) || minutes >= 60)
        return HT_NUMBER_NOT_A_NUMBER;
    double sign = signbit(whole) ? -1 : 1;
    *degrees = whole + sign * minutes / 60;
    return HT_NUMBER_FINE;
}
