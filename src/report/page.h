/* page.h - the parts of the page that show figures. */
#ifndef HALFTURN_REPORT_PAGE_H
#define HALFTURN_REPORT_PAGE_H

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
void page_angles(struct ht_text *out, const struct ht_workup *workup);
enum ht_status page_orders(struct ht_text *out,
                           const struct ht_workup *workup,
                           struct ht_error *err);
void page_order_rows(struct ht_text *out, const struct ht_workup *workup);

#endif
