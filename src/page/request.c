#include "request.h"

#include "address.h"
#include "handlers.h"
#include "server.h"
#include "texts.h"

#include "common/limits.h"
#include "common/memory.h"

#include <microhttpd.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* A chunked body over its limit is heard out so far, then cut off. */
enum { PATIENCE_BYTES = 64 << 20 };
/* longer than any head that is let in */
enum { HT_ADDRESS_MAX = 20000 };
static const uint64_t file_bytes_max = (uint64_t)2 << 30;

/* ---- the head ---------------------------------------------------------- */

struct head {
    size_t hosts, lengths, codings;
    const char *host, *origin, *token;
    const char *length;
};

static enum MHD_Result note_header(void *context, enum MHD_ValueKind kind,
                                   const char *key, const char *value)
{
    struct head *head = context;
    (void)kind;
    if (strcasecmp(key, MHD_HTTP_HEADER_HOST) == 0) {
        head->hosts++;
        head->host = value;
    } else if (strcasecmp(key, MHD_HTTP_HEADER_CONTENT_LENGTH) == 0) {
        head->lengths++;
        head->length = value;
    } else if (strcasecmp(key, MHD_HTTP_HEADER_TRANSFER_ENCODING) == 0) {
        head->codings++;
    } else if (strcasecmp(key, MHD_HTTP_HEADER_ORIGIN) == 0) {
        head->origin = value;
    } else if (strcasecmp(key, "Halfturn-Token") == 0) {
        head->token = value;
    }
    return MHD_YES;
}

static bool host_is_ours(const struct page *page, const char *host)
{
    for (size_t i = 0; i < PAGE_HOSTS; i++)
        if (host && strcasecmp(host, page->host[i]) == 0)
            return true;
    return false;
}

/* As long as the right one is, whatever was sent. */
static bool token_is_right(const struct page *page, const char *token)
{
    unsigned char other = 0;
    if (!token || strlen(token) != PAGE_TOKEN - 1)
        return false;
    for (size_t i = 0; i < PAGE_TOKEN - 1; i++)
        other |= (unsigned char)(token[i] ^ page->token[i]);
    return other == 0;
}

const char *request_word(const struct request *request, const char *key,
                         char *room, size_t size)
{
    const char *value = MHD_lookup_connection_value(
        request->connection, MHD_GET_ARGUMENT_KIND, key);
    if (!value)
        return NULL;
    /* what cannot be decoded is no word that anything wants */
    if (!address_decode(room, size, value, strlen(value)))
        (void)snprintf(room, size, "%%");
    return room;
}

static bool is_read(const char *method)
{
    return strcmp(method, "GET") == 0;
}

static bool may(const struct request *request, const struct head *head)
{
    char room[64];
    if (request->route->open)
        return true;
    if (token_is_right(request->page, head->token))
        return true;
    return is_read(request->route->method) &&
           token_is_right(request->page, request_word(request, "token", room,
                                                      sizeof room));
}

static void add_allowed(char *list, size_t size, const char *method)
{
    size_t used = strlen(list);
    (void)snprintf(list + used, size - used, "%s%s%s", used ? ", " : "",
                   method, is_read(method) ? ", HEAD" : "");
}

/* The route, or the answer 404 or 405. */
static bool find_route(struct request *request, const char *path,
                       const char *method, struct answer *answer)
{
    const char *wanted = strcmp(method, "HEAD") == 0 ? "GET" : method;
    for (const struct route *r = page_routes; r->method; r++) {
        if (!address_matches(r->path, path, &request->id, request->name,
                             sizeof request->name))
            continue;
        if (strcmp(r->method, wanted) == 0) {
            request->route = r;
            return true;
        }
        add_allowed(answer->allow, sizeof answer->allow, r->method);
    }
    if (answer->allow[0])
        answer_refuse(answer, 405, "method", PAGE_NO_METHOD);
    else
        answer_refuse(answer, 404, "nothing", PAGE_NO_ADDRESS);
    return false;
}

/* A '%' that is none, %00, or bytes that are no text. */
static bool address_is_off(const char *path)
{
    char room[HT_ADDRESS_MAX];
    return !address_decode(room, sizeof room, path, strlen(path));
}

static bool check_head(struct request *request, const char *path,
                       const char *method, struct answer *answer)
{
    struct head head = { 0 };
    struct page *page = request->page;
    MHD_get_connection_values(request->connection, MHD_HEADER_KIND,
                              note_header, &head);
    if (head.hosts > 1 || head.lengths + head.codings > 1)
        answer_refuse(answer, 400, "request", PAGE_TWICE);
    else if (!host_is_ours(page, head.host))
        answer_refuse(answer, 421, "host", PAGE_NO_HOST);
    else if (address_is_off(path))
        answer_refuse(answer, 400, "request", PAGE_ADDRESS_OFF);
    else if (head.origin && (strncmp(head.origin, "http://", 7) != 0 ||
                             !host_is_ours(page, head.origin + 7)))
        answer_refuse(answer, 403, "origin", PAGE_FOREIGN);
    else if (!find_route(request, path, method, answer))
        return false;
    else if (!may(request, &head))
        answer_refuse(answer, 403, "token", PAGE_NO_TOKEN);
    else
        return true;
    return false;
}

/* ---- the body ---------------------------------------------------------- */

static uint64_t most_bytes(const struct request *request)
{
    switch (request->route->body) {
    case SHEET_BODY:
        return HT_SHEET_BYTES_MAX;
    case FILE_BODY:
        return file_bytes_max;
    default:
        return 0;
    }
}

static void refuse_size(const struct request *request, struct answer *answer)
{
    struct ht_error err;
    if (request->route->body == NO_BODY) {
        answer_refuse(answer, 400, "request", PAGE_NO_BODY);
        return;
    }
    (void)ht_fail(&err, HT_TOO_BIG, PAGE_TOO_BIG_TEXT,
                  (unsigned long long)most_bytes(request));
    answer_fail(answer, &err);
}

/* A length that is said is looked at before anything is taken. */
static bool check_length(const struct request *request, struct answer *answer)
{
    const char *said = MHD_lookup_connection_value(
        request->connection, MHD_HEADER_KIND, MHD_HTTP_HEADER_CONTENT_LENGTH);
    int64_t length = 0; /* that it is a number, the library has seen to */
    said = said ? said + strspn(said, "0") : "";
    if (*said && !address_whole(said, strlen(said), &length))
        length = INT64_MAX;
    if ((uint64_t)length <= most_bytes(request))
        return true;
    refuse_size(request, answer);
    return false;
}

/* Nobody sends a large file for a case that is not there. */
static enum ht_status begin_arrival(struct request *request)
{
    struct page *page = request->page;
    struct ht_store_case found;
    struct ht_error *err = &request->err;
    enum ht_status status = HT_OK;
    (void)pthread_mutex_lock(&page->store_lock);
    if (request->id)
        status = ht_store_get(page->store, request->id, &found, NULL, err);
    if (status == HT_OK)
        status = ht_store_begin(page->store, &request->arrival, err);
    (void)pthread_mutex_unlock(&page->store_lock);
    return status;
}

static bool begin_body(struct request *request, struct answer *answer)
{
    if (!check_length(request, answer))
        return false;
    if (request->route->body != FILE_BODY)
        return true;
    if (request->name[0] &&
        ht_store_check_name(request->name, &request->err) != HT_OK) {
        answer_refuse(answer, 400, "request", request->err.text);
        return false;
    }
    if (begin_arrival(request) == HT_OK)
        return true;
    answer_fail(answer, &request->err);
    return false;
}

/* False: enough of it, the connection ends. */
static bool take_body(struct request *request, const char *bytes,
                      size_t length)
{
    uint64_t most = most_bytes(request);
    page_watch_body(request->watched, length);
    request->received += length;
    if (request->received > most)
        return request->received < most + PATIENCE_BYTES;
    if (request->err.status != HT_OK)
        return true;
    if (request->route->body == SHEET_BODY)
        ht_text_add_bytes(&request->body, bytes, length);
    else if (request->arrival)
        (void)ht_arrival_write(request->arrival, bytes, length,
                               &request->err);
    return true;
}

/* ---- the way of a request ---------------------------------------------- */

void request_wait(struct request *request, struct job *job,
                  struct answer *answer)
{
    request->job = job;
    if (!job)
        answer_fail(answer, &request->err);
}

static struct request *begin(struct page *page,
                             struct MHD_Connection *connection)
{
    struct request *request = ht_allocate(1, sizeof *request);
    if (!request)
        return NULL;
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(
        connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    request->page = page;
    request->connection = connection;
    request->watched = info ? info->socket_context : NULL;
    return request;
}

/* True: the answer is there; false: it comes later. */
static bool handle(struct request *request, struct answer *answer)
{
    if (request->job) {
        job_answer(request->job, answer);
        return true;
    }
    if (request->received > most_bytes(request))
        refuse_size(request, answer);
    else if (request->err.status != HT_OK)
        answer_fail(answer, &request->err);
    else if (request->body.failed)
        answer_refuse(answer, 503, "memory", PAGE_NO_MEMORY_TEXT);
    else if (request->body.length > 0 &&
             memchr(request->body.bytes, '\0', request->body.length))
        answer_refuse(answer, 422, "content", PAGE_NUL);
    else
        request->route->handle(request, answer);
    if (!request->job)
        return true;
    if (job_wait(request->job, request->connection))
        return false;
    job_answer(request->job, answer);
    return true;
}

enum MHD_Result request_step(void *context, struct MHD_Connection *connection,
                             const char *url, const char *method,
                             const char *version, const char *data,
                             size_t *data_size, void **state)
{
    struct request *request = *state;
    struct answer answer;
    (void)version;
    answer_clear(&answer);
    if (!request) {
        request = begin(context, connection);
        *state = request;
        if (!request)
            return MHD_NO;
        if (check_head(request, url, method, &answer) &&
            begin_body(request, &answer))
            return MHD_YES;
        answer.shut = strcmp(method, "GET") != 0;
        page_watch_answer(request->watched);
        return answer_send(connection, &answer) ? MHD_YES : MHD_NO;
    }
    if (*data_size > 0) {
        bool goes_on = take_body(request, data, *data_size);
        *data_size = 0;
        return goes_on ? MHD_YES : MHD_NO;
    }
    page_watch_answer(request->watched);
    if (!handle(request, &answer))
        return MHD_YES;
    return answer_send(connection, &answer) ? MHD_YES : MHD_NO;
}

void request_end(void *context, struct MHD_Connection *connection,
                 void **state, enum MHD_RequestTerminationCode why)
{
    struct request *request = *state;
    (void)context;
    (void)connection;
    (void)why;
    if (!request)
        return;
    if (request->arrival)
        parcels_tidy(request->page, request->arrival);
    job_let_go(request->job);
    page_watch_head(request->watched);
    ht_text_free(&request->body);
    ht_release(request);
    *state = NULL;
}
