#include "say.h"

#include "halfturn/text.h"

#include <stdio.h>
#include <string.h>

static size_t put(char *out, size_t size, size_t at, const char *piece)
{
    size_t length = strlen(piece);
    if (at + length + 1 > size)
        length = size - at - 1;
    memcpy(out + at, piece, length);
    return at + length;
}

void ht_say_list(char *out, size_t size, const char *format, va_list args)
{
    char piece[64];
    size_t at = 0;
    for (const char *p = format; *p; p++) {
        const char *text = piece;
        snprintf(piece, sizeof piece, "%c", *p);
        if (p[0] == '%' && p[1] == '.') {
            ht_format_number(piece, sizeof piece, va_arg(args, double),
                             p[2] - '0');
            p += 3;
        } else if (p[0] == '%' && p[1] == 'z') {
            snprintf(piece, sizeof piece, "%zu", va_arg(args, size_t));
            p += 2;
        } else if (p[0] == '%') {
            p++;
            if (*p == 's')
                text = va_arg(args, const char *);
            else if (*p == 'u')
                snprintf(piece, sizeof piece, "%u", va_arg(args, unsigned));
        }
        at = put(out, size, at, text);
    }
    out[at] = 0;
}

void ht_say(char *out, size_t size, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    ht_say_list(out, size, format, args);
    va_end(args);
}
