/* page.h - the parts of the page, for a browser and for paper. */
#ifndef HALFTURN_REPORT_PAGE_H
#define HALFTURN_REPORT_PAGE_H

#include "halfturn/report.h"
#include "halfturn/status.h"
#include "halfturn/text.h"
#include "halfturn/workup.h"

#include "drawn.h"

/* A marked text as a small paragraph. */
void page_note(struct ht_text *out, const char *text);
/* One figure, its caption above it; nothing where there is none. */
enum ht_status page_figure(struct ht_text *out, draw_function draw,
                           const struct subject *subject,
                           struct ht_error *err);
enum ht_status page_plate(struct ht_text *out, draw_function draw,
                          const struct subject *subject,
                          struct ht_error *err); /* without the caption */
/* Lines of marked text as <li>. */
void page_list(struct ht_text *out, const char *lines, const char *classes);
void page_causes(struct ht_text *out, const struct ht_workup *workup);
void page_shims(struct ht_text *out, const struct ht_workup *workup);
/* `tables`: the numbers of the figures as tables and lists too. */
void page_angles(struct ht_text *out, const struct ht_workup *workup,
                 bool tables);
enum ht_status page_orders(struct ht_text *out,
                           const struct ht_workup *workup,
                           struct ht_error *err);
void page_order_rows(struct ht_text *out, const struct ht_workup *workup);

/* What the page says as one column, in the order of paper/blocks.h: no style,
 * no head. */
enum ht_status page_on_paper(struct ht_text *out,
                             const struct ht_workup *workup,
                             const struct ht_report_names *names,
                             struct ht_error *err);
/* "Mill Lane", unit, date, who measured, as one line. */
void page_meta(struct ht_text *out, const struct ht_sheet_identity *identity,
               const char *shop);
/* The head of the first page: the shop's name first, where there is one. */
void page_paper_head(struct ht_text *out, const struct ht_workup *workup,
                     const struct ht_report_names *names);
/* For the file and for the foot of every page. */
void page_title(struct ht_text *title, struct ht_text *foot,
                const struct ht_workup *workup,
                const struct ht_report_names *names);

#endif
