/* jobs.h - what takes its time, away from the thread that answers: one thread
 * for drives and one for what needs none, so that an angle never waits for a
 * recording; and one for files on their way in and out.
 *
 * A job belongs to one revision of one case, and to its files. Whoever asks
 * for the same while it is under way shares it. A finished job stays only as
 * long as somebody holds it: results are kept in the store, decoded recordings
 * in a keeper.
 */
#ifndef HALFTURN_PAGE_JOBS_H
#define HALFTURN_PAGE_JOBS_H

#include "answer.h"
#include "page.h"

#include <stdint.h>

struct MHD_Connection;
struct job;
struct jobs;

enum job_kind {
    JOB_ANGLES, JOB_SHIMS, JOB_ORDERS, JOB_RANK,
    JOB_REPORT, JOB_REPORT_A4, JOB_REPORT_LETTER, /* made anew each time */
    JOB_KINDS
};
/* "angles", "shims", ...: in addresses and in the store. */
const char *job_word(enum job_kind kind);

struct job_of {
    enum job_kind kind;
    int64_t id, revision;       /* id 0: a sheet that nothing is kept of */
    char files[HT_KEY_HEX];     /* the key of its files' names and contents */
};

struct jobs *jobs_create(struct page *page);  /* NULL: no memory, no thread */
/* Stops and ends everything; whoever waits is answered. */
void jobs_stop(struct jobs *jobs);
void jobs_free(struct jobs *jobs);            /* NULL is accepted */

/* The job for `of`, under way or new; `sheet` is its JSON, taken over. The
 * caller holds it until job_let_go. NULL with *err when too many wait. */
struct job *jobs_ask(struct jobs *jobs, const struct job_of *of,
                     struct ht_text *sheet, struct ht_error *err);

/* Work on something of its own, in the thread for files, which also clears it.
 * Nobody else shares it, no case's cancel stops it; `ask` says no when the
 * server ends. */
struct job_task {
    void (*work)(void *what, const struct ht_ask *ask); /* once */
    void (*answer)(void *what, struct job *job, struct answer *answer);
    void (*clear)(void *what);
};
/* `what` is taken over, but where NULL is returned. */
struct job *jobs_do(struct jobs *jobs, const struct job_task *task, void *what,
                    struct ht_error *err);

/* True: the connection is suspended and will be resumed when the job is done.
 * False: it is done, job_answer has the result. */
bool job_wait(struct job *job, struct MHD_Connection *connection);
void job_answer(struct job *job, struct answer *answer);
void job_hold(struct job *job);               /* once more */
void job_let_go(struct job *job);             /* NULL is accepted */

/* Stops what is under way or waits for a case; 0: for every case. */
void jobs_cancel(struct jobs *jobs, int64_t id);

/* ---- progress ---------------------------------------------------------- */

/* One who listens to what is done for a case. */
struct listener;
struct listener *jobs_listen(struct jobs *jobs, int64_t id);
/* Writes the next event into `to`; 0: nothing new, the connection is suspended
 * and will be resumed; -1: the stream ends. */
long listener_read(struct listener *listener,
                   struct MHD_Connection *connection, char *to, size_t room);
/* Every few seconds: a word to all who listen, so that those who have gone are
 * noticed. */
void jobs_beat(struct jobs *jobs);
void listener_end(struct listener *listener);

#endif
