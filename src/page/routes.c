/* The one table of addresses. */
#include "handlers.h"

#include "common/embed.h"

#include <string.h>

EMBED(page_html, "page/web/page.html");
EMBED(page_css, "page/web/page.css");
EMBED(page_js, "page/web/page.js");

enum asset { ASSET_HTML, ASSET_CSS, ASSET_JS };

void handle_asset(struct request *request, struct answer *answer)
{
    static const char *const types[] = { "text/html; charset=utf-8",
                                         "text/css; charset=utf-8",
                                         "text/javascript; charset=utf-8" };
    int asset = request->route->with;
    answer->type = types[asset];
    answer->fixed = asset == ASSET_HTML  ? page_html
                    : asset == ASSET_CSS ? page_css
                                         : page_js;
    answer->fixed_length = asset == ASSET_HTML  ? EMBED_LENGTH(page_html)
                           : asset == ASSET_CSS ? EMBED_LENGTH(page_css)
                                                : EMBED_LENGTH(page_js);
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

const struct route page_routes[] = {
    { "GET", "/", NO_BODY, true, ASSET_HTML, handle_asset },
    { "GET", "/page.css", NO_BODY, true, ASSET_CSS, handle_asset },
    { "GET", "/page.js", NO_BODY, true, ASSET_JS, handle_asset },
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
