#include "watch.h"

#include "common/memory.h"

#include <pthread.h>
#include <stdint.h>
#include <sys/socket.h>
#include <time.h>

enum {
    HEAD_MS = 10 * 1000, BODY_MS = 10 * 1000, BODY_BYTES = 80 * 1000,
    LOOK_MS = 500
};

enum phase { AWAITS_HEAD, AWAITS_BODY, ANSWERED };

struct watched {
    struct watch *watch;
    struct watched *next, *before;
    int socket;
    enum phase phase;
    int64_t since_ms;           /* of the phase, or of the stretch of a body */
    size_t bytes;               /* in that stretch */
};

struct watch {
    pthread_mutex_t lock;
    pthread_cond_t ended;
    pthread_t thread;
    bool ends;
    struct watched *first;
};

static int64_t now_ms(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static bool too_slow(struct watched *watched, int64_t now)
{
    int64_t spent = now - watched->since_ms;
    if (watched->phase == AWAITS_HEAD)
        return spent > HEAD_MS;
    if (watched->phase != AWAITS_BODY || spent <= BODY_MS)
        return false;
    bool slow = watched->bytes < BODY_BYTES;
    watched->since_ms = now;
    watched->bytes = 0;
    return slow;
}

static void wait_a_while(struct watch *watch)
{
    struct timespec until;
    (void)clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_nsec += LOOK_MS * 1000000L;
    until.tv_sec += until.tv_nsec / 1000000000L;
    until.tv_nsec %= 1000000000L;
    (void)pthread_cond_timedwait(&watch->ended, &watch->lock, &until);
}

/* A socket in the list is open: it leaves the list before it is closed. */
static void *look(void *context)
{
    struct watch *watch = context;
    (void)pthread_mutex_lock(&watch->lock);
    while (!watch->ends) {
        int64_t now = now_ms();
        for (struct watched *w = watch->first; w; w = w->next)
            if (too_slow(w, now))
                (void)shutdown(w->socket, SHUT_RDWR);
        wait_a_while(watch);
    }
    (void)pthread_mutex_unlock(&watch->lock);
    return NULL;
}

struct watch *page_watch_create(void)
{
    struct watch *watch = ht_allocate(1, sizeof *watch);
    if (!watch)
        return NULL;
    pthread_condattr_t clock;
    (void)pthread_condattr_init(&clock);
    (void)pthread_condattr_setclock(&clock, CLOCK_MONOTONIC);
    (void)pthread_mutex_init(&watch->lock, NULL);
    (void)pthread_cond_init(&watch->ended, &clock);
    (void)pthread_condattr_destroy(&clock);
    if (pthread_create(&watch->thread, NULL, look, watch) == 0)
        return watch;
    (void)pthread_cond_destroy(&watch->ended);
    (void)pthread_mutex_destroy(&watch->lock);
    ht_release(watch);
    return NULL;
}

void page_watch_free(struct watch *watch)
{
    if (!watch)
        return;
    (void)pthread_mutex_lock(&watch->lock);
    watch->ends = true;
    (void)pthread_cond_signal(&watch->ended);
    (void)pthread_mutex_unlock(&watch->lock);
    (void)pthread_join(watch->thread, NULL);
    (void)pthread_cond_destroy(&watch->ended);
    (void)pthread_mutex_destroy(&watch->lock);
    ht_release(watch);
}

struct watched *page_watch_begin(struct watch *watch, int socket)
{
    struct watched *watched = ht_allocate(1, sizeof *watched);
    if (!watched)
        return NULL;
    watched->watch = watch;
    watched->socket = socket;
    watched->since_ms = now_ms();
    (void)pthread_mutex_lock(&watch->lock);
    watched->next = watch->first;
    if (watch->first)
        watch->first->before = watched;
    watch->first = watched;
    (void)pthread_mutex_unlock(&watch->lock);
    return watched;
}

static void turn_to(struct watched *watched, enum phase phase, size_t bytes)
{
    if (!watched)
        return;
    (void)pthread_mutex_lock(&watched->watch->lock);
    if (watched->phase != phase) {
        watched->phase = phase;
        watched->since_ms = now_ms();
        watched->bytes = 0;
    }
    watched->bytes += bytes;
    (void)pthread_mutex_unlock(&watched->watch->lock);
}

void page_watch_head(struct watched *watched)
{
    turn_to(watched, AWAITS_HEAD, 0);
}

void page_watch_body(struct watched *watched, size_t bytes)
{
    turn_to(watched, AWAITS_BODY, bytes);
}

void page_watch_answer(struct watched *watched)
{
    turn_to(watched, ANSWERED, 0);
}

void page_watch_end(struct watched *watched)
{
    if (!watched)
        return;
    struct watch *watch = watched->watch;
    (void)pthread_mutex_lock(&watch->lock);
    if (watched->next)
        watched->next->before = watched->before;
    if (watched->before)
        watched->before->next = watched->next;
    else
        watch->first = watched->next;
    (void)pthread_mutex_unlock(&watch->lock);
    ht_release(watched);
}
