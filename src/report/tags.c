#include "tags.h"

#include "halfturn/number.h"

#include <string.h>

bool piece_is(const struct piece *piece, const char *word)
{
    return strlen(word) == piece->length &&
           memcmp(piece->at, word, piece->length) == 0;
}

static const char *take(struct piece *piece, const char *at, const char *ends)
{
    piece->at = at;
    piece->length = strcspn(at, ends);
    return at + piece->length;
}

/* name="value"; NULL: something else. */
static const char *read_attribute(struct tag *tag, const char *at)
{
    if (tag->attributes == TAG_ATTRIBUTES)
        return NULL;
    at = take(&tag->attribute[tag->attributes], at, "=<>\" ");
    if (at[0] != '=' || at[1] != '"')
        return NULL;
    at = take(&tag->value[tag->attributes++], at + 2, "\"");
    return *at ? at + 1 : NULL;
}

const char *tag_read(struct tag *tag, const char *at)
{
    *tag = (struct tag){ 0 };
    if (*at++ != '<')
        return NULL;
    tag->closes = *at == '/';
    at = take(&tag->name, at + tag->closes, " />\n");
    for (;;) {
        at += strspn(at, " \n");
        if (*at == '/' || *at == '>')
            break;
        at = *at ? read_attribute(tag, at) : NULL;
        if (!at)
            return NULL;
    }
    tag->empty = *at == '/';
    at += tag->empty;
    if (*at != '>' || tag->name.length == 0)
        return NULL;
    return take(&tag->text, at + 1, "<");
}

struct piece tag_value(const struct tag *tag, const char *attribute)
{
    for (size_t i = 0; i < tag->attributes; i++)
        if (piece_is(&tag->attribute[i], attribute))
            return tag->value[i];
    return (struct piece){ "", 0 };
}

double tag_number(const struct tag *tag, const char *attribute,
                  double otherwise)
{
    struct piece value = tag_value(tag, attribute);
    double number;
    return piece_number(&value, &number) ? number : otherwise;
}

static void skip(struct piece *piece, size_t bytes)
{
    piece->at += bytes;
    piece->length -= bytes;
}

bool piece_number(struct piece *list, double *number)
{
    while (list->length && strchr(" ,", *list->at))
        skip(list, 1);
    size_t length = list->length && *list->at == '-';
    while (length < list->length && strchr("0123456789.", list->at[length]))
        length++;
    if (ht_number_read(list->at, length, number) != HT_NUMBER_FINE)
        return false;
    skip(list, length);
    return true;
}

void piece_unescape(struct ht_text *out, const struct piece *piece)
{
    static const char *const signs[][2] = {
        { "&amp;", "&" },  { "&lt;", "<" },  { "&gt;", ">" },
        { "&quot;", "\"" }, { "&#39;", "'" },
    };
    for (size_t i = 0; i < piece->length;) {
        const char *at = piece->at + i, *as = NULL;
        size_t length = 1;
        for (size_t s = 0; *at == '&' && s < sizeof signs / sizeof *signs; s++)
            if (strncmp(at, signs[s][0], strlen(signs[s][0])) == 0) {
                length = strlen(signs[s][0]);
                as = signs[s][1];
            }
        ht_text_add_bytes(out, as ? as : at, 1);
        i += length;
    }
}
