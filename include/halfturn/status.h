/* status.h - how every room says that something went wrong.
 *
 * Pure: no globals, no printing, never exits; safe from any thread.
 * The status is also the exit code of the program (see ht_status_exit_code)
 * and follows the meaning of the BSD sysexits(3) codes.
 */
#ifndef HALFTURN_STATUS_H
#define HALFTURN_STATUS_H

#include <stdbool.h>
#include <stddef.h>

enum ht_status {
    HT_OK,
    HT_BAD_USE,      /* the command line is off: 64 */
    HT_BAD_FILE,     /* a file's content is off: 65 */
    HT_TOO_BIG,      /* beyond a stated limit: 65 */
    HT_CANNOT_READ,  /* missing or not readable: 66 */
    HT_NOT_THERE,    /* asked for by name or number, and there is none: 66 */
    HT_PORT_TAKEN,   /* 69 */
    HT_BUG,          /* our mistake: 70 */
    HT_NO_MEMORY,    /* 71 */
    HT_CANNOT_WRITE, /* output failed: 74 */
    HT_STOPPED,      /* the caller wanted no more of it: 75 */
    HT_BUSY,         /* too much is under way: 75 */
    HT_STATUS_COUNT
};

struct ht_error {
    enum ht_status status;
    size_t line, column; /* counted from 1; 0: not about a place in a file */
    char text[512];      /* one sentence or more in one line; a control
                            character of a name stands there as '?' */
};

/* Writes the text into *err (which may be NULL) and returns the status, so
 * that a failure is one line. Text beyond the size is cut. */
enum ht_status ht_fail(struct ht_error *err, enum ht_status status,
                       const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* As ht_fail, for a place in a file; column 0 when only the line is known. The
 * place stands first, so that status and format stay side by side: a room's
 * sentences are macros of both (src/<room>/texts.h). */
enum ht_status ht_fail_at_line(struct ht_error *err, size_t line,
                               size_t column, enum ht_status status,
                               const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Whether it goes on, asked between pieces of long work, in the thread that
 * called for it; false: it ends with HT_STOPPED. NULL where this is taken:
 * never asked. */
struct ht_ask {
    bool (*go_on)(void *context);
    void *context;
};
bool ht_goes_on(const struct ht_ask *ask);

/* The exit code of the program: 0, 64, 65, 66, 69, 70, 71, 74, 75. */
int ht_status_exit_code(enum ht_status status);

/* A short name of the kind of failure, never NULL. */
const char *ht_status_name(enum ht_status status);

#endif
