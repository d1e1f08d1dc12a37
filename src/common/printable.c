#include "printable.h"

#include <string.h>

/* Marks, embeddings, overrides and isolates of the bidirectional algorithm
 * (Unicode Standard Annex 9, table 1): they turn what stands beside them. */
static const unsigned char turning[][4] = {
    { 0xd8, 0x9c },                                     /* U+061C */
    { 0xe2, 0x80, 0x8e }, { 0xe2, 0x80, 0x8f },         /* U+200E, U+200F */
    { 0xe2, 0x80, 0xaa }, { 0xe2, 0x80, 0xab },         /* U+202A to U+202E */
    { 0xe2, 0x80, 0xac }, { 0xe2, 0x80, 0xad }, { 0xe2, 0x80, 0xae },
    { 0xe2, 0x81, 0xa6 }, { 0xe2, 0x81, 0xa7 },         /* U+2066 to U+2069 */
    { 0xe2, 0x81, 0xa8 }, { 0xe2, 0x81, 0xa9 },
};

/* C1 is U+0080 to U+009F: C2 and a byte below A0. */
size_t ht_control_length(const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    if ((at[0] && at[0] < 0x20) || at[0] == 0x7f)
        return 1;
    if (at[0] == 0xc2 && at[1] >= 0x80 && at[1] < 0xa0)
        return 2;
    for (size_t i = 0; i < sizeof turning / sizeof turning[0]; i++) {
        const char *one = (const char *)turning[i];
        if (strncmp(text, one, strlen(one)) == 0)
            return strlen(one);
    }
    return 0;
}

/* First bytes, and what may stand second: table 3-7 of The Unicode Standard,
 * version 15, which RFC 3629 gives as a grammar. */
static const struct {
    unsigned char first, last, low, high;
    size_t length;
} forms[] = {
    { 0x00, 0x7f, 0, 0, 1 },       { 0xc2, 0xdf, 0x80, 0xbf, 2 },
    { 0xe0, 0xe0, 0xa0, 0xbf, 3 }, { 0xe1, 0xec, 0x80, 0xbf, 3 },
    { 0xed, 0xed, 0x80, 0x9f, 3 }, { 0xee, 0xef, 0x80, 0xbf, 3 },
    { 0xf0, 0xf0, 0x90, 0xbf, 4 }, { 0xf1, 0xf3, 0x80, 0xbf, 4 },
    { 0xf4, 0xf4, 0x80, 0x8f, 4 },
};

size_t ht_character_length(const char *text, size_t left)
{
    const unsigned char *at = (const unsigned char *)text;
    size_t f = 0;
    while (f < sizeof forms / sizeof forms[0] && at[0] > forms[f].last)
        f++;
    if (f == sizeof forms / sizeof forms[0] || at[0] < forms[f].first ||
        forms[f].length > left)
        return 0;
    if (forms[f].length > 1 && (at[1] < forms[f].low || at[1] > forms[f].high))
        return 0;
    for (size_t i = 2; i < forms[f].length; i++)
        if ((at[i] & 0xc0) != 0x80)
            return 0;
    return forms[f].length;
}

void ht_make_printable(char *text)
{
    const char *from = text;
    char *to = text;
    while (*from) {
        size_t control = ht_control_length(from);
        size_t length = ht_character_length(from, 4);
        if (control > 0 || length == 0) {
            *to++ = '?';
            from += control > 0 ? control : 1;
        } else {
            for (size_t i = 0; i < length; i++)
                *to++ = *from++;
        }
    }
    *to = '\0';
}
