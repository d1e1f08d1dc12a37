#include "note.h"

#include <stdarg.h>
#include <stdio.h>

typedef char line_text[200];

static void add(line_text *lines, size_t *count, const char *format,
                va_list args)
{
    if (*count == HT_SHIM_LINES_MAX)
        return;
    vsnprintf(lines[*count], sizeof *lines, format, args);
    (*count)++;
}

void ht_repair_note(struct ht_shims *shims, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add(shims->note, &shims->notes, format, args);
    va_end(args);
}

void ht_repair_refuse(struct ht_shims *shims, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add(shims->refusal, &shims->refusals, format, args);
    va_end(args);
}
