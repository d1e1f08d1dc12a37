#include "json.h"
#include "source.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <string.h>

json_t *ht_json_string(struct ht_json *json, const char *key, const char *text)
{
    size_t length = strlen(text);
    json_t *value = json_string(text);
    if (value)
        return value;
    if (ht_utf_8_ends(text, length) < length)
        ht_json_failed(json, DOCUMENT_WRITE_NOT_UTF_8, ht_json_place(key));
    else
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
    return NULL;
}

struct ht_json *ht_json_create(void)
{
    struct ht_json *json = ht_allocate(1, sizeof *json);
    if (!json)
        return NULL;
    json->open[0] = json_object();
    json->depth = 1;
    if (!json->open[0])
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
    return json;
}

void ht_json_free(struct ht_json *json)
{
    if (json)
        json_decref(json->open[0]);
    ht_release(json);
}

/* Refuses a value in a list with a key, in a mapping without or with one that
 * is there. */
static void check_key(struct ht_json *json, const json_t *open, const char *key)
{
    bool list = json_is_array(open);
    if (list && key)
        ht_json_failed(json, DOCUMENT_WRITE_KEY_IN_LIST, key);
    else if (!list && !key)
        ht_json_failed(json, DOCUMENT_WRITE_NO_KEY);
    else if (!list && json_object_get(open, key))
        ht_json_failed(json, DOCUMENT_WRITE_TWICE, key);
}

void ht_json_put(struct ht_json *json, const char *key, json_t *value)
{
    json_t *open = json->depth ? json->open[json->depth - 1] : NULL;
    if (!value)
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
    if (json->error.status == HT_OK)
        check_key(json, open, key);
    if (json->error.status != HT_OK) {
        json_decref(value);
        return;
    }
    int failed = json_is_array(open) ? json_array_append_new(open, value)
                                     : json_object_set_new(open, key, value);
    if (failed)
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
}

static void open_new(struct ht_json *json, const char *key, json_t *value)
{
    if (!json) {
        json_decref(value);
        return;
    }
    if (json->depth == JSON_DEPTH)
        ht_json_failed(json, DOCUMENT_WRITE_TOO_DEEP, JSON_DEPTH);
    ht_json_put(json, key, value);
    if (json->error.status == HT_OK)
        json->open[json->depth++] = value;
}

void ht_json_open_map(struct ht_json *json, const char *key)
{
    open_new(json, key, json_object());
}

void ht_json_open_list(struct ht_json *json, const char *key)
{
    open_new(json, key, json_array());
}

void ht_json_close(struct ht_json *json)
{
    if (!json || json->error.status != HT_OK)
        return;
    if (json->depth == 1)
        ht_json_failed(json, DOCUMENT_WRITE_CLOSED);
    else
        json->depth--;
}

static bool in_list(const struct ht_json *json)
{
    return json->error.status == HT_OK &&
           json_is_array(json->open[json->depth - 1]);
}

void ht_json_number(struct ht_json *json, const char *key, double value)
{
    if (!json || (!isfinite(value) && !in_list(json)))
        return;
    ht_json_put(json, key, isfinite(value) ? json_real(value) : json_null());
}

void ht_json_int(struct ht_json *json, const char *key, long long value)
{
    if (json)
        ht_json_put(json, key, json_integer(value));
}

void ht_json_count(struct ht_json *json, const char *key, size_t value)
{
    ht_json_int(json, key, (long long)value);
}

void ht_json_bool(struct ht_json *json, const char *key, bool value)
{
    if (json)
        ht_json_put(json, key, json_boolean(value));
}

void ht_json_null(struct ht_json *json, const char *key)
{
    if (json)
        ht_json_put(json, key, json_null());
}

void ht_json_text(struct ht_json *json, const char *key, const char *text)
{
    if (!json || (!text && !in_list(json)))
        return;
    ht_json_put(json, key,
                text ? ht_json_string(json, key, text) : json_null());
}

void ht_json_record(struct ht_json *json, const char *key,
                    const struct ht_schema *schema, const void *record)
{
    if (json && json->error.status == HT_OK)
        ht_json_put(
            json, key,
            ht_json_of_record(json, schema, record,
                              &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0]));
}

void ht_json_rows(struct ht_json *json, const struct ht_schema *schema,
                  const void *record)
{
    if (!json || json->error.status != HT_OK)
        return;
    json_t *open = json->open[json->depth - 1];
    if (json_is_array(open))
        ht_json_failed(json, DOCUMENT_WRITE_KEY_IN_LIST, schema->name);
    else
        ht_json_fill(json, open, schema, record,
                     &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0]);
}

static int append(const char *bytes, size_t size, void *text)
{
    ht_text_add_bytes(text, bytes, size);
    return ht_text_ok(text) ? 0 : -1;
}

/* Written aside first, so that *out has all of it or nothing. */
static void dump(struct ht_json *json, struct ht_text *out)
{
    struct ht_text text = { .limit = out->limit };
    if (json_dump_callback(json->open[0], append, &text,
                           JSON_INDENT(1) | JSON_REAL_PRECISION(17)) != 0)
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
    ht_text_add(&text, "\n");
    if (json->error.status == HT_OK && ht_text_ok(&text))
        ht_text_add_bytes(out, text.bytes, text.length);
    if (!ht_text_ok(&text) || !ht_text_ok(out))
        ht_json_failed(json, DOCUMENT_WRITE_NO_MEMORY);
    ht_text_free(&text);
}

enum ht_status ht_json_end(struct ht_json *json, struct ht_error *err)
{
    if (!json)
        return ht_fail(err, DOCUMENT_WRITE_NO_MEMORY);
    enum ht_status status = json->error.status;
    if (status != HT_OK && err)
        *err = json->error;
    ht_json_free(json);
    return status;
}

enum ht_status ht_json_finish(struct ht_json *json, struct ht_text *out,
                              struct ht_error *err)
{
    if (json && json->error.status == HT_OK)
        dump(json, out);
    return ht_json_end(json, err);
}
