/* source.h - the bytes that are read, and where problems are noted.
 */
#ifndef HALFTURN_DOCUMENT_SOURCE_H
#define HALFTURN_DOCUMENT_SOURCE_H

#include "halfturn/document.h"

struct place {
    size_t line, column;  /* from 1; line 0: nowhere in the file */
};

struct text_source {
    const char *name;
    const char *bytes;    /* without a byte order mark */
    size_t length;
    char *owned;          /* what to release, or NULL */
};

/* The list being written; shared by every step of one reading. */
struct noter {
    struct ht_problems *problems;
    const struct text_source *source;
};

/* Which file they are of, as it is shown. */
void ht_problems_of(struct ht_problems *problems, const char *file);

/* Refuses a repeat of the same text at the same place. */
void ht_problem_note(struct noter *noter, struct place place, size_t width,
                     enum ht_status status, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Reads the file when the caller gave no bytes; checks size, NUL, UTF-8.
 * HT_BAD_FILE leaves its problems in the noter. */
enum ht_status ht_source_open(struct text_source *source,
                              const struct ht_source *from, struct noter *noter,
                              struct ht_error *err);
void ht_source_close(struct text_source *source);

/* Where the first byte stands that is not UTF-8 (or is 0); length: nowhere. */
size_t ht_utf_8_ends(const char *bytes, size_t length);

/* The place of a byte; columns count characters. */
struct place ht_source_place(const struct text_source *source, size_t at);

/* Start of a line counted from 1; *length without its end. NULL: no such. */
const char *ht_source_line(const struct text_source *source, size_t line,
                           size_t *length);

#endif
