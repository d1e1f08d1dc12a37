/* Rules, boxes, heads and feet of pages: whatever stands outside the tags is
 * said to be an artifact, so that nobody reads it out (ISO 32000-1, 14.8.2.2).
 */
#include "tagged.h"

#include <ctype.h>
#include <string.h>

struct content {
    struct ht_text *out;
    const char *at, *end;
    const char *kept;           /* all before is written */
    const char *operands;       /* behind the operator before */
    size_t depth;               /* of marked content */
    bool open;                  /* an artifact */
};

static bool is_delimiter(char c)
{
    return isspace((unsigned char)c) || c == '\0' || strchr("()<>[]{}/%", c);
}

/* From behind its '(' (7.3.4.2). */
static void skip_string(struct content *c)
{
    for (int depth = 1; c->at < c->end && depth > 0; c->at++)
        if (*c->at == '\\' && c->at + 1 < c->end)
            c->at++;
        else if (*c->at == '(')
            depth++;
        else if (*c->at == ')')
            depth--;
}

static void write_to(struct content *c, const char *to)
{
    ht_text_add_bytes(c->out, c->kept, (size_t)(to - c->kept));
    c->kept = to;
}

static void begin_artifact(struct content *c)
{
    ht_text_add(c->out, "/Artifact BMC\n");
    c->open = true;
}

static void end_artifact(struct content *c)
{
    if (c->open)
        ht_text_add(c->out, "\nEMC\n");
    c->open = false;
}

static bool is_word(const char *at, size_t length, const char *word)
{
    return length == strlen(word) && memcmp(at, word, length) == 0;
}

static void take_operator(struct content *c, const char *at, size_t length)
{
    if (is_word(at, length, "BDC") || is_word(at, length, "BMC")) {
        if (c->depth++ == 0) {
            write_to(c, c->operands);
            end_artifact(c);
        }
    } else if (is_word(at, length, "EMC")) {
        if (c->depth > 0)
            c->depth--;
    } else if (c->depth == 0 && !c->open) {
        write_to(c, c->operands);
        begin_artifact(c);
    }
    c->operands = c->at;
}

/* A number or an operator; a name begins with its '/'. */
static void take_word(struct content *c)
{
    const char *from = c->at;
    bool name = *c->at == '/';
    do
        c->at++;
    while (c->at < c->end && !is_delimiter(*c->at));
    if (!name && (isalpha((unsigned char)*from) || strchr("'\"", *from)))
        take_operator(c, from, (size_t)(c->at - from));
}

void mark_artifacts(struct ht_text *out, const char *content, size_t length)
{
    struct content c = { .out = out, .at = content, .end = content + length,
                         .kept = content, .operands = content };
    while (c.at < c.end) {
        if (*c.at == '(') {
            c.at++;
            skip_string(&c);
        } else if (*c.at != '/' && is_delimiter(*c.at))
            c.at++;
        else
            take_word(&c);
    }
    write_to(&c, c.end);
    end_artifact(&c);
}
