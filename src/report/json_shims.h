/* json_shims.h - shims as JSON. */
#ifndef HALFTURN_REPORT_JSON_SHIMS_H
#define HALFTURN_REPORT_JSON_SHIMS_H

#include "halfturn/json.h"
#include "halfturn/workup.h"

#include "common/memory.h"

extern const struct ht_schema json_shims_schema;

/* False: out of memory. */
bool json_put_shims(struct ht_json *json, const struct ht_workup *workup,
                    struct ht_arena *arena);

#endif
