#include "address.h"

#include "common/printable.h"

#include <ctype.h>
#include <string.h>

static int digit_of(char c)
{
    static const char digits[] = "0123456789abcdef";
    const char *at = c ? strchr(digits, tolower((unsigned char)c)) : NULL;
    return at ? (int)(at - digits) : -1;
}

/* UTF-8 without control characters. */
static bool is_plain(const char *text)
{
    while (*text) {
        size_t length = ht_character_length(text, 4);
        if (length == 0 || ht_control_length(text) > 0)
            return false;
        text += length;
    }
    return true;
}

bool address_decode(char *to, size_t room, const char *from, size_t length)
{
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        char c = from[i];
        if (c == '%') {
            int high = i + 2 < length ? digit_of(from[i + 1]) : -1;
            int low = high < 0 ? -1 : digit_of(from[i + 2]);
            if (low < 0 || high * 16 + low == 0)
                return false;
            c = (char)(high * 16 + low);
            i += 2;
        }
        if (used + 1 >= room)
            return false;
        to[used++] = c;
    }
    to[used] = '\0';
    return is_plain(to);
}

bool address_whole(const char *text, size_t length, int64_t *number)
{
    if (length == 0 || length > 15 || *text == '0' ||
        strspn(text, "0123456789") < length)
        return false;
    *number = 0;
    for (size_t i = 0; i < length; i++)
        *number = *number * 10 + (text[i] - '0');
    return true;
}

bool address_matches(const char *pattern, const char *path, int64_t *number,
                     char *name, size_t room)
{
    for (; *pattern; pattern++) {
        if (*pattern == '#') {
            size_t digits = strspn(path, "0123456789");
            if (!address_whole(path, digits, number))
                return false;
            path += digits;
        } else if (*pattern == '*') {
            size_t length = strcspn(path, "/");
            if (!address_decode(name, room, path, length) || !name[0] ||
                strchr(name, '/'))
                return false;
            path += length;
        } else if (*path++ != *pattern) {
            return false;
        }
    }
    return *path == '\0';
}
