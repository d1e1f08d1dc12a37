/* page.h - the server as a whole: what every request can reach. */
#ifndef HALFTURN_PAGE_PAGE_H
#define HALFTURN_PAGE_PAGE_H

#include "halfturn/status.h"
#include "halfturn/store.h"

#include <pthread.h>
#include <stdbool.h>

struct jobs;
struct watch;

enum { PAGE_TOKEN = 33, PAGE_HOSTS = 3 };

struct page {
    struct ht_store *store;
    pthread_mutex_t store_lock; /* one thread at a time uses the store */
    struct jobs *jobs;
    struct watch *watch;
    char token[PAGE_TOKEN];
    char host[PAGE_HOSTS][32];  /* what `Host` may say */
    const char *shop;           /* for reports; NULL: none */
};

/* What the server is started with. */
struct page_options {
    const char *folder;         /* where the cases are kept */
    const char *shop;
    unsigned port;              /* 0: a free one */
};

struct server;
enum ht_status server_start(struct server **server,
                            const struct page_options *options,
                            struct ht_error *err);
/* "http://127.0.0.1:4290/#..." */
const char *server_address(const struct server *server);
/* To be called every few seconds. */
void server_tend(struct server *server);
/* Refuses new requests, stops what is worked on, ends within two seconds. */
void server_stop(struct server *server);

#endif
