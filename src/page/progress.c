/* Progress: what is under way for a case, as events for who listens. */
#include "jobs_inside.h"

#include "common/memory.h"

#include <microhttpd.h>
#include <stdio.h>
#include <string.h>

void jobs_wake_listeners(struct jobs *jobs, int64_t id, bool beat)
{
    for (struct listener *l = jobs->listeners; l; l = l->next) {
        if (id && l->id != id)
            continue;
        l->beat = l->beat || beat;
        if (l->asleep)
            MHD_resume_connection(l->asleep);
        l->asleep = NULL;
    }
}

void jobs_beat(struct jobs *jobs)
{
    (void)pthread_mutex_lock(&jobs->lock);
    jobs_wake_listeners(jobs, 0, true);
    (void)pthread_mutex_unlock(&jobs->lock);
}

struct listener *jobs_listen(struct jobs *jobs, int64_t id)
{
    struct listener *listener = ht_allocate(1, sizeof *listener);
    if (!listener)
        return NULL;
    *listener = (struct listener){ .jobs = jobs, .id = id };
    (void)pthread_mutex_lock(&jobs->lock);
    bool room = jobs->listening < LISTENERS_MAX && !jobs->ends;
    if (room) {
        jobs->listening++;
        listener->next = jobs->listeners;
        jobs->listeners = listener;
    }
    (void)pthread_mutex_unlock(&jobs->lock);
    if (!room)
        ht_release(listener);
    return room ? listener : NULL;
}

static const struct job *under_way(const struct jobs *jobs, int64_t id)
{
    for (size_t i = 0; i < THREADS; i++)
        for (const struct job *job = jobs->line[THREADS - 1 - i].first; job;
             job = job->next)
            if (job->of.id == id && !job->stop)
                return job;
    return NULL;
}

static void write_event(char *event, size_t room, const struct job *job)
{
    char share[40];
    ht_format_number(share, sizeof share,
                     job && job->share > 0 ? job->share : 0, 2);
    (void)snprintf(event, room,
                   "data: {\"state\": \"%s\", \"what\": \"%s\", \"stage\": "
                   "\"%s\", \"share\": %s}\n\n",
                   !job ? "idle" : job->state == JOB_WORKS ? "works" : "waits",
                   job ? job_word(job->of.kind) : "", job ? job->stage : "",
                   share);
}

static bool is_over(const struct listener *listener)
{
    return listener->jobs->ends || strstr(listener->told, "\"idle\"");
}

/* The next event, ":" to see that somebody is there, or nothing. */
static size_t next_event(struct listener *listener, char *to, size_t room)
{
    char event[sizeof listener->told];
    write_event(event, sizeof event, under_way(listener->jobs, listener->id));
    bool news = strcmp(event, listener->told) != 0;
    const char *next = news ? event : listener->beat ? ":\n\n" : "";
    size_t length = strlen(next);
    listener->beat = false;
    if (length > room)
        return 0;
    if (news)
        memcpy(listener->told, event, sizeof event);
    memcpy(to, next, length);
    return length;
}

long listener_read(struct listener *listener,
                   struct MHD_Connection *connection, char *to, size_t room)
{
    struct jobs *jobs = listener->jobs;
    (void)pthread_mutex_lock(&jobs->lock);
    long length = is_over(listener) ? -1
                                    : (long)next_event(listener, to, room);
    if (length == 0) {
        listener->asleep = connection;
        MHD_suspend_connection(connection);
    }
    (void)pthread_mutex_unlock(&jobs->lock);
    return length;
}

void listener_end(struct listener *listener)
{
    struct jobs *jobs = listener->jobs;
    (void)pthread_mutex_lock(&jobs->lock);
    struct listener **at = &jobs->listeners;
    while (*at != listener)
        at = &(*at)->next;
    *at = listener->next;
    jobs->listening--;
    (void)pthread_mutex_unlock(&jobs->lock);
    ht_release(listener);
}
