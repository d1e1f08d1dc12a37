/* heap.h - the program's memory: one piece that grows, for one run.
 *
 * A workup takes large arrays and gives them back; each new one would come
 * from the system page by page, which costs more than filling it. So what is
 * given back is kept, and the first pieces are large pages where the system
 * has them. The library leaves its caller's memory alone: only the program
 * does this. */
#ifndef HALFTURN_COMMAND_HEAP_H
#define HALFTURN_COMMAND_HEAP_H

/* Before anything is allocated. A hint: it cannot fail. */
void heap_prepare(void);

#endif
