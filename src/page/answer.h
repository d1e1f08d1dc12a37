/* answer.h - what goes back: filled by the handlers, sent by one function. */
#ifndef HALFTURN_PAGE_ANSWER_H
#define HALFTURN_PAGE_ANSWER_H

#include "halfturn/json.h"
#include "halfturn/status.h"
#include "halfturn/store.h"
#include "halfturn/text.h"

#include <stdbool.h>

struct MHD_Connection;
struct job;
struct listener;

enum answer_policy { /* what a browser may do with it */
    POLICY_PAGE,     /* everything of our own */
    POLICY_REPORT    /* a report: its own style and pictures, no script */
};

struct answer {
    unsigned code;              /* HTTP status; 0: 200 */
    const char *type;           /* NULL: JSON */
    enum answer_policy policy;
    char allow[40];             /* for 405; "" none */
    const char *file_name;      /* offered when it is saved; NULL: shown */
    struct ht_text body;
    const char *fixed;          /* instead of body: bytes that stay */
    size_t fixed_length;
    int file;                   /* instead of both: this job's */
    struct job *job;            /* NULL: no file */
    struct listener *stream;    /* instead of all: events */
    bool shut;                  /* the connection is closed after it */
};

void answer_clear(struct answer *answer);

/* {"error": {"id", "text"}} */
void answer_refuse(struct answer *answer, unsigned code, const char *id,
                   const char *text);
/* The same by the status of the library. */
void answer_fail(struct answer *answer, const struct ht_error *err);
/* An entry of a case; `code` 200, 201 or 409 (then under "now"). */
void answer_case(struct answer *answer, unsigned code,
                 const struct ht_store_case *entry);
/* The entry's keys into the object that is open. */
void write_case(struct ht_json *json, const struct ht_store_case *entry);
/* Ends the JSON as the answer's body. */
void answer_json(struct answer *answer, struct ht_json *json);

/* Sends it and releases what it holds; false: the connection must end. */
bool answer_send(struct MHD_Connection *connection, struct answer *answer);

#endif
