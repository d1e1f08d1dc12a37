/* request.h - one request on its way: head checked, body taken, answered. */
#ifndef HALFTURN_PAGE_REQUEST_H
#define HALFTURN_PAGE_REQUEST_H

#include "answer.h"
#include "jobs.h"
#include "page.h"
#include "watch.h"

#include <stdbool.h>
#include <stdint.h>

struct MHD_Connection;
struct request;

enum body_kind { NO_BODY, SHEET_BODY, FILE_BODY };

/* A row of the one table of addresses. In a path '#' stands for a case's number
 * and '*' for the name of a file. */
struct route {
    const char *method, *path;
    enum body_kind body;
    bool open;              /* needs no token: holds nothing of anybody */
    int with;               /* for the handler */
    void (*handle)(struct request *request, struct answer *answer);
};
extern const struct route page_routes[]; /* ends with a NULL method */

struct request {
    struct page *page;
    struct MHD_Connection *connection;
    struct watched *watched;
    const struct route *route;
    int64_t id;                         /* '#' */
    char name[4 * HT_STORE_NAME_MAX];   /* '*', as long as may be sent */
    struct ht_text body;                /* SHEET_BODY */
    struct ht_arrival *arrival;         /* FILE_BODY */
    uint64_t received;
    struct ht_error err;                /* what its body failed with */
    struct job *job;                    /* what it waits for */
};

/* Words behind '?' in the address, decoded; NULL: not there. `room` holds
 * them. */
const char *request_word(const struct request *request, const char *key,
                         char *room, size_t size);

/* The caller's key of a save, among those words; *key NULL: none. False: one
 * that is off, with *err. */
bool request_key(const struct request *request, char *room, size_t size,
                 const char **key, struct ht_error *err);

/* Makes the request wait for a job; its answer is then the job's. */
void request_wait(struct request *request, struct job *job,
                  struct answer *answer);

#endif
