#include "planner.h"

#include <pthread.h>

static pthread_mutex_t planner = PTHREAD_MUTEX_INITIALIZER;

void ht_planner_lock(void)
{
    (void)pthread_mutex_lock(&planner);
}

void ht_planner_unlock(void)
{
    (void)pthread_mutex_unlock(&planner);
}
