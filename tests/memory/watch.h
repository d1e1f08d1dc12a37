/* watch.h - counts, refuses and follows the allocations of a stretch of code.
 *
 * Two counts that must agree: what ht_memory_permit is asked, and the calls of
 * the C library's allocators from object files that are linked in (the test
 * programs here are linked with --wrap), which are those of the project. What
 * foreign libraries allocate is in neither. Safe from any thread.
 */
#ifndef HALFTURN_TESTS_MEMORY_WATCH_H
#define HALFTURN_TESTS_MEMORY_WATCH_H

#include <stdbool.h>
#include <stddef.h>

/* Before a stretch: refuse allocation number `refuse_at` (from 1; 0: none),
 * or it and all after it. Forgets the figures below. */
void watch_plan(size_t refuse_at, bool for_good);
void watch_begin(void);
void watch_end(void);

struct watch_figures {
    size_t asked;   /* allocations through common/memory.h */
    size_t refused; /* of these */
    size_t calls;   /* of malloc, calloc, realloc */
    size_t held;    /* gotten in the stretch and not released until now */
};
struct watch_figures watch_figures(void);

#endif
