#include "parallel.h"

#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <unistd.h>

enum { THREADS_MAX = 8 };

struct queue {
    ht_task *task;
    void *context;
    size_t count;
    atomic_size_t next;
};

static void *work(void *argument)
{
    struct queue *queue = argument;
    for (;;) {
        size_t index = atomic_fetch_add(&queue->next, 1);
        if (index >= queue->count)
            return NULL;
        queue->task(queue->context, index);
    }
}

static size_t processors(void)
{
    long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online < 1 ? 1 : online > THREADS_MAX ? THREADS_MAX
                                                 : (size_t)online;
}

/* Signals are for the thread that called the library. */
static size_t start(pthread_t *thread, size_t wanted, struct queue *queue)
{
    sigset_t all, before;
    size_t started = 0;
    (void)sigfillset(&all);
    (void)pthread_sigmask(SIG_SETMASK, &all, &before);
    while (started < wanted &&
           pthread_create(&thread[started], NULL, work, queue) == 0)
        started++;
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    return started;
}

void ht_parallel(size_t count, ht_task *task, void *context)
{
    pthread_t thread[THREADS_MAX];
    struct queue queue = { .task = task, .context = context, .count = count };
    size_t wanted = processors();
    wanted = (wanted < count ? wanted : count);
    size_t started = wanted > 1 ? start(thread, wanted - 1, &queue) : 0;
    (void)work(&queue);
    for (size_t i = 0; i < started; i++)
        (void)pthread_join(thread[i], NULL);
}
