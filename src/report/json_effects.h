/* json_effects.h - `effects` of the JSON output: what the angles do. */
#ifndef HALFTURN_REPORT_JSON_EFFECTS_H
#define HALFTURN_REPORT_JSON_EFFECTS_H

#include "halfturn/json.h"
#include "halfturn/workup.h"

#include "common/memory.h"

extern const struct ht_schema json_effects_schema;

/* Into the object that is open now; nothing when `line` has none. False when
 * out of memory. */
bool json_put_effects(struct ht_json *json, const struct ht_workup *workup,
                      size_t line, struct ht_arena *arena);

#endif
