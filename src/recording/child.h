/* child.h - a program of ours that reads one file and answers in a pipe.
 *
 * It gets the file as descriptor 0, the pipe as 1, nothing else; it may use
 * so much memory and computing time, must not be silent for long, and is
 * always ended and reaped.
 */
#ifndef HALFTURN_RECORDING_CHILD_H
#define HALFTURN_RECORDING_CHILD_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

struct child_limits {
    size_t memory_bytes;    /* address space; 0: as it is */
    double cpu_s;           /* computing time */
    double silent_s;        /* without a byte */
    double all_s;           /* by the clock on the wall */
};

struct child {
    pid_t id;
    int pipe;
    struct child_limits limits;
    double deadline_s;      /* of limits.all_s */
    bool silent, late;      /* what was exceeded */
    int failure;            /* errno of the reading, 0: none */
};

/* How it ended: a signal, or an exit code, or not known (both -1). */
struct child_exit {
    int signal, code;
};

/* Returns 0 or an errno: of the spawn, when the program is missing say. */
int ht_child_start(struct child *child, const char *program,
                   char *const arguments[], int file,
                   const struct child_limits *limits);

/* Reads `length` bytes; fewer at the end of the pipe, or past a limit. */
size_t ht_child_read(void *child, void *to, size_t length);

/* Waits for its end, but no longer than it may be silent, and not at all when
 * it is to be ended at once; then kills it. No descriptor and no process is
 * left. */
struct child_exit ht_child_end(struct child *child, bool at_once);

#endif
