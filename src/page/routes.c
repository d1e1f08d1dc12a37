/* The one table of addresses. */
#include "handlers.h"

#include "common/embed.h"

#include <string.h>

/* The page's files: name, address, kind. */
#define ASSETS(X)                                                              \
    X(page_html, "/", "page.html", HTML)                                       \
    X(page_css, "/page.css", "page.css", CSS)                                  \
    X(page_js, "/page.js", "page.js", SCRIPT)                                  \
    X(again_js, "/again.js", "again.js", SCRIPT)                               \
    X(api_js, "/api.js", "api.js", SCRIPT)                                     \
    X(cases_js, "/cases.js", "cases.js", SCRIPT)                               \
    X(causes_js, "/causes.js", "causes.js", SCRIPT)                            \
    X(chain_js, "/chain.js", "chain.js", SCRIPT)                               \
    X(checks_js, "/checks.js", "checks.js", SCRIPT)                            \
    X(complaint_js, "/complaint.js", "complaint.js", SCRIPT)                   \
    X(dom_js, "/dom.js", "dom.js", SCRIPT)                                     \
    X(drive_js, "/drive.js", "drive.js", SCRIPT)                               \
    X(fields_js, "/fields.js", "fields.js", SCRIPT)                            \
    X(figures_js, "/figures.js", "figures.js", SCRIPT)                         \
    X(order_figures_js, "/order_figures.js", "order_figures.js", SCRIPT)       \
    X(joints_js, "/joints.js", "joints.js", SCRIPT)                            \
    X(keeper_js, "/keeper.js", "keeper.js", SCRIPT)                            \
    X(overview_js, "/overview.js", "overview.js", SCRIPT)                      \
    X(readings_js, "/readings.js", "readings.js", SCRIPT)                      \
    X(recording_js, "/recording.js", "recording.js", SCRIPT)                   \
    X(repair_js, "/repair.js", "repair.js", SCRIPT)                            \
    X(vehicle_js, "/vehicle.js", "vehicle.js", SCRIPT)                         \
    X(verdicts_js, "/verdicts.js", "verdicts.js", SCRIPT)                      \
    X(words_js, "/words.js", "words.js", SCRIPT)

#define HTML "text/html; charset=utf-8"
#define CSS "text/css; charset=utf-8"
#define SCRIPT "text/javascript; charset=utf-8"

#define EMBED_IT(name, address, file, kind) EMBED(name, "page/web/" file);
ASSETS(EMBED_IT)

#define NAME_IT(name, address, file, kind) ASSET_##name,
enum asset { ASSETS(NAME_IT) };

void handle_asset(struct request *request, struct answer *answer)
{
#define ROW_OF(name, address, file, kind) { kind, name, EMBED_LENGTH(name) },
    const struct {
        const char *type, *bytes;
        size_t length;
    } assets[] = { ASSETS(ROW_OF) };
    int asset = request->route->with;
    answer->type = assets[asset].type;
    answer->fixed = assets[asset].bytes;
    answer->fixed_length = assets[asset].length;
}

void handle_about(struct request *request, struct answer *answer)
{
    struct ht_json *json = ht_json_create();
    (void)request;
    ht_json_count(json, "schema", 1);
    ht_json_text(json, "program", "halfturn");
    ht_json_text(json, "version", HALFTURN_VERSION);
    answer_json(answer, json);
}

#define CASE "/api/cases/#"
#define ROUTE_TO(name, address, file, kind)                                    \
    { "GET", address, NO_BODY, true, ASSET_##name, handle_asset },

const struct route page_routes[] = {
    ASSETS(ROUTE_TO)
    { "GET", "/api/", NO_BODY, false, 0, handle_about },
    { "GET", "/api/cases", NO_BODY, false, 0, handle_list },
    { "POST", "/api/cases", SHEET_BODY, false, 0, handle_add },
    { "POST", "/api/cases/sample", NO_BODY, false, 0, handle_sample },
    { "POST", "/api/cases/import", FILE_BODY, false, 0, handle_import },
    { "GET", CASE, NO_BODY, false, 0, handle_get },
    { "PUT", CASE, SHEET_BODY, false, 0, handle_save },
    { "DELETE", CASE, NO_BODY, false, 0, handle_remove },
    { "POST", CASE "/undo", NO_BODY, false, 0, handle_undo },
    { "POST", CASE "/redo", NO_BODY, false, 0, handle_redo },
    { "PUT", CASE "/files/*", FILE_BODY, false, 0, handle_keep_file },
    { "DELETE", CASE "/files/*", NO_BODY, false, 0, handle_drop_file },
    { "GET", CASE "/angles", NO_BODY, false, JOB_ANGLES, handle_work },
    { "GET", CASE "/shims", NO_BODY, false, JOB_SHIMS, handle_work },
    { "GET", CASE "/orders", NO_BODY, false, JOB_ORDERS, handle_work },
    { "GET", CASE "/rank", NO_BODY, false, JOB_RANK, handle_work },
    { "GET", CASE "/report.html", NO_BODY, false, JOB_REPORT, handle_work },
    { "GET", CASE "/report.pdf", NO_BODY, false, 0, handle_report_pdf },
    { "GET", CASE "/parts", NO_BODY, false, 0, handle_parts },
    { "GET", CASE "/progress", NO_BODY, false, 0, handle_progress },
    { "POST", CASE "/cancel", NO_BODY, false, 0, handle_cancel },
    { "GET", CASE "/measuring.pdf", NO_BODY, false, 0, handle_measuring },
    { "GET", CASE "/case.zip", NO_BODY, false, 0, handle_export },
    { "POST", "/api/angles", SHEET_BODY, false, JOB_ANGLES,
      handle_work_sent },
    { "POST", "/api/shims", SHEET_BODY, false, JOB_SHIMS, handle_work_sent },
    { "POST", "/api/rank", SHEET_BODY, false, JOB_RANK, handle_work_sent },
    { 0 },
};
