#include "printable.h"

/* C1 is U+0080 to U+009F: C2 and a byte below A0. */
size_t ht_control_length(const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    if ((at[0] && at[0] < 0x20) || at[0] == 0x7f)
        return 1;
    return at[0] == 0xc2 && at[1] >= 0x80 && at[1] < 0xa0 ? 2 : 0;
}

void ht_make_printable(char *text)
{
    const char *from = text;
    char *to = text;
    while (*from) {
        size_t length = ht_control_length(from);
        *to++ = length ? '?' : *from;
        from += length ? length : 1;
    }
    *to = '\0';
}
