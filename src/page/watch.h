/* watch.h - connections that hold a place without using it are closed.
 *
 * The server's own timeout counts inactivity: a byte now and then would keep a
 * connection for ever. Here the head of a request has 10 s, and a body 8 kB/s
 * over every 10 s. What is being answered is left alone.
 */
#ifndef HALFTURN_PAGE_WATCH_H
#define HALFTURN_PAGE_WATCH_H

#include <stdbool.h>
#include <stddef.h>

struct watch;
struct watched; /* one connection */

struct watch *page_watch_create(void);      /* NULL: no memory, no thread */
void page_watch_free(struct watch *watch);  /* NULL is accepted */

/* From the server's threads. NULL: no memory; the others accept it. */
struct watched *page_watch_begin(struct watch *watch, int socket);
void page_watch_head(struct watched *watched);              /* one is awaited */
void page_watch_body(struct watched *watched, size_t bytes); /* so many came */
void page_watch_answer(struct watched *watched);            /* being answered */
void page_watch_end(struct watched *watched);  /* before the close */

#endif
