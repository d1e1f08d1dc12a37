/* Cases: listed, made, changed, removed; their files. */
#include "address.h"
#include "handlers.h"
#include "texts.h"

#include "common/embed.h"
#include "halfturn/sheet.h"

#include <string.h>

EMBED(sample_sheet, "../samples/van/case.yaml");
EMBED(sample_drive, "../samples/van/drive.flac");
EMBED(sample_speed, "../samples/van/speed.csv");

struct ht_store *store_take(struct page *page)
{
    (void)pthread_mutex_lock(&page->store_lock);
    return page->store;
}

void store_give(struct page *page)
{
    (void)pthread_mutex_unlock(&page->store_lock);
}

/* ---- words of the address ---------------------------------------------- */

bool request_key(const struct request *request, char *room, size_t size,
                 const char **key, struct ht_error *err)
{
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                  "abcdefghijklmnopqrstuvwxyz0123456789-";
    *key = request_word(request, "key", room, size);
    if (!*key)
        return true;
    size_t length = strlen(*key);
    if (length >= 1 && length <= HT_STORE_KEY_MAX &&
        strspn(*key, letters) == length)
        return true;
    (void)ht_fail(err, PAGE_KEY_OFF, HT_STORE_KEY_MAX);
    return false;
}

static bool read_from(const struct request *request, int64_t *from,
                      struct ht_error *err)
{
    char room[80];
    const char *word = request_word(request, "from", room, sizeof room);
    if (word && address_whole(word, strlen(word), from))
        return true;
    (void)ht_fail(err, PAGE_WHOLE_OFF, "from", word ? word : "");
    return false;
}

/* The case as it is now: 409 when it was at another revision. */
static void answer_saved(struct answer *answer, enum ht_status status,
                         int64_t from, const struct ht_store_case *now,
                         const struct ht_error *err)
{
    if (status == HT_OK)
        answer_case(answer, 200, now);
    else if (status == HT_BAD_USE && now->id && now->revision != from)
        answer_case(answer, 409, now);
    else
        answer_fail(answer, err);
}

/* ---- handlers ---------------------------------------------------------- */

void handle_list(struct request *request, struct answer *answer)
{
    struct ht_store_case *list = NULL;
    size_t count = 0;
    struct ht_error err;
    enum ht_status status = ht_store_list(store_take(request->page), &list,
                                          &count, &err);
    store_give(request->page);
    if (status != HT_OK) {
        answer_fail(answer, &err);
        return;
    }
    struct ht_json *json = ht_json_create();
    ht_json_open_list(json, "cases");
    for (size_t i = 0; i < count; i++) {
        ht_json_open_map(json, NULL);
        write_case(json, &list[i]);
        ht_json_close(json);
    }
    ht_store_release(list);
    answer_json(answer, json);
}

static enum ht_status keep_bytes(struct ht_store *store, int64_t id,
                                 const char *name, const char *bytes,
                                 size_t length, struct ht_error *err)
{
    struct ht_arrival *arrival = NULL;
    struct ht_store_file kept;
    enum ht_status status = ht_store_begin(store, &arrival, err);
    if (status != HT_OK)
        return status;
    status = ht_arrival_write(arrival, bytes, length, err);
    if (status == HT_OK)
        return ht_store_keep(store, arrival, id, name, &kept, err);
    ht_store_drop(store, arrival);
    return status;
}

static enum ht_status add_sample(struct request *request, const char *key,
                                 struct ht_store_case *made,
                                 struct ht_error *err)
{
    struct ht_store *store = request->page->store;
    struct ht_sheet sheet;
    struct ht_text json = { 0 };
    enum ht_status status =
        ht_sheet_read_text(&sheet, PAGE_SAMPLE_NAME, sample_sheet,
                           EMBED_LENGTH(sample_sheet), NULL, err);
    if (status == HT_OK)
        status = ht_sheet_write_json(&json, &sheet, err);
    if (status == HT_OK)
        status = ht_store_add(store, ht_text_get(&json), key, made, err);
    if (status == HT_OK)
        status = keep_bytes(store, made->id, "drive.flac", sample_drive,
                            EMBED_LENGTH(sample_drive), err);
    if (status == HT_OK)
        status = keep_bytes(store, made->id, "speed.csv", sample_speed,
                            EMBED_LENGTH(sample_speed), err);
    ht_text_free(&json);
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status add_sent(struct request *request, const char *key,
                               struct ht_store_case *made,
                               struct ht_error *err)
{
    return ht_store_add(request->page->store, ht_text_get(&request->body),
                        key, made, err);
}

/* A new case, by one of the ways above. */
static void make_case(struct request *request, struct answer *answer,
                      enum ht_status (*make)(struct request *request,
                                             const char *key,
                                             struct ht_store_case *made,
                                             struct ht_error *err))
{
    char room[80];
    const char *key;
    struct ht_store_case made = { 0 };
    struct ht_error err;
    if (!request_key(request, room, sizeof room, &key, &err)) {
        answer_fail(answer, &err);
        return;
    }
    (void)store_take(request->page);
    enum ht_status status = make(request, key, &made, &err);
    store_give(request->page);
    if (status == HT_OK)
        answer_case(answer, 201, &made);
    else
        answer_fail(answer, &err);
}

void handle_add(struct request *request, struct answer *answer)
{
    make_case(request, answer, add_sent);
}

void handle_sample(struct request *request, struct answer *answer)
{
    make_case(request, answer, add_sample);
}

static void write_files(struct ht_json *json,
                        const struct ht_store_file *list, size_t count)
{
    ht_json_open_list(json, "files");
    for (size_t i = 0; i < count; i++) {
        ht_json_open_map(json, NULL);
        ht_json_text(json, "name", list[i].name);
        ht_json_int(json, "bytes", (long long)list[i].bytes);
        ht_json_text(json, "hash", list[i].hash);
        ht_json_close(json);
    }
    ht_json_close(json);
}

void handle_get(struct request *request, struct answer *answer)
{
    struct ht_store_case found;
    struct ht_text text = { 0 };
    struct ht_store_file *list = NULL;
    struct ht_sheet sheet;
    size_t count = 0;
    struct ht_error err;
    struct ht_store *store = store_take(request->page);
    enum ht_status status =
        ht_store_get(store, request->id, &found, &text, &err);
    if (status == HT_OK)
        status = ht_store_files(store, request->id, &list, &count, &err);
    store_give(request->page);
    ht_sheet_clear(&sheet);
    if (status == HT_OK)
        status = ht_sheet_read_text(&sheet, PAGE_SHEET_NAME,
                                    ht_text_get(&text), text.length, NULL,
                                    &err);
    if (status == HT_OK) {
        struct ht_json *json = ht_json_create();
        write_case(json, &found);
        ht_json_record(json, "sheet", ht_sheet_schema(), &sheet);
        write_files(json, list, count);
        answer_json(answer, json);
        ht_sheet_free(&sheet);
    } else {
        answer_fail(answer, &err);
    }
    ht_store_release(list);
    ht_text_free(&text);
}

void handle_save(struct request *request, struct answer *answer)
{
    char room[80];
    const char *key;
    int64_t from = 0;
    struct ht_store_case now = { 0 };
    struct ht_error err;
    if (!request_key(request, room, sizeof room, &key, &err) ||
        !read_from(request, &from, &err)) {
        answer_fail(answer, &err);
        return;
    }
    enum ht_status status =
        ht_store_save(store_take(request->page), request->id, from,
                      ht_text_get(&request->body), key, &now, &err);
    store_give(request->page);
    answer_saved(answer, status, from, &now, &err);
}

typedef enum ht_status (*step)(struct ht_store *store, int64_t id,
                               int64_t from, struct ht_store_case *now,
                               struct ht_error *err);

static void take_step(struct request *request, struct answer *answer,
                      step step_)
{
    int64_t from = 0;
    struct ht_store_case now = { 0 };
    struct ht_error err;
    if (!read_from(request, &from, &err)) {
        answer_fail(answer, &err);
        return;
    }
    enum ht_status status = step_(store_take(request->page), request->id,
                                  from, &now, &err);
    store_give(request->page);
    answer_saved(answer, status, from, &now, &err);
}

void handle_undo(struct request *request, struct answer *answer)
{
    take_step(request, answer, ht_store_undo);
}

void handle_redo(struct request *request, struct answer *answer)
{
    take_step(request, answer, ht_store_redo);
}

static void answer_done(struct answer *answer, enum ht_status status,
                        const struct ht_error *err)
{
    if (status == HT_OK)
        answer->code = 204;
    else
        answer_fail(answer, err);
}

void handle_remove(struct request *request, struct answer *answer)
{
    struct ht_error err;
    jobs_cancel(request->page->jobs, request->id);
    enum ht_status status =
        ht_store_remove(store_take(request->page), request->id, &err);
    store_give(request->page);
    parcels_tidy(request->page, NULL);
    answer_done(answer, status, &err);
}

void handle_drop_file(struct request *request, struct answer *answer)
{
    struct ht_error err;
    enum ht_status status =
        ht_store_detach(store_take(request->page), request->id, request->name,
                        &err);
    store_give(request->page);
    parcels_tidy(request->page, NULL);
    answer_done(answer, status, &err);
}
