#include "halfturn/text.h"

#include "memory.h"

#include <locale.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const size_t DEFAULT_LIMIT_BYTES = (size_t)64 << 20;

/* Most texts are lines. */
enum { FIRST_BYTES = 128 };

void ht_text_fail(struct ht_text *text)
{
    ht_release(text->bytes);
    text->bytes = NULL;
    text->length = text->room = 0;
    text->failed = true;
}

static bool make_room(struct ht_text *text, size_t more)
{
    size_t limit = text->limit ? text->limit : DEFAULT_LIMIT_BYTES;
    size_t wanted = text->length + more + 1;
    if (wanted < FIRST_BYTES)
        wanted = FIRST_BYTES;
    if (text->failed || more >= limit || text->length + more >= limit ||
        !ht_grow((void **)&text->bytes, &text->room, wanted, 1))
        ht_text_fail(text);
    return !text->failed;
}

void ht_text_add_bytes(struct ht_text *text, const char *bytes, size_t length)
{
    if (!make_room(text, length))
        return;
    if (length)
        memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void ht_text_add(struct ht_text *text, const char *piece)
{
    ht_text_add_bytes(text, piece, strlen(piece));
}

/* Mostly there is room for it; else it is printed again where there is. */
void ht_text_addf(struct ht_text *text, const char *format, ...)
{
    va_list first, again;
    va_start(first, format);
    va_copy(again, first);
    size_t left = text->room - text->length;
    /* clang-tidy 14 does not see that it was begun:
     * NOLINTNEXTLINE(clang-analyzer-valist.Uninitialized) */
    int length = vsnprintf(left > 0 ? text->bytes + text->length : NULL, left,
                           format, first);
    va_end(first);
    if (length < 0)
        ht_text_fail(text);
    else if (make_room(text, (size_t)length)) {
        if ((size_t)length >= left)
            (void)vsnprintf(text->bytes + text->length, (size_t)length + 1,
                            format, again);
        text->length += (size_t)length;
    }
    va_end(again);
}

/* The C library prints the host locale's decimal mark; put a point back. */
static void undo_locale(char *buffer)
{
    const char *mark = localeconv()->decimal_point;
    size_t length = strlen(mark);
    if (length == 0 || strcmp(mark, ".") == 0)
        return;
    char *found = strstr(buffer, mark);
    if (!found)
        return;
    *found = '.';
    memmove(found + 1, found + length, strlen(found + length) + 1);
}

static bool is_negative_zero_text(const char *buffer)
{
    return buffer[0] == '-' && strspn(buffer + 1, "0.") == strlen(buffer + 1);
}

void ht_format_number(char *buffer, size_t size, double value, int decimals)
{
    if (!isfinite(value)) {
        (void)snprintf(buffer, size, "?");
        return;
    }
    (void)snprintf(buffer, size, "%.*f", decimals, value);
    undo_locale(buffer);
    if (is_negative_zero_text(buffer))
        memmove(buffer, buffer + 1, strlen(buffer));
}

void ht_format_significant(char *buffer, size_t size, double value, int digits)
{
    double magnitude = fabs(value);
    if (!isfinite(value) || value == 0) {
        ht_format_number(buffer, size, value, 0);
        return;
    }
    if (magnitude < 1e-6 || magnitude >= 1e9) {
        (void)snprintf(buffer, size, "%.*e", digits - 1, value);
        undo_locale(buffer);
        return;
    }
    /* Let printf round first: 0.0996 with two digits is 0.10, not 0.100. */
    char rounded[40];
    (void)snprintf(rounded, sizeof rounded, "%.*e", digits - 1, value);
    const char *exponent = strchr(rounded, 'e');
    int power = 0;
    if (exponent)
        (void)sscanf(exponent + 1, "%d", &power);
    int decimals = digits - 1 - power;
    ht_format_number(buffer, size, value, decimals > 0 ? decimals : 0);
}

void ht_text_number(struct ht_text *text, double value, int decimals)
{
    char buffer[400];
    ht_format_number(buffer, sizeof buffer, value, decimals);
    ht_text_add(text, buffer);
}

void ht_text_significant(struct ht_text *text, double value, int digits)
{
    char buffer[64];
    ht_format_significant(buffer, sizeof buffer, value, digits);
    ht_text_add(text, buffer);
}

bool ht_text_ok(const struct ht_text *text)
{
    return !text->failed;
}

const char *ht_text_get(const struct ht_text *text)
{
    return text->bytes ? text->bytes : "";
}

void ht_text_free(struct ht_text *text)
{
    ht_release(text->bytes);
    *text = (struct ht_text){ 0 };
}

void ht_text_end(struct ht_text *whole, struct ht_text *piece)
{
    if (piece->failed)
        ht_text_fail(whole);
    ht_text_free(piece);
}
