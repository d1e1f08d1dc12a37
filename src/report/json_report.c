/* A workup as one JSON object, by the tables of json_tables.c. */
#include "halfturn/report.h"

#include "json_effects.h"
#include "json_lines.h"
#include "json_shims.h"
#include "json_view.h"
#include "parts.h"
#include "texts.h"

#include "common/constants.h"
#include "halfturn/json.h"

#include <math.h>

enum { SCHEMA_VERSION = 1 };

/* One point each half second of what may be used. */
static void put_points(struct ht_json *json, const struct ht_turns *turns)
{
    const double every_s = 0.5;
    double last_s = -INFINITY;
    ht_json_open_list(json, "points");
    for (size_t i = 0; i < turns->points; i++) {
        double time_s = turns->start_s + (double)i / turns->rate_hz;
        if (!turns->usable[i] || time_s - last_s < every_s)
            continue;
        last_s = time_s;
        ht_json_open_list(json, NULL);
        ht_json_number(json, NULL, time_s);
        ht_json_number(json, NULL, turns->speed_m_s[i] * HT_KM_H_PER_M_S);
        ht_json_close(json);
    }
    ht_json_close(json);
}

static bool put_rest(struct ht_json *json, const struct ht_workup *workup,
                     struct ht_arena *arena)
{
    struct json_rest rest;
    if (!json_rest_from(&rest, workup, arena))
        return false;
    ht_json_rows(json, &json_rest_schema, &rest);
    return true;
}

/* `effects`: also what the angles do, which is long. */
static bool put_angles(struct ht_json *json, const struct ht_workup *workup,
                       bool effects, struct ht_arena *arena)
{
    struct json_angles angles;
    if (!workup->has_angles)
        return true;
    if (!json_angles_from(&angles, &workup->angles, arena))
        return false;
    ht_json_rows(json, &json_angles_schema, &angles);
    if (effects && !json_put_effects(json, workup, 0, arena))
        return false;
    return json_put_lines(json, workup, effects, arena);
}

static bool put_orders(struct ht_json *json, const struct ht_workup *workup,
                       struct ht_arena *arena)
{
    struct json_speed speed;
    struct json_orders orders;
    if (workup->has_turns) {
        if (!json_speed_from(&speed, workup, arena))
            return false;
        ht_json_open_map(json, "speed");
        ht_json_rows(json, &json_speed_schema, &speed);
        put_points(json, &workup->turns);
        ht_json_close(json);
    }
    if (!workup->has_orders)
        return true;
    if (!json_orders_from(&orders, workup, arena))
        return false;
    ht_json_rows(json, &json_orders_schema, &orders);
    return true;
}

static bool put_rank(struct ht_json *json, const struct ht_workup *workup,
                     struct ht_arena *arena)
{
    struct json_rank rank;
    if (!workup->has_ranking)
        return true;
    if (!json_rank_from(&rank, workup, arena))
        return false;
    ht_json_rows(json, &json_rank_schema, &rank);
    return true;
}

/* What turns how fast at the complaint's highest speed, or the vehicle's. */
static bool put_parts(struct ht_json *json, const struct ht_workup *workup,
                      struct ht_arena *arena)
{
    const struct ht_numbers *felt = &workup->sheet->complaint.speed_m_s;
    struct ht_parts_request request = {
        .rotation = &workup->rotation,
        .speed_m_s = felt->count > 0 ? felt->value[felt->count - 1]
                                     : workup->sheet->vehicle.top_speed_m_s,
        .hz = NAN,
    };
    if (!workup->has_rotation || isnan(request.speed_m_s))
        return true;
    struct parts_list *list = ht_arena_get(arena, 1, sizeof *list);
    if (!list)
        return false;
    parts_collect(list, &request);
    parts_json(json, list);
    return true;
}

enum ht_status ht_report_json(struct ht_text *out,
                              const struct ht_workup *workup, unsigned blocks,
                              struct ht_error *err)
{
    struct ht_arena arena = { 0 };
    struct ht_json *json = ht_json_create();
    unsigned wanted = blocks & HT_BLOCK_RANK
                          ? blocks | HT_BLOCK_ANGLES | HT_BLOCK_ORDERS
                          : blocks;
    ht_json_count(json, "schema", SCHEMA_VERSION);
    bool fine = put_rest(json, workup, &arena);
    if (wanted & HT_BLOCK_RANK)
        fine = fine && put_parts(json, workup, &arena);
    bool long_form = !(wanted & HT_BLOCK_RANK);
    if (wanted & HT_BLOCK_ANGLES)
        fine = fine && put_angles(json, workup, long_form, &arena);
    if (wanted & HT_BLOCK_SHIMS)
        fine = fine && json_put_shims(json, workup, &arena);
    if (wanted & HT_BLOCK_ORDERS)
        fine = fine && put_orders(json, workup, &arena);
    if (wanted & HT_BLOCK_RANK)
        fine = fine && put_rank(json, workup, &arena);
    enum ht_status status = HT_OK;
    if (fine && !arena.failed)
        status = ht_json_finish(json, out, err);
    else {
        ht_json_free(json);
        status = ht_fail(err, REPORT_NO_MEMORY_JSON);
    }
    ht_arena_free(&arena);
    return status;
}
