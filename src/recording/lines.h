/* lines.h - the lines of a text file, read in blocks that are used again.
 * While the lines of one are read, the next one can be fetched beside them.
 *
 * Whole lines stand between `at` and `end`, each ending with '\n' (the last
 * one of the file is given one), with HT_DECIMAL_BEHIND readable bytes behind
 * `end`.
 */
#ifndef HALFTURN_RECORDING_LINES_H
#define HALFTURN_RECORDING_LINES_H

#include "halfturn/status.h"

#include <stdbool.h>
#include <stddef.h>

struct lines {
    const char *path;
    int file;             /* -1: not open */
    char *memory;
    char *bytes;          /* `room` of them to read into, and some around */
    char *other;          /* as many, for the next block; NULL: there is none */
    size_t room;
    char *at, *end;       /* whole lines that are still to be read */
    char *filled;         /* behind the last byte that is there */
    size_t size;          /* of the file when it was opened */
    size_t left;          /* of it, not yet in `bytes` */
    size_t line;          /* number of the line that was taken last */
    enum ht_status status;/* why there are no more lines; HT_OK: the end */
    struct lines_ahead {
        bool there, no_text;
        int failure;      /* errno of reading, or 0 */
        size_t got, left; /* bytes; of the file behind them */
    } ahead;              /* the block that was fetched */
    struct ht_error *err;
};

/* Refuses what is no file of text with a sentence. Close it in any case. */
enum ht_status ht_lines_open(struct lines *lines, const char *path,
                             struct ht_error *err);

/* True when at < end, reading on where needed; false at the end of the file
 * or when `status` says why not. */
bool ht_lines_more(struct lines *lines);

/* Whether there is a next block that can be fetched now; and fetches it where
 * ht_lines_more will take it. For a task beside others that read the lines at
 * hand: it changes nothing that they see, and what is wrong with the block is
 * said once it is due. [*from, *to): the lines that will be at hand then. */
bool ht_lines_can_fetch(const struct lines *lines);
void ht_lines_fetch(struct lines *lines, const char **from, const char **to);

/* The next line that is neither blank nor a comment, without its '\n'. False:
 * as ht_lines_more. */
bool ht_lines_next(struct lines *lines, const char **from, const char **to);

/* Back to the first line, behind a byte order mark. */
bool ht_lines_rewind(struct lines *lines);

void ht_lines_close(struct lines *lines);

#endif
