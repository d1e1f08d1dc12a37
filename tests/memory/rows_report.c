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

static enum ht_status write_explained(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status =
        ht_report_explain_text(&out, &given.workup, NULL, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_blank(struct ht_error *err)
{
    struct ht_text out = { 0 };
    const struct ht_blank_request request = { &given.sheet, "case.yaml",
                                              HT_PAPER_A4 };
    watch_begin();
    enum ht_status status = ht_report_blank_pdf(&out, &request, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status write_pdf(struct ht_error *err)
{
    struct ht_text out = { 0 };
    const struct ht_report_names names = { "case.yaml", "Shop" };
    watch_begin();
    enum ht_status status = ht_report_pdf(&out, &given.workup, &names,
                                          HT_PAPER_LETTER, err);
    watch_end();
    return wrote(status, &out);
}

static enum ht_status make_figures(struct ht_error *err)
{
    struct ht_figures figures;
    watch_begin();
    enum ht_status status = ht_report_figures(&figures, &given.workup, err);
    watch_end();
    ROW_DEMAND((figures.count > 0) == (status == HT_OK));
    ROW_DEMAND((figures.file != NULL) == (status == HT_OK));
    ht_report_figures_free(&figures);
    return status;
}

static enum ht_status free_figures(struct ht_error *err)
{
    struct ht_figures figures;
    enum ht_status status = ht_report_figures(&figures, &given.workup, err);
    watch_begin();
    ht_report_figures_free(&figures);
    watch_end();
    ROW_DEMAND(figures.count == 0 && !figures.file);
    return status;
}

static struct ht_parts_request parts_request(void)
{
    return (struct ht_parts_request){ &given.workup.rotation, 20, 25, 42, 1 };
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

/* What cannot be kept is made all the same. */
static enum ht_status run_with_keeper(struct ht_error *err)
{
    static struct ht_workup workup;
    struct ht_workup_options options = given.options;
    options.keeper = ht_keeper_create((size_t)64 << 20);
    ROW_DEMAND(options.keeper != NULL);
    watch_begin();
    enum ht_status status =
        ht_workup_run(&workup, &given.sheet, &options, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&workup);
    else
        ROW_DEMAND(workup.has_ranking);
    ht_workup_free(&workup);
    ht_keeper_free(options.keeper);
    return status;
}

static enum ht_status create_keeper(struct ht_error *err)
{
    (void)err;
    watch_begin();
    struct ht_keeper *keeper = ht_keeper_create(1 << 20);
    watch_end();
    ht_keeper_free(keeper);
    return keeper ? HT_OK : HT_NO_MEMORY;
}

static enum ht_status ask_keeper(struct ht_error *err)
{
    struct ht_keeper *keeper = ht_keeper_create(1 << 20);
    struct ht_key key = ht_key_of_bytes("bytes", 5);
    char hex[HT_KEY_HEX];
    watch_begin();
    ROW_DEMAND(ht_keeper_figures(keeper).values == 0);
    ht_keeper_free(keeper);
    ht_key_write(hex, &key);
    ROW_DEMAND(hex[HT_KEY_HEX - 1] == '\0');
    key = ht_key_of_bytes("bytes", 5);
    ROW_DEMAND(ht_stage_name(HT_STAGE_PARTS)[0] != '\0');
    watch_end();
    (void)err;
    return HT_OK;
}

static enum ht_status key_of_file(struct ht_error *err)
{
    struct ht_key key;
    watch_begin();
    enum ht_status status = ht_key_of_file(&key, given.log_path, err);
    watch_end();
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
    { "ht_report_explain_text", ALLOCATES, write_explained },
    { "ht_report_blank_pdf", ALLOCATES, write_blank },
    { "ht_report_pdf", ALLOCATES, write_pdf },
    { "ht_report_figures", ALLOCATES, make_figures },
    { "ht_report_figures_free", NO_MEMORY_NEEDED, free_figures },
    { "ht_report_parts_text", ALLOCATES, write_parts },
    { "ht_report_parts_json", ALLOCATES, write_parts_json },
    { "ht_workup_run", ALLOCATES, run_workup },
    { "ht_workup_run", DOES_WITHOUT, run_with_keeper },
    { "ht_keeper_create", ALLOCATES, create_keeper },
    { "ht_keeper_figures", NO_MEMORY_NEEDED, ask_keeper },
    { "ht_keeper_free", NO_MEMORY_NEEDED, ask_keeper },
    { "ht_key_write", NO_MEMORY_NEEDED, ask_keeper },
    { "ht_key_of_bytes", NO_MEMORY_NEEDED, ask_keeper },
    { "ht_key_of_file", NO_MEMORY_NEEDED, key_of_file },
    { "ht_stage_name", NO_MEMORY_NEEDED, ask_keeper },
    { "ht_workup_free", NO_MEMORY_NEEDED, free_workup },
    { 0 },
};
