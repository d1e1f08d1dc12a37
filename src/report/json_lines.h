/* json_lines.h - `drivelines` and `angle_sets` of the JSON output. */
#ifndef HALFTURN_REPORT_JSON_LINES_H
#define HALFTURN_REPORT_JSON_LINES_H

#include "halfturn/json.h"
#include "halfturn/workup.h"

#include "common/memory.h"

extern const struct ht_schema json_driveline_schema, json_set_schema,
    json_travel_schema;

/* With `effects`, what the angles of each set do. Nothing for one set of one
 * driveline. False when out of memory. */
bool json_put_lines(struct ht_json *json, const struct ht_workup *workup,
                    bool effects, struct ht_arena *arena);

#endif
