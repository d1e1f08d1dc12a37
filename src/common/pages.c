/* For madvise. */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include "pages.h"

#include <stdint.h>
#include <sys/mman.h>
#include <unistd.h>

#ifndef MADV_HUGEPAGE
enum { MADV_HUGEPAGE = MADV_NORMAL };
#endif

enum { LARGE_BYTES = 2 * 1024 * 1024 };

void ht_pages_will_be_filled(void *memory, size_t bytes)
{
    size_t page = (size_t)sysconf(_SC_PAGESIZE);
    size_t before = (page - (uintptr_t)memory % page) % page;
    if (bytes < LARGE_BYTES + before)
        return;
    size_t whole = (bytes - before) / page * page;
    /* a hint: where it is not taken, nothing changes */
    (void)madvise((char *)memory + before, whole, MADV_HUGEPAGE);
}
