/* tags.h - reads back the markup that the figures write, tag by tag.
 *
 * Made for that markup alone: attributes in double quotes, '<' and '>' within
 * them escaped.
 */
#ifndef HALFTURN_REPORT_TAGS_H
#define HALFTURN_REPORT_TAGS_H

#include "halfturn/text.h"

enum { TAG_ATTRIBUTES = 12 };

struct piece { /* of a longer text */
    const char *at;
    size_t length;
};
bool piece_is(const struct piece *piece, const char *word);

struct tag {
    struct piece name;
    bool closes, empty;         /* </name>; <name/> */
    size_t attributes;
    struct piece attribute[TAG_ATTRIBUTES], value[TAG_ATTRIBUTES];
    struct piece text;          /* behind it, up to the next tag; escaped */
};
/* `at` stands on a '<'. Returns where the next tag begins, or the end of the
 * text; NULL for what no figure writes. */
const char *tag_read(struct tag *tag, const char *at);
/* An attribute's value; of length 0 when there is none. */
struct piece tag_value(const struct tag *tag, const char *attribute);
/* A number, `otherwise` when there is none. */
double tag_number(const struct tag *tag, const char *attribute,
                  double otherwise);
/* The next number of a list with blanks or commas; false at its end. */
bool piece_number(struct piece *list, double *number);
/* Escaped text as it is read. */
void piece_unescape(struct ht_text *out, const struct piece *piece);

#endif
