#include "scdoc.h"

#include "common/printable.h"

#include <stdbool.h>
#include <string.h>

/* Marks wherever they stand, or at the start of a line. Others are left to
 * scdoc: it knows what they are to the formatter. */
static const char marks[] = "\\*_+-#[]|`;";

static bool at_line_start(const struct ht_text *text)
{
    return text->length == 0 || text->bytes[text->length - 1] == '\n' ||
           text->bytes[text->length - 1] == '\t';
}

void scdoc_text(struct ht_text *text, const char *plain, size_t length)
{
    bool first = at_line_start(text);
    size_t i = 0;
    while (first && i < length && plain[i] == ' ')
        i++; /* would be taken for an indentation */
    if (first && i < length && plain[i] == '.')
        ht_text_add(text, "__"); /* nothing underlined: no list, no request */
    for (; i < length; i++) {
        size_t control = ht_control_length(plain + i);
        if (control > 0) {
            ht_text_add(text, " ");
            i += control - 1;
            continue;
        }
        if (strchr(marks, plain[i]))
            ht_text_add(text, "\\");
        ht_text_add_bytes(text, plain + i, 1);
    }
}

static void between(struct ht_text *text, const char *mark, const char *plain)
{
    ht_text_add(text, mark);
    scdoc_text(text, plain, strlen(plain));
    ht_text_add(text, mark);
}

void scdoc_bold(struct ht_text *text, const char *plain)
{
    between(text, "*", plain);
}

void scdoc_underlined(struct ht_text *text, const char *plain)
{
    between(text, "_", plain);
}

void scdoc_literal_line(struct ht_text *text, const char *line, size_t length)
{
    if (length >= 3 && strncmp(line, "```", 3) == 0)
        ht_text_add(text, "\\"); /* would end the block */
    for (size_t i = 0; i < length; i++) {
        ht_text_add(text, line[i] == '\\' ? "\\" : "");
        ht_text_add_bytes(text, line + i, 1);
    }
    ht_text_add(text, "\n");
}

void scdoc_literal(struct ht_text *text, const char *lines)
{
    ht_text_add(text, "```\n");
    while (*lines) {
        size_t length = strcspn(lines, "\n");
        scdoc_literal_line(text, lines, length);
        lines += length + (lines[length] == '\n');
    }
    ht_text_add(text, "```\n");
}
