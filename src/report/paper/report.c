/* The report as PDF: what the page says, down the pages of a paper. */
#include "halfturn/report.h"

#include "flow.h"

#include "report/markup.h"
#include "report/page.h"
#include "report/texts_figures.h"
#include "report/texts_paper.h"

#include <string.h>

struct printing {
    const struct paper_about *about;
    const struct blocks *blocks;
    const char *foot;
    enum ht_paper kind;
};

/* Draws everything once; how many pages there will be must be known, or 0. */
static enum ht_status draw_all(struct ht_text *out,
                               const struct printing *printing, size_t *pages,
                               struct ht_error *err)
{
    struct paper paper;
    struct flow flow = { .paper = &paper, .pages = *pages,
                         .foot = printing->foot };
    enum ht_status status =
        paper_open(&paper, out, printing->kind, printing->about, err);
    if (status == HT_OK)
        flow_blocks(&flow, printing->blocks);
    if (flow.unknown)
        status = ht_fail(err, FIGURE_NOT_READ);
    *pages = paper.pages;
    enum ht_status closed = paper_close(&paper, status == HT_OK ? err : NULL);
    return status == HT_OK ? closed : status;
}

static enum ht_status print(struct ht_text *out,
                            const struct printing *printing,
                            struct ht_error *err)
{
    size_t pages = 0;
    enum ht_status status = draw_all(NULL, printing, &pages, err);
    return status == HT_OK ? draw_all(out, printing, &pages, err) : status;
}

enum ht_status ht_report_pdf(struct ht_text *out,
                             const struct ht_workup *workup,
                             const struct ht_report_names *names,
                             enum ht_paper paper, struct ht_error *err)
{
    struct ht_text markup = { 0 }, title = { 0 }, foot = { 0 };
    struct blocks blocks = { 0 };
    enum ht_status status = page_on_paper(&markup, workup, names, err);
    page_title(&title, &foot, workup, names);
    if (status == HT_OK && !(ht_text_ok(&title) && ht_text_ok(&foot)))
        status = ht_fail(err, PAPER_NO_MEMORY);
    if (status == HT_OK && !blocks_read(&blocks, ht_text_get(&markup)))
        status = ht_fail(err, FIGURE_NOT_READ);
    if (status == HT_OK && blocks.lost)
        status = ht_fail(err, PAPER_NO_MEMORY);
    const struct paper_about about = { ht_text_get(&title),
                                       workup->sheet->identity.date };
    const struct printing printing = { &about, &blocks, ht_text_get(&foot),
                                       paper };
    if (status == HT_OK)
        status = print(out, &printing, err);
    blocks_free(&blocks);
    ht_text_free(&markup);
    ht_text_free(&title);
    ht_text_free(&foot);
    if (status != HT_OK)
        ht_text_fail(out);
    return status;
}
