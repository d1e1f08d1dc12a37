#include "answer.h"

#include "jobs.h"
#include "texts.h"

#include "common/memory.h"

#include <microhttpd.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *const policies[] = {
    [POLICY_PAGE] = "default-src 'self'; frame-ancestors 'none'; "
                    "base-uri 'none'; form-action 'self'",
    [POLICY_REPORT] = "default-src 'none'; img-src data:; "
                      "style-src 'unsafe-inline'; frame-ancestors 'none'; "
                      "base-uri 'none'; form-action 'none'",
};

static const struct {
    unsigned code;
    const char *id;
} by_status[HT_STATUS_COUNT] = {
    [HT_OK] = { 200, "" },
    [HT_BAD_USE] = { 400, "request" },
    [HT_BAD_FILE] = { 422, "content" },
    [HT_TOO_BIG] = { 413, "too_big" },
    [HT_CANNOT_READ] = { 500, "unreadable" },
    [HT_NOT_THERE] = { 404, "nothing" },
    [HT_PORT_TAKEN] = { 500, "bug" },
    [HT_BUG] = { 500, "bug" },
    [HT_NO_MEMORY] = { 503, "memory" },
    [HT_CANNOT_WRITE] = { 507, "disk" },
    [HT_STOPPED] = { 409, "stopped" },
    [HT_BUSY] = { 503, "busy" },
};

void answer_clear(struct answer *answer)
{
    *answer = (struct answer){ .code = 200 };
}

void answer_json(struct answer *answer, struct ht_json *json)
{
    struct ht_error err;
    enum ht_status status = ht_json_finish(json, &answer->body, &err);
    if (status == HT_OK)
        return;
    ht_text_free(&answer->body);
    answer->body = (struct ht_text){ 0 };
    answer->code = by_status[status].code;
    answer->fixed = "{\"error\": {\"id\": \"memory\"}}\n";
    answer->fixed_length = strlen(answer->fixed);
}

void answer_refuse(struct answer *answer, unsigned code, const char *id,
                   const char *text)
{
    struct ht_json *json = ht_json_create();
    ht_text_free(&answer->body);
    answer->body = (struct ht_text){ 0 };
    answer->code = code;
    answer->type = NULL;
    ht_json_open_map(json, "error");
    ht_json_text(json, "id", id);
    ht_json_text(json, "text", text);
    answer_json(answer, json);
}

void answer_fail(struct answer *answer, const struct ht_error *err)
{
    answer_refuse(answer, by_status[err->status].code,
                  by_status[err->status].id, err->text);
}

void write_case(struct ht_json *json, const struct ht_store_case *entry)
{
    ht_json_int(json, "id", entry->id);
    ht_json_int(json, "revision", entry->revision);
    ht_json_text(json, "title", entry->title);
    ht_json_int(json, "changed_s", entry->changed_s);
    ht_json_bool(json, "can_undo", entry->can_undo);
    ht_json_bool(json, "can_redo", entry->can_redo);
}

void answer_case(struct answer *answer, unsigned code,
                 const struct ht_store_case *entry)
{
    struct ht_json *json = ht_json_create();
    answer->code = code;
    if (code == 409) {
        ht_json_open_map(json, "error");
        ht_json_text(json, "id", "revision");
        ht_json_text(json, "text", PAGE_MOVED_ON);
        ht_json_close(json);
        ht_json_open_map(json, "now");
    }
    write_case(json, entry);
    answer_json(answer, json);
}

/* What a stream reads on: its connection is not told to its reader. */
struct stream {
    struct listener *listener;
    struct MHD_Connection *connection;
};

static ssize_t read_stream(void *context, uint64_t at, char *to, size_t room)
{
    struct stream *stream = context;
    (void)at;
    long got = listener_read(stream->listener, stream->connection, to, room);
    return got < 0 ? MHD_CONTENT_READER_END_OF_STREAM : got;
}

static void end_stream(void *context)
{
    struct stream *stream = context;
    listener_end(stream->listener);
    ht_release(stream);
}

static struct MHD_Response *stream_of(struct MHD_Connection *connection,
                                      const struct answer *answer)
{
    struct stream *stream = ht_allocate(1, sizeof *stream);
    struct MHD_Response *response = NULL;
    if (stream) {
        *stream = (struct stream){ answer->stream, connection };
        response = MHD_create_response_from_callback(
            MHD_SIZE_UNKNOWN, 1024, read_stream, stream, end_stream);
    }
    if (!response) {
        listener_end(answer->stream);
        ht_release(stream);
    }
    return response;
}

/* A file that is read piece by piece; it goes when the job does. */
struct reader {
    int file;
    struct job *job;
};

static ssize_t read_file(void *context, uint64_t at, char *to, size_t room)
{
    const struct reader *reader = context;
    ssize_t got = pread(reader->file, to, room, (off_t)at);
    return got > 0 ? got : MHD_CONTENT_READER_END_WITH_ERROR;
}

static void end_file(void *context)
{
    struct reader *reader = context;
    job_let_go(reader->job);
    ht_release(reader);
}

static struct MHD_Response *file_of(const struct answer *answer)
{
    enum { PIECE_BYTES = 64 * 1024 };
    struct stat known;
    struct reader *reader = ht_allocate(1, sizeof *reader);
    if (!reader || fstat(answer->file, &known) != 0 || known.st_size < 0) {
        ht_release(reader);
        return NULL;
    }
    *reader = (struct reader){ answer->file, answer->job };
    struct MHD_Response *response = MHD_create_response_from_callback(
        (uint64_t)known.st_size, PIECE_BYTES, read_file, reader, end_file);
    if (response)
        job_hold(answer->job);
    else
        ht_release(reader);
    return response;
}

static struct MHD_Response *response_of(struct MHD_Connection *connection,
                                        const struct answer *answer)
{
    if (answer->stream)
        return stream_of(connection, answer);
    if (answer->job)
        return file_of(answer);
    if (answer->fixed) /* only read, whatever the type says */
        return MHD_create_response_from_buffer(
            answer->fixed_length, (void *)answer->fixed,
            MHD_RESPMEM_PERSISTENT);
    return MHD_create_response_from_buffer(answer->body.length,
                                           answer->body.bytes,
                                           MHD_RESPMEM_MUST_COPY);
}

static void add_headers(struct MHD_Response *response,
                        const struct answer *answer)
{
    const struct {
        const char *name, *value;
    } headers[] = {
        { "Content-Type",
          answer->type ? answer->type : "application/json" },
        { "Content-Security-Policy", policies[answer->policy] },
        { "X-Content-Type-Options", "nosniff" },
        { "Referrer-Policy", "no-referrer" },
        { "Cross-Origin-Resource-Policy", "same-origin" },
        { "Cross-Origin-Opener-Policy", "same-origin" },
        { "Cache-Control", "no-store" },
        { "Allow", answer->allow[0] ? answer->allow : NULL },
        { "Connection", answer->shut ? "close" : NULL },
    };
    for (size_t i = 0; i < sizeof headers / sizeof headers[0]; i++)
        if (headers[i].value)
            (void)MHD_add_response_header(response, headers[i].name,
                                          headers[i].value);
    if (answer->file_name) {
        struct ht_text text = { 0 };
        ht_text_addf(&text, "attachment; filename=\"%s\"", answer->file_name);
        (void)MHD_add_response_header(response, "Content-Disposition",
                                      ht_text_get(&text));
        ht_text_free(&text);
    }
}

bool answer_send(struct MHD_Connection *connection, struct answer *answer)
{
    bool sent = false;
    struct MHD_Response *response = response_of(connection, answer);
    if (response) {
        add_headers(response, answer);
        sent = MHD_queue_response(connection, answer->code, response) ==
               MHD_YES;
        MHD_destroy_response(response);
    }
    ht_text_free(&answer->body);
    answer->body = (struct ht_text){ 0 };
    return sent;
}
