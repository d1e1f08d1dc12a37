/* jobs_inside.h - what jobs.c and progress.c share. */
#ifndef HALFTURN_PAGE_JOBS_INSIDE_H
#define HALFTURN_PAGE_JOBS_INSIDE_H

#include "jobs.h"
#include "work.h"

#include <pthread.h>

enum { WAITING_MAX = 32, LISTENERS_MAX = 16 };
enum { FOR_READINGS, FOR_DRIVES, FOR_FILES, THREADS };

enum job_state { JOB_WAITS, JOB_WORKS, JOB_DONE };

struct waiter {
    struct MHD_Connection *connection;
    struct waiter *next;
};

struct job {
    struct jobs *jobs;
    struct job *next;           /* in the queue of its thread */
    struct job_of of;
    enum job_state state;
    bool stop;
    size_t holders;             /* askers, and the queue */
    struct waiter *waiters;
    char stage[40];
    double share;
    struct ht_text sheet;
    struct work_result result;
    const struct job_task *task; /* instead of both; NULL: a workup */
    void *what;
};

struct listener {
    struct jobs *jobs;
    struct listener *next;
    struct MHD_Connection *asleep; /* suspended, NULL: not */
    int64_t id;
    char told[160];             /* the last event */
    bool beat;
};

struct line { /* one thread and what waits for it */
    struct jobs *jobs;
    pthread_t thread;
    pthread_cond_t wakes;
    struct job *first;
    size_t count;
    struct ht_keeper *keeper;
};

struct jobs {
    struct page *page;
    pthread_mutex_t lock;
    bool ends;
    struct line line[THREADS];
    size_t started;
    struct job *gone;           /* tasks, to be freed by their thread */
    struct listener *listeners;
    size_t listening;
};

/* Under the lock: those who listen to a case (0: to any) look again; `beat`:
 * and are told something even when nothing is new. */
void jobs_wake_listeners(struct jobs *jobs, int64_t id, bool beat);

#endif
