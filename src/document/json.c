#include "json.h"

#include "common/memory.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void ht_json_failed(struct ht_json *json, const char *key, const char *why)
{
    if (json->status != HT_OK)
        return;
    json->status = why ? HT_BUG : HT_NO_MEMORY;
    (void)snprintf(json->reason, sizeof json->reason, "'%.40s': %s",
                   key ? key : "in a list", why ? why : "out of memory");
}

struct ht_json *ht_json_create(void)
{
    struct ht_json *json = ht_allocate(1, sizeof *json);
    if (!json)
        return NULL;
    json->open[0] = json_object();
    json->depth = 1;
    if (!json->open[0])
        ht_json_failed(json, "{", NULL);
    return json;
}

void ht_json_free(struct ht_json *json)
{
    if (json)
        json_decref(json->open[0]);
    ht_release(json);
}

static const char *misplaced(const json_t *open, const char *key)
{
    if (json_is_array(open))
        return key ? "a list has no keys" : NULL;
    if (!key)
        return "a value without a key";
    return json_object_get(open, key) ? "the key is given twice" : NULL;
}

void ht_json_put(struct ht_json *json, const char *key, json_t *value)
{
    json_t *open = json->depth ? json->open[json->depth - 1] : NULL;
    const char *why = json->status == HT_OK ? misplaced(open, key) : NULL;
    if (!value)
        ht_json_failed(json, key, NULL);
    if (why)
        ht_json_failed(json, key, why);
    if (json->status != HT_OK) {
        json_decref(value);
        return;
    }
    int failed = json_is_array(open) ? json_array_append_new(open, value)
                                     : json_object_set_new(open, key, value);
    if (failed)
        ht_json_failed(json, key, NULL);
}

static void open_new(struct ht_json *json, const char *key, json_t *value)
{
    if (!json) {
        json_decref(value);
        return;
    }
    if (json->depth == JSON_DEPTH)
        ht_json_failed(json, key, "deeper than 32");
    ht_json_put(json, key, value);
    if (json->status == HT_OK)
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
    if (!json || json->status != HT_OK)
        return;
    if (json->depth == 1)
        ht_json_failed(json, "}", "closed once too often");
    else
        json->depth--;
}

static bool in_list(const struct ht_json *json)
{
    return json->status == HT_OK && json_is_array(json->open[json->depth - 1]);
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
    json_t *value = text ? json_string(text) : json_null();
    if (!value)
        ht_json_failed(json, key, "a text that is not UTF-8, or no memory");
    ht_json_put(json, key, value);
}

void ht_json_record(struct ht_json *json, const char *key,
                    const struct ht_schema *schema, const void *record)
{
    if (json && json->status == HT_OK)
        ht_json_put(
            json, key,
            ht_json_of_record(json, schema, record,
                              &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0]));
}

void ht_json_rows(struct ht_json *json, const struct ht_schema *schema,
                  const void *record)
{
    if (!json || json->status != HT_OK)
        return;
    json_t *open = json->open[json->depth - 1];
    if (json_is_array(open))
        ht_json_failed(json, schema->name, "a list has no keys");
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
static enum ht_status dump(struct ht_json *json, struct ht_text *out)
{
    struct ht_text text = { .limit = out->limit };
    if (json_dump_callback(json->open[0], append, &text,
                           JSON_INDENT(1) | JSON_REAL_PRECISION(17)) != 0)
        ht_json_failed(json, "}", NULL);
    ht_text_add(&text, "\n");
    if (json->status == HT_OK && ht_text_ok(&text))
        ht_text_add_bytes(out, text.bytes, text.length);
    if (!ht_text_ok(&text) || !ht_text_ok(out))
        ht_json_failed(json, "}", NULL);
    ht_text_free(&text);
    return json->status;
}

enum ht_status ht_json_finish(struct ht_json *json, struct ht_text *out,
                              struct ht_error *err)
{
    if (!json)
        return ht_fail(err, HT_NO_MEMORY, "writing JSON: out of memory");
    enum ht_status status = json->status;
    if (status == HT_OK)
        status = dump(json, out);
    if (status != HT_OK)
        (void)ht_fail(err, status, "writing JSON: %s", json->reason);
    ht_json_free(json);
    return status;
}
