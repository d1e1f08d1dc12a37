#include "shown.h"

#include "common/constants.h"
#include "markup.h"
#include "texts.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Beyond this the point's place says more than the digits. */
static const double longest = 1e15;

static struct shown with_minus(const char *digits)
{
    struct shown shown;
    bool negative = *digits == '-';
    (void)snprintf(shown.text, sizeof shown.text, "%s%s",
                   negative ? MINUS : "", digits + negative);
    return shown;
}

struct shown shown_number(double value, int decimals)
{
    char buffer[40];
    if (fabs(value) < longest)
        ht_format_number(buffer, sizeof buffer, value, decimals);
    else
        ht_format_significant(buffer, sizeof buffer, value, 6);
    return with_minus(buffer);
}

struct shown shown_significant(double value, int digits)
{
    char buffer[40];
    ht_format_significant(buffer, sizeof buffer, value, digits);
    return with_minus(buffer);
}

struct shown shown_short(double value)
{
    char buffer[40];
    ht_format_significant(buffer, sizeof buffer, value, 2);
    size_t length = strlen(buffer);
    while (strchr(buffer, '.') && !strchr(buffer, 'e') &&
           (buffer[length - 1] == '0' || buffer[length - 1] == '.'))
        buffer[--length] = '\0';
    return with_minus(buffer);
}

/* Number, unit; the form is one of the few below, not a sentence. */
static struct shown with_unit(double value, int decimals, const char *unit)
{
    struct shown shown = shown_number(value, decimals);
    size_t length = strlen(shown.text);
    (void)snprintf(shown.text + length, sizeof shown.text - length, "%s",
                   unit);
    return shown;
}

struct shown shown_degrees(double rad, int decimals)
{
    return with_unit(rad * HT_DEG_PER_RAD, decimals, REPORT_DEGREE);
}

struct shown shown_speed(double m_s)
{
    return with_unit(m_s * HT_KM_H_PER_M_S, 0, REPORT_KM_H);
}

struct shown_range shown_plus_minus(double value, double half, int decimals)
{
    struct shown_range range;
    (void)snprintf(range.text, sizeof range.text, REPORT_PLUS_MINUS,
                   shown_number(value, decimals).text,
                   shown_number(half, decimals).text);
    return range;
}

static struct shown_range without_range(struct shown value)
{
    struct shown_range range;
    (void)snprintf(range.text, sizeof range.text, "%s", value.text);
    return range;
}

/* Both halves of the range alike within a tenth: one number says them. A range
 * that begins at 0 says so. */
bool shown_evenly(const struct ht_estimate *e)
{
    double below = e->value - e->low, above = e->high - e->value;
    bool from_nothing = !(e->low > 0) && e->high > 0;
    return !from_nothing && fabs(above - below) <= 0.1 * (above + below);
}

struct shown_range shown_angle_range(const struct ht_estimate *rad)
{
    struct shown_range range;
    struct shown value = shown_degrees(rad->value, 2);
    if (!isfinite(rad->low) || !isfinite(rad->high))
        return without_range(value);
    if (shown_evenly(rad))
        (void)snprintf(range.text, sizeof range.text, REPORT_PLUS_MINUS,
                       value.text,
                       shown_degrees((rad->high - rad->low) / 2, 2).text);
    else
        (void)snprintf(range.text, sizeof range.text, REPORT_RANGE, value.text,
                       shown_degrees(rad->low, 2).text,
                       shown_degrees(rad->high, 2).text);
    return range;
}

struct shown_range shown_rate_range(const struct ht_estimate *rad_s2)
{
    struct shown_range range;
    double half = (rad_s2->high - rad_s2->low) / 2;
    double ten = half >= 20 && rad_s2->value >= 100 ? 10 : 1;
    double value = ten * round(rad_s2->value / ten);
    double low = ten * round(rad_s2->low / ten);
    double high = ten * round(rad_s2->high / ten);
    struct ht_estimate rounded = { value, rad_s2->u, low, high };
    if (!isfinite(low) || !isfinite(high))
        return without_range(with_unit(value, 0, REPORT_RAD_S2));
    if (shown_evenly(&rounded))
        (void)snprintf(range.text, sizeof range.text,
                       REPORT_PLUS_MINUS REPORT_RAD_S2,
                       shown_number(value, 0).text,
                       shown_number((high - low) / 2, 0).text);
    else
        (void)snprintf(range.text, sizeof range.text,
                       REPORT_RANGE REPORT_RAD_S2,
                       shown_number(value, 0).text, shown_number(low, 0).text,
                       shown_number(high, 0).text);
    return range;
}

struct shown_range shown_level(const struct ht_level *level)
{
    struct shown_range range;
    (void)snprintf(range.text, sizeof range.text, REPORT_LEVEL_RANGE,
                   shown_significant(level->value, 2).text,
                   shown_significant(level->low, 2).text,
                   shown_significant(level->high, 2).text);
    return range;
}

/* Length of what must not part from the number before it; 0: nothing. */
static size_t unit_length(const char *text)
{
    static const char *const units[] = {
        "in 100", "minutes", "minute", "km/h", "mph", "Hz", "kHz", "rad/s²",
        "m/s²", "ms", "mm", "dB", "s", "m", "%"
    };
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        size_t length = strlen(units[i]);
        if (strncmp(text, units[i], length) == 0 &&
            !isalnum((unsigned char)text[length]))
            return length;
    }
    return 0;
}

void put_held(struct ht_text *out, const char *text)
{
    struct ht_text clean = { 0 };
    clean_text(&clean, text);
    const char *from = ht_text_get(&clean);
    for (const char *p = from; *p; p++) {
        bool behind = *p == ' ' && p > from && isdigit((unsigned char)p[-1]);
        size_t held = behind ? unit_length(p + 1) : 0;
        if (held == 0) {
            ht_text_add_bytes(out, p, 1);
            continue;
        }
        ht_text_add(out, NBSP);
        for (size_t i = 1; i <= held; i++)
            ht_text_add_bytes(out, p[i] == ' ' ? NBSP : &p[i],
                              p[i] == ' ' ? sizeof NBSP - 1 : 1);
        p += held;
    }
    ht_text_end(out, &clean);
}

const char *cleaned(struct ht_text *room, const char *text)
{
    room->length = 0;
    ht_text_add(room, "");
    put_held(room, text);
    return ht_text_get(room);
}

const char *id_words(struct ht_text *room, const char *id)
{
    (void)cleaned(room, id);
    for (size_t i = 0; i < room->length; i++)
        if (room->bytes[i] == '_')
            room->bytes[i] = ' ';
    return ht_text_get(room);
}

const char *order_name(struct ht_text *room, const char *name)
{
    struct ht_text clean = { 0 };
    room->length = 0;
    ht_text_add(room, "");
    clean_text(&clean, name);
    for (const char *p = ht_text_get(&clean); *p; p++)
        if (*p == ' ')
            ht_text_add(room, NBSP);
        else
            ht_text_add_bytes(room, p, 1);
    ht_text_end(room, &clean);
    return ht_text_get(room);
}

void next_sentence(struct ht_text *paragraph)
{
    if (paragraph->length)
        ht_text_add(paragraph, " ");
}
