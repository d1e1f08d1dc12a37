/* report.h, workup.h */
#include "row.h"

#include "halfturn/report.h"

#include <math.h>
#include <stdlib.h>

/* HT_OK with something written, or nothing at all. */
static enum ht_status wrote(enum ht_status status, struct ht_text *out)
{
    ROW_DEMAND((out->length > 0) == (status == HT_OK));
    ROW_DEMAND(status != HT_OK || ht_text_ok(out));
    ht_text_free(out);
    return status;
}

static enum ht_status write_html(struct ht_error *err)
{
    struct ht_text out = { 0 };
    const struct ht_report_names names = { "case.yaml", "Shop" };
    watch_begin();
    enum ht_status status = ht_report_html(&out, &given.workup, &names, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_angles(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status = ht_report_angles_text(&out, &given.workup, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_orders(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status = ht_report_orders_text(&out, &given.workup, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_rank(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status = ht_report_rank_text(&out, &given.workup, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_json(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status =
        ht_report_json(&out, &given.workup, HT_BLOCK_RANK, err);
    watch_end();
    return wrote(status, &out);
}

static struct ht_parts_request parts_request(void)
{
    return (struct ht_parts_request){ &given.workup.rotation, 25, 42, 1 };
}

static enum ht_status write_parts(struct ht_error *err)
{
    struct ht_text out = { 0 };
    const struct ht_parts_request request = parts_request();
    watch_begin();
    enum ht_status status = ht_report_parts_text(&out, &request, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_parts_json(struct ht_error *err)
{
    struct ht_text out = { 0 };
    const struct ht_parts_request request = parts_request();
    watch_begin();
    enum ht_status status = ht_report_parts_json(&out, &request, err);
    watch_end();
    return wrote(status, &out);
}

/* ---- workup ------------------------------------------------------------ */

static void demand_empty(const struct ht_workup *workup)
{
    ROW_DEMAND(!workup->sheet && !workup->catalogue);
    ROW_DEMAND(!workup->recording.memory && !workup->turns.memory &&
               !workup->orders.memory);
    ROW_DEMAND(!workup->has_angles && !workup->has_rotation &&
               !workup->has_recording && !workup->has_turns &&
               !workup->has_orders && !workup->has_ranking);
}

static enum ht_status run_workup(struct ht_error *err)
{
    static struct ht_workup workup;
    watch_begin();
    enum ht_status status =
        ht_workup_run(&workup, &given.sheet, &given.options, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&workup);
    ht_workup_free(&workup);
    return status;
}

static enum ht_status free_workup(struct ht_error *err)
{
    static struct ht_workup workup;
    enum ht_status status =
        ht_workup_run(&workup, &given.sheet, &given.options, err);
    watch_begin();
    ht_workup_free(&workup);
    watch_end();
    demand_empty(&workup);
    return status;
}

const struct row rows_report[] = {
    { "ht_report_html", ALLOCATES, write_html },
    { "ht_report_angles_text", ALLOCATES, write_angles },
    { "ht_report_orders_text", ALLOCATES, write_orders },
    { "ht_report_rank_text", ALLOCATES, write_rank },
    { "ht_report_json", ALLOCATES, write_json },
    { "ht_report_parts_text", ALLOCATES, write_parts },
    { "ht_report_parts_json", ALLOCATES, write_parts_json },
    { "ht_workup_run", ALLOCATES, run_workup },
    { "ht_workup_free", NO_MEMORY_NEEDED, free_workup },
    { 0 },
};
