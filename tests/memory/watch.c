#include "watch.h"

#include "common/memory.h"

#include <pthread.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

void *__real_malloc(size_t bytes);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t bytes);
void __real_free(void *memory);
void *__wrap_malloc(size_t bytes);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t bytes);
void __wrap_free(void *memory);

/* Pieces held, by their addresses: open addressing, `gone` where one was. */
enum { SLOTS = 1 << 16 };

static struct {
    pthread_mutex_t lock;
    bool on, for_good;
    size_t refuse_at;
    struct watch_figures figures;
    size_t used; /* slots that were filled since they were cleared */
    void *slot[SLOTS];
} watch = { .lock = PTHREAD_MUTEX_INITIALIZER };

static char gone;

static void **find(void *memory)
{
    size_t at = (size_t)((uintptr_t)memory >> 4) * 0x9e3779b97f4a7c15u >> 40;
    for (at %= SLOTS; watch.slot[at] && watch.slot[at] != memory;)
        at = (at + 1) % SLOTS;
    return &watch.slot[at];
}

static void got(void *memory)
{
    if (!watch.on || !memory)
        return;
    if (watch.used == SLOTS - 1)
        abort(); /* a larger table is needed */
    *find(memory) = memory;
    watch.used++;
    watch.figures.held++;
}

static void released(void *memory)
{
    void **slot = memory ? find(memory) : NULL;
    if (!slot || *slot != memory)
        return;
    *slot = &gone;
    watch.figures.held--;
}

static void lock(void)
{
    (void)pthread_mutex_lock(&watch.lock);
}

static void unlock(void)
{
    (void)pthread_mutex_unlock(&watch.lock);
}

void *__wrap_malloc(size_t bytes)
{
    void *memory = __real_malloc(bytes);
    lock();
    watch.figures.calls += watch.on;
    got(memory);
    unlock();
    return memory;
}

void *__wrap_calloc(size_t count, size_t size)
{
    void *memory = __real_calloc(count, size);
    lock();
    watch.figures.calls += watch.on;
    got(memory);
    unlock();
    return memory;
}

void *__wrap_realloc(void *memory, size_t bytes)
{
    lock();
    watch.figures.calls += watch.on;
    released(memory);
    void *moved = __real_realloc(memory, bytes);
    got(moved);
    unlock();
    return moved;
}

void __wrap_free(void *memory)
{
    lock();
    released(memory);
    unlock();
    __real_free(memory);
}

static bool permit(size_t bytes)
{
    (void)bytes;
    lock();
    size_t n = ++watch.figures.asked;
    bool refuse = watch.refuse_at > 0 && (watch.for_good
                                              ? n >= watch.refuse_at
                                              : n == watch.refuse_at);
    watch.figures.refused += refuse;
    unlock();
    return !refuse;
}

void watch_plan(size_t refuse_at, bool for_good)
{
    watch.refuse_at = refuse_at;
    watch.for_good = for_good;
    watch.figures = (struct watch_figures){ 0 };
    if (watch.used > 0)
        memset(watch.slot, 0, sizeof watch.slot);
    watch.used = 0;
}

void watch_begin(void)
{
    ht_memory_permit = permit;
    watch.on = true;
}

void watch_end(void)
{
    watch.on = false;
    ht_memory_permit = NULL;
}

struct watch_figures watch_figures(void)
{
    return watch.figures;
}
