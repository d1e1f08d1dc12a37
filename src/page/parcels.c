/* Files on their way in and out: put on the disk, packed and unpacked in a
 * thread of their own, so that nobody waits for a large one. The store is held
 * only for what is short. */
#include "handlers.h"
#include "texts.h"

#include "common/memory.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

struct parcel {
    struct page *page;
    int64_t id;                         /* its case */
    char name[HT_STORE_NAME_MAX + 1];   /* of a file to be kept */
    char key[HT_STORE_KEY_MAX + 1];     /* of an import; "" none */
    struct ht_arrival *arrival;         /* what was sent */
    struct ht_error err;                /* HT_OK: one of the next is filled */
    struct ht_store_file kept;
    struct ht_store_case made;
    int file;                           /* an archive, open; -1: none */
};

static void free_parcel(void *what)
{
    struct parcel *parcel = what;
    if (parcel->file >= 0)
        (void)close(parcel->file);
    ht_release(parcel);
}

/* The request's file goes into the parcel when somebody will work on it. */
static void send_off(struct request *request, struct answer *answer,
                     const struct job_task *task, const struct parcel *model)
{
    struct parcel *parcel = ht_allocate(1, sizeof *parcel);
    if (!parcel) {
        answer_refuse(answer, 503, "memory", PAGE_NO_MEMORY_TEXT);
        return;
    }
    *parcel = *model;
    parcel->page = request->page;
    parcel->id = request->id;
    parcel->arrival = request->arrival;
    parcel->file = -1;
    struct job *job = jobs_do(request->page->jobs, task, parcel,
                              &request->err);
    if (job)
        request->arrival = NULL;
    else
        free_parcel(parcel);
    request_wait(request, job, answer);
}

/* Short, and without the store; then what was put aside, which is long. */
static void drop_arrival(struct parcel *parcel)
{
    ht_store_drop(parcel->page->store, parcel->arrival);
    parcel->arrival = NULL;
    ht_store_tidy(parcel->page->store);
}

static void tidy(void *what, const struct ht_ask *ask)
{
    struct parcel *parcel = what;
    if (ask->go_on(ask->context))
        drop_arrival(parcel);
    else
        ht_store_drop(parcel->page->store, parcel->arrival);
    parcel->arrival = NULL;
}

void parcels_tidy(struct page *page, struct ht_arrival *arrival)
{
    static const struct job_task task = { tidy, NULL, free_parcel };
    struct parcel *parcel = ht_allocate(1, sizeof *parcel);
    struct job *job = NULL;
    if (parcel) {
        *parcel = (struct parcel){ .page = page, .arrival = arrival,
                                   .file = -1 };
        job = jobs_do(page->jobs, &task, parcel, NULL);
    }
    if (!job) {
        ht_store_drop(page->store, arrival); /* the next one tidies */
        ht_release(parcel);
    }
    job_let_go(job);
}

/* ---- a file for a case ------------------------------------------------- */

static void keep_file(void *what, const struct ht_ask *ask)
{
    struct parcel *parcel = what;
    struct ht_error *err = &parcel->err;
    struct ht_arrival *arrival = parcel->arrival;
    if (ht_arrival_flush(arrival, ask, err) != HT_OK) {
        drop_arrival(parcel);
        return;
    }
    parcel->arrival = NULL;
    err->status = ht_store_keep(store_take(parcel->page), arrival, parcel->id,
                                parcel->name, &parcel->kept, err);
    store_give(parcel->page);
    drop_arrival(parcel);
}

static void answer_kept(void *what, struct job *job, struct answer *answer)
{
    struct parcel *parcel = what;
    (void)job;
    if (parcel->err.status != HT_OK) {
        answer_fail(answer, &parcel->err);
        return;
    }
    struct ht_json *json = ht_json_create();
    ht_json_text(json, "name", parcel->kept.name);
    ht_json_int(json, "bytes", (long long)parcel->kept.bytes);
    ht_json_text(json, "hash", parcel->kept.hash);
    answer_json(answer, json);
}

void handle_keep_file(struct request *request, struct answer *answer)
{
    static const struct job_task task = { keep_file, answer_kept,
                                          free_parcel };
    struct parcel parcel = { .file = -1 };
    memcpy(parcel.name, request->name, HT_STORE_NAME_MAX); /* no longer */
    send_off(request, answer, &task, &parcel);
}

/* ---- a case as an archive ---------------------------------------------- */

/* Written under a name that nobody else has, and opened before the name
 * goes. */
static enum ht_status pack(struct parcel *parcel,
                           struct ht_packing *packing,
                           const struct ht_ask *ask)
{
    const char *path = ht_arrival_path(parcel->arrival);
    enum ht_status status = ht_packing_write(packing, path, PAGE_ARCHIVE_SENT,
                                             ask, &parcel->err);
    if (status != HT_OK)
        return status;
    parcel->file = open(path, O_RDONLY | O_CLOEXEC);
    return parcel->file >= 0
               ? HT_OK
               : ht_fail(&parcel->err, PAGE_NO_FILE, strerror(errno));
}

static void pack_case(void *what, const struct ht_ask *ask)
{
    struct parcel *parcel = what;
    struct ht_packing *packing = NULL;
    struct ht_error *err = &parcel->err;
    struct ht_store *store = store_take(parcel->page);
    enum ht_status status = ht_store_begin(store, &parcel->arrival, err);
    if (status == HT_OK)
        status = ht_packing_begin(store, &packing, parcel->id, err);
    store_give(parcel->page);
    if (status == HT_OK)
        status = pack(parcel, packing, ask);
    ht_packing_end(parcel->page->store, packing);
    drop_arrival(parcel);
    err->status = status;
}

/* The bytes go when it is closed, which takes its time: here they are only
 * lent. */
static void answer_packed(void *what, struct job *job, struct answer *answer)
{
    struct parcel *parcel = what;
    if (parcel->err.status != HT_OK) {
        answer_fail(answer, &parcel->err);
        return;
    }
    answer->file = parcel->file;
    answer->job = job;
    answer->type = "application/zip";
    answer->file_name = "case.zip";
}

void handle_export(struct request *request, struct answer *answer)
{
    static const struct job_task task = { pack_case, answer_packed,
                                          free_parcel };
    send_off(request, answer, &task, &(struct parcel){ .file = -1 });
}

static void unpack_case(void *what, const struct ht_ask *ask)
{
    struct parcel *parcel = what;
    struct ht_unpacking *unpacking = NULL;
    struct ht_error *err = &parcel->err;
    const char *key = parcel->key[0] ? parcel->key : NULL;
    enum ht_status status = ht_unpacking_begin(
        store_take(parcel->page), &unpacking,
        ht_arrival_path(parcel->arrival), PAGE_ARCHIVE_TAKEN, err);
    store_give(parcel->page);
    if (status == HT_OK)
        status = ht_unpacking_read(unpacking, ask, err);
    (void)store_take(parcel->page);
    if (status == HT_OK)
        status = ht_unpacking_keep(parcel->page->store, unpacking, key,
                                   &parcel->made, err);
    store_give(parcel->page);
    ht_unpacking_end(parcel->page->store, unpacking);
    drop_arrival(parcel);
    err->status = status;
}

static void answer_made(void *what, struct job *job, struct answer *answer)
{
    struct parcel *parcel = what;
    (void)job;
    if (parcel->err.status == HT_OK)
        answer_case(answer, 201, &parcel->made);
    else
        answer_fail(answer, &parcel->err);
}

void handle_import(struct request *request, struct answer *answer)
{
    static const struct job_task task = { unpack_case, answer_made,
                                          free_parcel };
    struct parcel parcel = { .file = -1 };
    char room[80];
    const char *key;
    if (!request_key(request, room, sizeof room, &key, &request->err)) {
        answer_fail(answer, &request->err);
        return;
    }
    if (key)
        memcpy(parcel.key, key, strlen(key)); /* up to that size */
    send_off(request, answer, &task, &parcel);
}
