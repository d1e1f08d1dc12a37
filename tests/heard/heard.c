/* heard.c - writes down which sentences a program refuses with.
 *
 * Linked into every test program in front of the functions that refuse (the
 * linker's --wrap): with HALFTURN_HEARD=FILE in the environment each format is
 * appended to FILE once, a line with its breaks as \n; then the call goes on
 * as it would. tests/texts/check reads the file. */
#include "halfturn/document.h"
#include "halfturn/status.h"

#include "document/json.h"
#include "document/reading.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FORMATS_MAX = 1024, TEXT_BYTES = 1024 };

static void write_down(const char *format, const char *text)
{
    static const char *known[FORMATS_MAX];
    static size_t count;
    const char *path = getenv("HALFTURN_HEARD");
    const char *line = strcmp(format, "%s") == 0 ? text : format;
    if (!path)
        return;
    for (size_t i = 0; i < count; i++)
        if (line == format && known[i] == format)
            return;
    if (count < FORMATS_MAX)
        known[count++] = format;
    FILE *file = fopen(path, "a");
    if (!file)
        abort();
    for (const char *c = line; *c; c++)
        (void)fprintf(file, *c == '\n' ? "\\n" : "%c", *c);
    (void)fputs("\n", file);
    (void)fclose(file);
}

/* Fills `text` from the arguments after `format`, and writes them down. */
#define LISTEN(format)                                                         \
    char text[TEXT_BYTES];                                                     \
    va_list arguments;                                                         \
    va_start(arguments, format);                                               \
    (void)vsnprintf(text, sizeof text, format, arguments);                     \
    va_end(arguments);                                                         \
    write_down(format, text)

/* The names are the linker's: __wrap_x is called for x, and __real_x is x. */
#define WRAPPED(type, name, ...)                                               \
    type __real_##name(__VA_ARGS__, const char *format, ...);                  \
    type __wrap_##name(__VA_ARGS__, const char *format, ...);                  \
    type __wrap_##name(__VA_ARGS__, const char *format, ...)

WRAPPED(enum ht_status, ht_fail, struct ht_error *err, enum ht_status status)
{
    LISTEN(format);
    return __real_ht_fail(err, status, "%s", text);
}

WRAPPED(enum ht_status, ht_fail_at_line, struct ht_error *err, size_t line,
        size_t column, enum ht_status status)
{
    LISTEN(format);
    return __real_ht_fail_at_line(err, line, column, status, "%s", text);
}

WRAPPED(void, ht_problem_note, struct noter *noter, struct place place,
        size_t width, enum ht_status status)
{
    LISTEN(format);
    __real_ht_problem_note(noter, place, width, status, "%s", text);
}

WRAPPED(void, ht_complain, struct reading *reading, const struct node *node,
        enum ht_status status)
{
    LISTEN(format);
    __real_ht_complain(reading, node, status, "%s", text);
}

WRAPPED(void, ht_finish_problem, struct ht_finish *finish, const char *key,
        enum ht_status status)
{
    LISTEN(format);
    __real_ht_finish_problem(finish, key, status, "%s", text);
}

WRAPPED(void, ht_json_failed, struct ht_json *json, enum ht_status status)
{
    LISTEN(format);
    __real_ht_json_failed(json, status, "%s", text);
}
