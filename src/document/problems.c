#include "source.h"
#include "texts.h"

#include "common/printable.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool continues(char c)
{
    return ((unsigned char)c & 0xc0) == 0x80;
}

/* Bytes that make up the first `characters` characters. */
static size_t bytes_of(const char *text, size_t length, size_t characters)
{
    size_t at = 0;
    for (size_t n = 0; n < characters && at < length; n++) {
        at++;
        while (at < length && continues(text[at]))
            at++;
    }
    return at;
}

/* Copies what lies around the place; control characters (a tab is one) turn
 * into blanks, so that the caret stands where it should. */
static void excerpt(struct ht_problem *problem, const char *line,
                    size_t length, size_t column)
{
    enum { BEFORE = 60 };
    size_t skip = column > BEFORE ? column - BEFORE : 0;
    size_t from = bytes_of(line, length, skip), n = length - from;
    if (n > sizeof problem->excerpt - 1)
        n = sizeof problem->excerpt - 1;
    while (n > 0 && from + n < length && continues(line[from + n]))
        n--;
    memcpy(problem->excerpt, line + from, n);
    problem->excerpt[n] = '\0';
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)problem->excerpt[i] < ' ')
            problem->excerpt[i] = ' ';
    ht_make_printable(problem->excerpt);
    problem->caret = column - skip;
}

/* A byte that is not UTF-8 must not reach a terminal or a page. */
static void only_ascii(char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text >= 0x80)
            *text = '?';
}

static bool is_repeat(const struct ht_problems *problems,
                      const struct ht_error *error)
{
    for (size_t i = 0; i < problems->kept; i++) {
        const struct ht_error *old = &problems->problem[i].error;
        if (old->line == error->line && old->column == error->column &&
            strcmp(old->text, error->text) == 0)
            return true;
    }
    return false;
}

static bool stands_before(const struct ht_error *a, const struct ht_error *b)
{
    return a->line < b->line || (a->line == b->line && a->column < b->column);
}

/* In the order of the file: what is found when a whole mapping has been read
 * belongs before what stands below it. */
static void keep_in_order(struct ht_problems *problems,
                          const struct ht_problem *problem)
{
    size_t at = problems->kept++;
    for (; at > 0 && stands_before(&problem->error,
                                   &problems->problem[at - 1].error);
         at--)
        problems->problem[at] = problems->problem[at - 1];
    problems->problem[at] = *problem;
}

void ht_problems_of(struct ht_problems *problems, const char *file)
{
    (void)snprintf(problems->file, sizeof problems->file, "%s", file);
    ht_make_printable(problems->file);
}

void ht_problem_note(struct noter *noter, struct place place, size_t width,
                     enum ht_status status, const char *format, ...)
{
    struct ht_problems *problems = noter->problems;
    if (problems->kept == HT_PROBLEMS_MAX) {
        problems->found++;
        return;
    }
    struct ht_problem problem = { .error = { .status = status,
                                             .line = place.line,
                                             .column = place.column },
                                  .width = width ? width : 1 };
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(problem.error.text, sizeof problem.error.text, format,
                    arguments);
    va_end(arguments);
    ht_make_printable(problem.error.text);
    if (is_repeat(problems, &problem.error))
        return;
    size_t length = 0;
    const char *line = ht_source_line(noter->source, place.line, &length);
    if (line && place.column)
        excerpt(&problem, line, length, place.column - 1);
    size_t shown = strlen(problem.excerpt);
    if (ht_utf_8_ends(problem.excerpt, shown) < shown)
        only_ascii(problem.excerpt);
    problems->found++;
    keep_in_order(problems, &problem);
}

static void write_one(struct ht_text *out, const char *file,
                      const struct ht_problem *problem)
{
    const struct ht_error *error = &problem->error;
    ht_text_addf(out, "%s:", file);
    if (error->line)
        ht_text_addf(out, "%zu:", error->line);
    if (error->column)
        ht_text_addf(out, "%zu:", error->column);
    ht_text_addf(out, " %s\n", error->text);
    if (!problem->excerpt[0])
        return;
    ht_text_addf(out, "%6zu | %s\n       | %*s", error->line,
                 problem->excerpt, (int)problem->caret, "");
    size_t room = sizeof problem->excerpt - problem->caret;
    for (size_t i = 0; i < problem->width && i < room; i++)
        ht_text_add(out, "^");
    ht_text_add(out, "\n");
}

void ht_problems_write(struct ht_text *out, const struct ht_problems *problems)
{
    for (size_t i = 0; i < problems->kept; i++)
        write_one(out, problems->file, &problems->problem[i]);
    if (problems->found == 0)
        return;
    if (problems->found > problems->kept)
        ht_text_addf(out, DOCUMENT_PROBLEM_COUNT_CUT, problems->file,
                     problems->found, problems->kept);
    else
        ht_text_addf(out, DOCUMENT_PROBLEM_COUNT, problems->file,
                     problems->found);
}
