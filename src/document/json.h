/* json.h - the writer's inside: jansson values from rows. */
#ifndef HALFTURN_DOCUMENT_JSON_H
#define HALFTURN_DOCUMENT_JSON_H

#include "halfturn/json.h"
#include "quantity.h"

#include <jansson.h>

enum { JSON_DEPTH = 32 };

struct ht_json {
    json_t *open[JSON_DEPTH]; /* borrowed, but for the first */
    size_t depth;             /* of the open ones; at least 1 */
    struct ht_error error;    /* the first failure, or HT_OK */
};

/* The first failure stays. */
void ht_json_failed(struct ht_json *json, enum ht_status status,
                    const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The key for a message; "[]" for an entry of a list. */
const char *ht_json_place(const char *key);

/* New reference; NULL after a failure was noted. */
json_t *ht_json_string(struct ht_json *json, const char *key, const char *text);

/* Frees it; returns its first failure, or HT_OK. NULL: out of memory. */
enum ht_status ht_json_end(struct ht_json *json, struct ht_error *err);

/* Puts a value (stolen) under a key. NULL: out of memory, unless a failure
 * was noted. */
void ht_json_put(struct ht_json *json, const char *key, json_t *value);

/* New reference; NULL after a failure was noted. */
json_t *ht_json_of_record(struct ht_json *json, const struct ht_schema *schema,
                          const void *record, const struct unit *unit);
void ht_json_fill(struct ht_json *json, json_t *object,
                  const struct ht_schema *schema, const void *record,
                  const struct unit *unit);

#endif
