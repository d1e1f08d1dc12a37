/* json.h - writing one JSON object, from schema tables and by hand.
 *
 * Numbers carry 17 significant digits; keys stand in the order of the table
 * or of the calls: the same input gives the same bytes. A number that is not
 * finite is left out (in a list: null). Text must be UTF-8. A failure sticks
 * and is reported by ht_json_finish, so a writer checks once.
 *
 *     struct ht_json *json = ht_json_create();
 *     ht_json_count(json, "schema", 1);
 *     ht_json_open_list(json, "points");
 *     ht_json_number(json, NULL, 2.5);
 *     ht_json_close(json);
 *     ht_json_record(json, "angles", &schema, &angles);
 *     status = ht_json_finish(json, &text, err);    (releases json)
 */
#ifndef HALFTURN_JSON_H
#define HALFTURN_JSON_H

#include "halfturn/document.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

struct ht_json;

/* An open object. NULL when out of memory: the functions below accept it. */
struct ht_json *ht_json_create(void);

/* key: NULL inside a list. */
void ht_json_open_map(struct ht_json *json, const char *key);
void ht_json_open_list(struct ht_json *json, const char *key);
void ht_json_close(struct ht_json *json);
void ht_json_number(struct ht_json *json, const char *key, double value);
void ht_json_count(struct ht_json *json, const char *key, size_t value);
void ht_json_int(struct ht_json *json, const char *key, long long value);
void ht_json_bool(struct ht_json *json, const char *key, bool value);
void ht_json_null(struct ht_json *json, const char *key);
/* NULL is left out (in a list: null). */
void ht_json_text(struct ht_json *json, const char *key, const char *text);

/* A struct by its table, as an object under `key` (NULL: inside a list). */
void ht_json_record(struct ht_json *json, const char *key,
                    const struct ht_schema *schema, const void *record);
/* The same keys put into the object that is open now. */
void ht_json_rows(struct ht_json *json, const struct ht_schema *schema,
                  const void *record);

/* Closes everything, appends the object and a newline to *out (nothing on
 * failure), releases json. A text that is not UTF-8, a key given twice, a
 * value without a key, more than 32 levels: HT_BUG with the key's name. */
enum ht_status ht_json_finish(struct ht_json *json, struct ht_text *out,
                              struct ht_error *err);
void ht_json_free(struct ht_json *json);

#endif
