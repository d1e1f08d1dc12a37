#include "heap.h"

#include "common/pages.h"

#include <stdlib.h>

#if defined(__GLIBC__)
#include <malloc.h>

/* More than any run of ten minutes takes; what is not touched costs nothing. */
enum { HEAP_BYTES = 64 * 1024 * 1024, ALWAYS = 1 << 30 };

void heap_prepare(void)
{
    (void)mallopt(M_MMAP_THRESHOLD, ALWAYS);
    (void)mallopt(M_TRIM_THRESHOLD, ALWAYS);
    void *room = malloc(HEAP_BYTES);
    if (room)
        ht_pages_will_be_filled(room, HEAP_BYTES);
    free(room);
}
#else
void heap_prepare(void)
{
}
#endif
