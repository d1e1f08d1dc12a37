/* parallel.h - one task many times over, shared among the processors.
 *
 * No state of its own: threads start with the call and have ended when it
 * returns. What a task writes must be its own, so that the result does not
 * depend on how many threads there were, nor on who came first. Tasks must
 * not allocate: they cannot fail.
 */
#ifndef HALFTURN_COMMON_PARALLEL_H
#define HALFTURN_COMMON_PARALLEL_H

#include <stddef.h>

typedef void ht_task(void *context, size_t index);

/* Runs task(context, i) for every i < count, in any order, on this thread and
 * on as many others as there are processors, 8 at most. Where no thread can be
 * had, this one does all of it. */
void ht_parallel(size_t count, ht_task *task, void *context);

#endif
