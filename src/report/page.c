/* The page: answer, doubt, evidence, in one file without a script. */
#include "halfturn/report.h"

#include "figure.h"
#include "markup.h"
#include "page.h"
#include "shown.h"
#include "styles.h"
#include "summary.h"
#include "texts.h"

#include "common/embed.h"

#include <string.h>

EMBED(ht_report_css, "report/page.css");

typedef void (*say_function)(struct ht_text *, const struct told *);

/* A said text inside `format`, whose one %t takes it; nothing when empty. */
static void put_said(struct ht_text *out, say_function say,
                     const struct told *told, const char *format)
{
    struct ht_text text = { 0 };
    say(&text, told);
    if (text.length)
        markup(out, format, ht_text_get(&text));
    ht_text_end(out, &text);
}

void page_note(struct ht_text *out, const char *text)
{
    markup(out, "<p class=\"small\">%t</p>\n", text);
}

static enum ht_status put_figure(struct ht_text *out, draw_function draw,
                                 const struct subject *subject, bool captioned,
                                 struct ht_error *err)
{
    struct ht_text caption = { 0 }, narrow = { 0 }, wide = { 0 }, again = { 0 };
    enum ht_status status =
        draw(&narrow, &caption, subject, FIGURE_NARROW, err);
    if (status == HT_OK)
        status = draw(&wide, &again, subject, FIGURE_WIDE, err);
    if (narrow.length && captioned)
        page_note(out, ht_text_get(&caption));
    if (narrow.length) {
        ht_text_add(out, "<div class=\"plate\">\n");
        ht_text_add_bytes(out, ht_text_get(&narrow), narrow.length);
        ht_text_add_bytes(out, ht_text_get(&wide), wide.length);
        ht_text_add(out, "</div>\n");
    }
    ht_text_end(out, &caption);
    ht_text_end(out, &narrow);
    ht_text_end(out, &wide);
    ht_text_end(out, &again);
    return status;
}

enum ht_status page_figure(struct ht_text *out, draw_function draw,
                           const struct subject *subject, struct ht_error *err)
{
    return put_figure(out, draw, subject, true, err);
}

enum ht_status page_plate(struct ht_text *out, draw_function draw,
                          const struct subject *subject, struct ht_error *err)
{
    return put_figure(out, draw, subject, false, err);
}

void page_list(struct ht_text *out, const char *lines, const char *classes)
{
    struct ht_text line = { 0 };
    markup(out, "<ul class=\"%s\">\n", classes);
    for (const char *p = lines; *p;) {
        size_t length = strcspn(p, "\n");
        line.length = 0;
        ht_text_add_bytes(&line, p, length);
        markup(out, "<li>%t</li>\n", ht_text_get(&line));
        p += length + (p[length] == '\n');
    }
    ht_text_end(out, &line);
    ht_text_add(out, "</ul>\n");
}

/* ---- head -------------------------------------------------------------- */

static void put_head(struct ht_text *out, const struct told *told)
{
    ht_text_add(out,
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src "
        "'none'; img-src data:; style-src 'unsafe-inline'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n"
        "<title>");
    struct ht_text title = { 0 }, tab = { 0 };
    say_title(&title, told);
    ht_text_addf(&tab, REPORT_TAB, ht_text_get(&title));
    markup(out, "%a</title>\n<style>\n", ht_text_get(&tab));
    ht_text_end(out, &title);
    ht_text_end(out, &tab);
    ht_text_add_bytes(out, ht_figure_css, EMBED_LENGTH(ht_figure_css));
    ht_text_add_bytes(out, ht_report_css, EMBED_LENGTH(ht_report_css));
    ht_text_add(out, "</style></head>\n<body><main>\n");
}

static void put_banner(struct ht_text *out, const struct told *told,
                       const struct ht_report_names *names)
{
    struct ht_text meta = { 0 };
    page_meta(&meta, &told->workup->sheet->identity, names->shop);
    markup(out, "<header class=\"head\"><div class=\"brand\"><svg viewBox=\"0 "
           "0 24 24\" aria-hidden=\"true\"><path d=\"M5 6a7 8 0 0 0 14 0M12 "
           "14v8\"/><circle cx=\"4.5\" cy=\"4\" r=\"2.6\"/><circle "
           "cx=\"19.5\" cy=\"4\" r=\"2.6\"/></svg>%t</div>"
           "<div class=\"meta\">%t</div></header>\n", REPORT_BRAND,
           ht_text_get(&meta));
    ht_text_end(out, &meta);
    put_said(out, say_title, told, "<p class=\"title\">%t</p>\n");
}

static void put_safety(struct ht_text *out, const struct told *told)
{
    struct ht_text lines = { 0 };
    say_safety(&lines, told);
    if (lines.length) {
        markup(out, "<div class=\"safety\"><h2>%t</h2>\n", REPORT_SAFETY);
        page_list(out, ht_text_get(&lines), "list");
        ht_text_add(out, "</div>\n");
    }
    ht_text_end(out, &lines);
}

static void put_next(struct ht_text *out, const struct told *told)
{
    struct ht_text next = { 0 }, outcomes = { 0 };
    say_next(&next, told);
    say_next_outcomes(&outcomes, told);
    if (next.length) {
        struct ht_text named = { 0 };
        ht_text_addf(&named, REPORT_NEXT_BOLD, ht_text_get(&next));
        markup(out, "<div class=\"next\"><p>%t</p>\n", ht_text_get(&named));
        ht_text_end(out, &named);
        if (outcomes.length)
            page_list(out, ht_text_get(&outcomes), "small");
        ht_text_add(out, "</div>\n");
    }
    ht_text_end(out, &next);
    ht_text_end(out, &outcomes);
}

static void put_answer(struct ht_text *out, const struct told *told)
{
    ht_text_add(out, "<div class=\"top\"><div class=\"answer\">\n");
    put_said(out, say_answer, told, "<h1>%t</h1>\n");
    put_said(out, say_sureness, told, "<p class=\"sure\">%t</p>\n");
    put_said(out, say_reason, told, "<p class=\"reason\">%t</p>\n");
    ht_text_add(out, "</div>\n");
    put_next(out, told);
    ht_text_add(out, "</div>\n");
}

/* ---- sections that are lists ------------------------------------------- */

static void put_list_section(struct ht_text *out, const struct told *told,
                             const char *heading,
                             void (*say)(struct ht_text *out,
                                         const struct told *told))
{
    struct ht_text lines = { 0 };
    say(&lines, told);
    if (lines.length) {
        markup(out, "<section><h2>%t</h2>\n", heading);
        page_list(out, ht_text_get(&lines), "list");
        ht_text_add(out, "</section>\n");
    }
    ht_text_end(out, &lines);
}

static void put_untold(struct ht_text *out, const struct told *told)
{
    put_list_section(out, told, REPORT_DOUBTS, say_doubts);
    put_list_section(out, told, REPORT_UNTOLD, say_untold);
}

static void put_cautions(struct ht_text *out, const struct told *told)
{
    struct ht_text lines = { 0 };
    say_cautions(&lines, told);
    ht_text_add(out, "<section class=\"caution\"><svg class=\"edge\" "
                     "aria-hidden=\"true\"><path class=\"stripe\" d=\"");
    for (int y = -4; y < 600; y += 11)
        markup(out, "M-2 %dL14 %d", y + 12, y);
    markup(out, "\"/></svg><h2>%t</h2>\n", REPORT_CAUTION);
    page_list(out, ht_text_get(&lines), "");
    ht_text_add(out, "</section>\n");
    ht_text_end(out, &lines);
}

static void put_foot(struct ht_text *out, const struct told *told,
                     const struct ht_report_names *names)
{
    struct ht_text text = { 0 };
    ht_text_add(out, "<footer class=\"foot\">\n");
    say_assumed(&text, told);
    if (text.length) {
        markup(out, "<p>%t</p>\n", REPORT_ASSUMED_BOLD);
        page_list(out, ht_text_get(&text), "");
    }
    text.length = 0;
    say_made_from(&text, told, names->case_name);
    markup(out, "<p>%t</p></footer>\n", ht_text_get(&text));
    ht_text_end(out, &text);
}

/* ---- the whole --------------------------------------------------------- */

/* Causes and what could not be told at the left, the angles at the right;
 * where one of them is absent, what could not be told takes its side. */
static void put_first_pair(struct ht_text *out, const struct told *told)
{
    const struct ht_workup *workup = told->workup;
    bool causes = told->first;
    bool angles = workup->has_angles && workup->angles.joints > 0;
    ht_text_add(out, "<div class=\"pair\"><div>\n");
    page_causes(out, workup);
    if (causes == angles)
        put_untold(out, told);
    if (!causes)
        page_angles(out, workup, false);
    else
        page_shims(out, workup);
    ht_text_add(out, "</div><div>\n");
    if (causes)
        page_angles(out, workup, false);
    else
        page_shims(out, workup);
    if (causes != angles)
        put_untold(out, told);
    ht_text_add(out, "</div></div>\n");
}

enum ht_status ht_report_html(struct ht_text *out,
                              const struct ht_workup *workup,
                              const struct ht_report_names *names,
                              struct ht_error *err)
{
    const struct told told = told_all(workup);
    put_head(out, &told);
    put_banner(out, &told, names);
    put_safety(out, &told);
    put_answer(out, &told);
    put_first_pair(out, &told);
    enum ht_status status = page_orders(out, workup, err);
    put_cautions(out, &told);
    if (!told.first)
        markup(out, "<p class=\"small block-text\">%t</p>\n",
               REPORT_NOT_SAFE);
    page_order_rows(out, workup);
    put_foot(out, &told, names);
    ht_text_add(out, "</main></body></html>\n");
    if (status == HT_OK && !ht_text_ok(out))
        status = ht_fail(err, REPORT_NO_MEMORY_PAGE);
    if (status != HT_OK)
        ht_text_fail(out);
    return status;
}

/* ---- on paper ------------------------------------------------------------ */

static void put_limit_sources(struct ht_text *out, const struct told *told)
{
    struct ht_text lines = { 0 };
    if (told->angles)
        say_limit_sources(&lines, told->workup);
    if (lines.length) {
        markup(out, "<h3>%t</h3>\n", REPORT_LIMITS);
        page_list(out, ht_text_get(&lines), "");
    }
    ht_text_end(out, &lines);
}

enum ht_status page_on_paper(struct ht_text *out,
                             const struct ht_workup *workup,
                             const struct ht_report_names *names,
                             struct ht_error *err)
{
    const struct told told = told_all(workup);
    page_paper_head(out, workup, names);
    put_safety(out, &told);
    put_answer(out, &told);
    page_causes(out, workup);
    put_untold(out, &told);
    page_angles(out, workup, true);
    page_shims(out, workup);
    enum ht_status status = page_orders(out, workup, err);
    page_order_rows(out, workup);
    put_cautions(out, &told);
    if (!told.first)
        page_note(out, REPORT_NOT_SAFE);
    put_limit_sources(out, &told);
    put_foot(out, &told, names);
    if (status == HT_OK && !ht_text_ok(out))
        status = ht_fail(err, REPORT_NO_MEMORY_PAGE);
    return status;
}
