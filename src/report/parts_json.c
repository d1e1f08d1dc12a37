#include "parts.h"

#include "halfturn/json.h"

#define ROW(name, field, what, unit, text)                                     \
    { .key = name, .kind = HT_IS_##what, .quantity = HT_QUANTITY_##unit,       \
      .at = offsetof(struct parts_row, field), .help = text }

static const struct ht_row part_rows[] = {
    { .key = "part", .kind = HT_IS_CHARS,
      .at = offsetof(struct parts_row, part),
      .most = sizeof ((struct parts_row *)0)->part, .help = "what turns" },
    ROW("multiple", multiple, NUMBER, PLAIN, "cycles per turn of the part"),
    ROW("hz", hz, NUMBER, PLAIN, "frequency"),
    ROW("rpm", rpm, NUMBER, PLAIN, "turns of the part per minute"),
    ROW("speed_km_h", speed_m_s, NUMBER, SPEED,
        "road speed: the one asked for, or where the frequency is met"),
};
static const struct ht_schema part_schema = {
    HT_SCHEMA("parts", "One order of one part at the speed asked for.",
              part_rows, struct parts_row)
};

static void write_list(struct ht_json *json, const char *key,
                       const struct parts_row *row, size_t rows)
{
    ht_json_open_list(json, key);
    for (size_t i = 0; i < rows; i++)
        ht_json_record(json, NULL, &part_schema, &row[i]);
    ht_json_close(json);
}

static void write_pairs(struct ht_json *json, const struct parts_list *list)
{
    ht_json_open_list(json, "coincide");
    for (size_t i = 0; i < list->pairs; i++) {
        const struct parts_pair *pair = &list->pair[i];
        ht_json_open_map(json, NULL);
        ht_json_text(json, "a", pair->a);
        ht_json_text(json, "b", pair->b);
        ht_json_number(json, "a_hz", pair->hz_a);
        ht_json_number(json, "b_hz", pair->hz_b);
        ht_json_bool(json, "same", pair->same);
        ht_json_close(json);
    }
    ht_json_close(json);
}

void parts_json(struct ht_json *json, const struct parts_list *list)
{
    write_list(json, "parts", list->row, list->rows);
    write_pairs(json, list);
    if (list->could_be)
        write_list(json, "could_be", list->match, list->could_be);
}

enum ht_status ht_report_parts_json(struct ht_text *out,
                                    const struct ht_parts_request *request,
                                    struct ht_error *err)
{
    struct parts_list list;
    struct ht_json *json = ht_json_create();
    parts_collect(&list, request);
    ht_json_count(json, "schema", 1);
    parts_json(json, &list);
    ht_json_open_list(json, "notes");
    for (size_t i = 0; i < request->rotation->notes; i++)
        ht_json_text(json, NULL, request->rotation->note[i]);
    ht_json_close(json);
    return ht_json_finish(json, out, err);
}
