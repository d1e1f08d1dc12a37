#include "markup.h"

#include "common/printable.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

/* Length of a valid UTF-8 sequence at `p`, or 0 (RFC 3629, section 4). */
static size_t sequence_length(const unsigned char *p)
{
    static const struct {
        unsigned char first, last; /* of the first byte */
        unsigned char low, high;   /* of the second */
        unsigned char length;
    } forms[] = {
        { 0xC2, 0xDF, 0x80, 0xBF, 2 }, { 0xE0, 0xE0, 0xA0, 0xBF, 3 },
        { 0xE1, 0xEC, 0x80, 0xBF, 3 }, { 0xED, 0xED, 0x80, 0x9F, 3 },
        { 0xEE, 0xEF, 0x80, 0xBF, 3 }, { 0xF0, 0xF0, 0x90, 0xBF, 4 },
        { 0xF1, 0xF3, 0x80, 0xBF, 4 }, { 0xF4, 0xF4, 0x80, 0x8F, 4 },
    };
    if (p[0] < 0x80)
        return 1;
    size_t f = 0, count = sizeof forms / sizeof *forms;
    while (f < count && (p[0] < forms[f].first || p[0] > forms[f].last))
        f++;
    if (f == count || p[1] < forms[f].low || p[1] > forms[f].high)
        return 0;
    for (size_t i = 2; i < forms[f].length; i++)
        if ((p[i] & 0xC0) != 0x80)
            return 0;
    return forms[f].length;
}

void clean_text(struct ht_text *out, const char *text)
{
    const unsigned char *p = (const unsigned char *)text;
    while (p && *p) {
        size_t length = sequence_length(p);
        if (length == 0)
            ht_text_add(out, "\357\277\275");
        else if (ht_control_length((const char *)p) > 0)
            ht_text_add(out, " ");
        else
            ht_text_add_bytes(out, (const char *)p, length);
        p += length ? length : 1;
    }
}

void unmarked_text(struct ht_text *out, const char *text)
{
    for (const char *p = text; *p; p++)
        if ((unsigned char)*p >= 0x20)
            ht_text_add_bytes(out, p, 1);
}

static const char *replacement(char c, bool keep_marks)
{
    switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    case '\001': return keep_marks ? "<mark>" : "";
    case '\002': return keep_marks ? "</mark>" : "";
    case '\003': return keep_marks ? "<b>" : "";
    case '\004': return keep_marks ? "</b>" : "";
    default: return NULL;
    }
}

static void escaped(struct ht_text *out, const char *text, bool keep_marks)
{
    for (const char *p = text ? text : ""; *p; p++) {
        const char *other = replacement(*p, keep_marks);
        if (other)
            ht_text_add(out, other);
        else
            ht_text_add_bytes(out, p, 1);
    }
}

/* Two decimals without trailing zeros; figures come from finite numbers. */
static void coordinate(struct ht_text *out, double value)
{
    char buffer[400];
    ht_format_number(buffer, sizeof buffer, isfinite(value) ? value : 0, 2);
    size_t length = strlen(buffer);
    while (buffer[length - 1] == '0')
        length--;
    if (buffer[length - 1] == '.')
        length--;
    ht_text_add_bytes(out, buffer, length);
}

void markup(struct ht_text *out, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    for (const char *p = format; *p; p++) {
        size_t plain = strcspn(p, "%");
        ht_text_add_bytes(out, p, plain);
        p += plain;
        if (!*p || !*++p)
            break;
        switch (*p) {
        case 'n': coordinate(out, va_arg(list, double)); break;
        case 'd': ht_text_addf(out, "%d", va_arg(list, int)); break;
        case 's': ht_text_add(out, va_arg(list, const char *)); break;
        case 't': escaped(out, va_arg(list, const char *), true); break;
        case 'a': escaped(out, va_arg(list, const char *), false); break;
        default: ht_text_add(out, "%"); break;
        }
    }
    va_end(list);
}
