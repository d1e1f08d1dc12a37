#include "jobs_inside.h"
#include "texts.h"

#include "common/memory.h"

#include <microhttpd.h>
#include <stdio.h>
#include <string.h>

static const struct {
    const char *word;
    unsigned line;
} kinds[JOB_KINDS] = {
    [JOB_ANGLES] = { "angles", FOR_READINGS },
    [JOB_SHIMS] = { "shims", FOR_READINGS },
    [JOB_ORDERS] = { "orders", FOR_DRIVES },
    [JOB_RANK] = { "rank", FOR_DRIVES },
    [JOB_REPORT] = { "report", FOR_DRIVES },
    [JOB_REPORT_A4] = { "report-a4", FOR_DRIVES },
    [JOB_REPORT_LETTER] = { "report-letter", FOR_DRIVES },
};

const char *job_word(enum job_kind kind)
{
    return kinds[kind].word;
}

/* ---- under the lock ---------------------------------------------------- */

static void free_job(struct job *job)
{
    if (job->task)
        job->task->clear(job->what);
    ht_text_free(&job->sheet);
    work_clear(&job->result);
    ht_release(job);
}

/* What a task holds may take its time to go. */
static void let_go(struct job *job)
{
    struct jobs *jobs = job->jobs;
    if (--job->holders > 0)
        return;
    if (!job->task || jobs->started < THREADS) {
        free_job(job);
        return;
    }
    job->next = jobs->gone;
    jobs->gone = job;
    (void)pthread_cond_signal(&jobs->line[FOR_FILES].wakes);
}

static void finish(struct job *job)
{
    job->state = JOB_DONE;
    while (job->waiters) {
        struct waiter *waiter = job->waiters;
        job->waiters = waiter->next;
        MHD_resume_connection(waiter->connection);
        ht_release(waiter);
    }
    jobs_wake_listeners(job->jobs, job->of.id, false);
}

static void leave_line(struct line *line, struct job *job)
{
    struct job **at = &line->first;
    while (*at != job)
        at = &(*at)->next;
    *at = job->next;
    line->count--;
    let_go(job);
}

/* ---- the threads ------------------------------------------------------- */

/* Called from the thread that works, without the lock. */
static bool note_progress(void *context, const char *stage, double share)
{
    struct job *job = context;
    struct jobs *jobs = job->jobs;
    (void)pthread_mutex_lock(&jobs->lock);
    bool moved = share - job->share >= 0.01 || strcmp(stage, job->stage) != 0;
    if (moved && share < 1) {
        (void)snprintf(job->stage, sizeof job->stage, "%s", stage);
        job->share = share;
        jobs_wake_listeners(jobs, job->of.id, false);
    }
    bool go_on = !job->stop;
    (void)pthread_mutex_unlock(&jobs->lock);
    return go_on;
}

static bool goes_on(void *context)
{
    struct job *job = context;
    (void)pthread_mutex_lock(&job->jobs->lock);
    bool go_on = !job->stop;
    (void)pthread_mutex_unlock(&job->jobs->lock);
    return go_on;
}

static void work_up(struct line *line, struct job *job)
{
    struct work_request request = {
        .page = line->jobs->page, .of = job->of, .sheet = &job->sheet,
        .keeper = line->keeper, .progress = note_progress, .context = job
    };
    work_do(&job->result, &request);
}

/* A task is called also when it is to stop: it has things to put away. */
static void work_at(struct line *line, struct job *job)
{
    struct jobs *jobs = line->jobs;
    struct ht_ask ask = { goes_on, job };
    if (job->stop && !job->task) {
        (void)ht_fail(&job->result.err, PAGE_STOPPED);
        return;
    }
    job->state = JOB_WORKS;
    (void)pthread_mutex_unlock(&jobs->lock);
    if (job->task)
        job->task->work(job->what, &ask);
    else
        work_up(line, job);
    (void)pthread_mutex_lock(&jobs->lock);
}

static void do_first(struct line *line)
{
    struct job *job = line->first;
    work_at(line, job);
    finish(job);
    leave_line(line, job);
}

static void free_gone(struct jobs *jobs)
{
    struct job *job = jobs->gone;
    jobs->gone = job->next;
    (void)pthread_mutex_unlock(&jobs->lock);
    free_job(job);
    (void)pthread_mutex_lock(&jobs->lock);
}

static void *work_off(void *context)
{
    struct line *line = context;
    struct jobs *jobs = line->jobs;
    (void)pthread_mutex_lock(&jobs->lock);
    for (;;) {
        if (jobs->gone && line == &jobs->line[FOR_FILES])
            free_gone(jobs);
        else if (line->first)
            do_first(line);
        else if (!jobs->ends)
            (void)pthread_cond_wait(&line->wakes, &jobs->lock);
        else
            break;
    }
    (void)pthread_mutex_unlock(&jobs->lock);
    return NULL;
}

static bool start_line(struct jobs *jobs, struct line *line)
{
    line->jobs = jobs;
    bool keeps = line != &jobs->line[FOR_FILES];
    line->keeper = keeps ? ht_keeper_create((size_t)512 << 20) : NULL;
    (void)pthread_cond_init(&line->wakes, NULL);
    return (line->keeper || !keeps) &&
           pthread_create(&line->thread, NULL, work_off, line) == 0;
}

struct jobs *jobs_create(struct page *page)
{
    struct jobs *jobs = ht_allocate(1, sizeof *jobs);
    if (!jobs)
        return NULL;
    jobs->page = page;
    (void)pthread_mutex_init(&jobs->lock, NULL);
    while (jobs->started < THREADS &&
           start_line(jobs, &jobs->line[jobs->started]))
        jobs->started++;
    if (jobs->started == THREADS)
        return jobs;
    jobs_stop(jobs);
    jobs_free(jobs);
    return NULL;
}

void jobs_stop(struct jobs *jobs)
{
    (void)pthread_mutex_lock(&jobs->lock);
    jobs->ends = true;
    for (size_t i = 0; i < jobs->started; i++)
        (void)pthread_cond_signal(&jobs->line[i].wakes);
    (void)pthread_mutex_unlock(&jobs->lock);
    jobs_cancel(jobs, 0);
    for (size_t i = 0; i < jobs->started; i++)
        (void)pthread_join(jobs->line[i].thread, NULL);
    (void)pthread_mutex_lock(&jobs->lock);
    jobs->started = 0;
    while (jobs->gone)
        free_gone(jobs);
    jobs_wake_listeners(jobs, 0, false);
    (void)pthread_mutex_unlock(&jobs->lock);
}

void jobs_free(struct jobs *jobs)
{
    if (!jobs)
        return;
    for (size_t i = 0; i < THREADS; i++) {
        ht_keeper_free(jobs->line[i].keeper);
        if (jobs->line[i].jobs)
            (void)pthread_cond_destroy(&jobs->line[i].wakes);
    }
    (void)pthread_mutex_destroy(&jobs->lock);
    ht_release(jobs);
}

/* ---- for the handlers -------------------------------------------------- */

static struct job *find(struct line *line, const struct job_of *of)
{
    for (struct job *job = line->first; job && of->id; job = job->next)
        if (job->of.kind == of->kind && job->of.id == of->id &&
            job->of.revision == of->revision &&
            strcmp(job->of.files, of->files) == 0 && !job->stop)
            return job;
    return NULL;
}

/* Behind the others of its thread. */
static struct job *new_job(struct jobs *jobs, struct line *line,
                           const struct job *model, struct ht_error *err)
{
    struct job **at = &line->first;
    if (jobs->ends) {
        (void)ht_fail(err, PAGE_STOPPED);
        return NULL;
    }
    if (line->count >= WAITING_MAX) {
        (void)ht_fail(err, PAGE_BUSY, line->count);
        return NULL;
    }
    struct job *job = ht_allocate(1, sizeof *job);
    if (!job) {
        (void)ht_fail(err, PAGE_NO_MEMORY);
        return NULL;
    }
    *job = *model;
    job->jobs = jobs;
    job->holders = 2; /* the line, and who asked */
    job->share = -1;
    while (*at)
        at = &(*at)->next;
    *at = job;
    line->count++;
    (void)pthread_cond_signal(&line->wakes);
    return job;
}

struct job *jobs_ask(struct jobs *jobs, const struct job_of *of,
                     struct ht_text *sheet, struct ht_error *err)
{
    struct line *line = &jobs->line[kinds[of->kind].line];
    (void)pthread_mutex_lock(&jobs->lock);
    struct job *job = find(line, of);
    if (job) {
        job->holders++;
    } else {
        job = new_job(jobs, line, &(struct job){ .of = *of, .sheet = *sheet },
                      err);
        if (job)
            *sheet = (struct ht_text){ 0 };
    }
    if (job)
        jobs_wake_listeners(jobs, of->id, false);
    (void)pthread_mutex_unlock(&jobs->lock);
    ht_text_free(sheet);
    *sheet = (struct ht_text){ 0 };
    return job;
}

struct job *jobs_do(struct jobs *jobs, const struct job_task *task, void *what,
                    struct ht_error *err)
{
    (void)pthread_mutex_lock(&jobs->lock);
    struct job *job = new_job(jobs, &jobs->line[FOR_FILES],
                              &(struct job){ .task = task, .what = what },
                              err);
    (void)pthread_mutex_unlock(&jobs->lock);
    return job;
}

bool job_wait(struct job *job, struct MHD_Connection *connection)
{
    struct waiter *waiter = ht_allocate(1, sizeof *waiter);
    (void)pthread_mutex_lock(&job->jobs->lock);
    bool waits = waiter && job->state != JOB_DONE;
    if (waits) {
        *waiter = (struct waiter){ connection, job->waiters };
        job->waiters = waiter;
        MHD_suspend_connection(connection);
    }
    (void)pthread_mutex_unlock(&job->jobs->lock);
    if (!waits)
        ht_release(waiter);
    return waits;
}

void job_answer(struct job *job, struct answer *answer)
{
    (void)pthread_mutex_lock(&job->jobs->lock);
    if (job->state != JOB_DONE) /* no memory for waiting */
        answer_refuse(answer, 503, "memory", PAGE_NO_MEMORY_TEXT);
    else if (job->task)
        job->task->answer(job->what, job, answer);
    else
        work_answer(&job->result, job->of.kind, answer);
    (void)pthread_mutex_unlock(&job->jobs->lock);
}

void job_hold(struct job *job)
{
    (void)pthread_mutex_lock(&job->jobs->lock);
    job->holders++;
    (void)pthread_mutex_unlock(&job->jobs->lock);
}

void job_let_go(struct job *job)
{
    if (!job)
        return;
    struct jobs *jobs = job->jobs;
    (void)pthread_mutex_lock(&jobs->lock);
    let_go(job);
    (void)pthread_mutex_unlock(&jobs->lock);
}

void jobs_cancel(struct jobs *jobs, int64_t id)
{
    (void)pthread_mutex_lock(&jobs->lock);
    for (size_t i = 0; i < THREADS; i++)
        for (struct job *job = jobs->line[i].first; job; job = job->next)
            job->stop = job->stop || !id || job->of.id == id;
    (void)pthread_mutex_unlock(&jobs->lock);
}
