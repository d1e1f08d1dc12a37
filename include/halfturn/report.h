/* report.h - a finished workup as text, as JSON, as one page of HTML and as
 * figures; and the sheet of paper that is filled in beside the vehicle.
 *
 * Pure: writes into the caller's texts, no files but the fonts of the drawings,
 * no clock (pages carry the case's own date). Words after docs/json.md and the
 * project's own list.
 */
#ifndef HALFTURN_REPORT_H
#define HALFTURN_REPORT_H

#include "halfturn/status.h"
#include "halfturn/text.h"
#include "halfturn/workup.h"

/* All else in the installed library is its own: it clashes with no name of the
 * program that it is linked into. */
#pragma GCC visibility push(default)

struct ht_report_names {
    const char *case_name;       /* file name of the sheet */
    const char *shop;            /* NULL: none */
};

/* One self-contained page: no script, no request; two columns from 1240 px,
 * one below; light, dark, paper. */
enum ht_status ht_report_html(struct ht_text *out,
                              const struct ht_workup *workup,
                              const struct ht_report_names *names,
                              struct ht_error *err);

/* Text for people, one function for each command. Speeds in km/h. */
enum ht_status ht_report_angles_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err);
/* The calculation with the case's own numbers, a line a step, for a student
 * with a calculator. `driveline` NULL: every set of readings of the workup's
 * sheet; else the one that its angles were worked out from. */
enum ht_status ht_report_explain_text(struct ht_text *out,
                                      const struct ht_workup *workup,
                                      const struct ht_driveline *driveline,
                                      struct ht_error *err);
enum ht_status ht_report_shims_text(struct ht_text *out,
                                    const struct ht_workup *workup,
                                    struct ht_error *err);
enum ht_status ht_report_orders_text(struct ht_text *out,
                                     const struct ht_workup *workup,
                                     struct ht_error *err);
enum ht_status ht_report_rank_text(struct ht_text *out,
                                   const struct ht_workup *workup,
                                   struct ht_error *err);

/* Every figure that the workup has, each as two files: an SVG that stands
 * alone (its own light colours, no style sheet; a title and a description for
 * who cannot see it) and a PNG of it, two pixels to one. The same workup gives
 * the same bytes. Names as in docs/report.md. */
struct ht_figure_file {
    char name[48];               /* "side-view.svg", "joints-2.png" */
    struct ht_text bytes;
};
struct ht_figures {
    size_t count;                /* 0: nothing to draw */
    struct ht_figure_file *file;
};
/* HT_CANNOT_READ when no font is installed. After a failure there are none. The
 * memory of the drawing libraries is their own. */
enum ht_status ht_report_figures(struct ht_figures *figures,
                                 const struct ht_workup *workup,
                                 struct ht_error *err);
void ht_report_figures_free(struct ht_figures *figures);

/* One JSON object, "schema": 1; which blocks it holds: */
enum ht_report_block {
    HT_BLOCK_ANGLES = 1, HT_BLOCK_ORDERS = 2, HT_BLOCK_RANK = 4,
    HT_BLOCK_SHIMS = 8
};
enum ht_status ht_report_json(struct ht_text *out,
                              const struct ht_workup *workup, unsigned blocks,
                              struct ht_error *err);

/* What turns how fast at one speed; with `hz`, also what could shake there, at
 * any speed from from_m_s to this one. */
struct ht_parts_request {
    const struct ht_rotation *rotation;
    double from_m_s;             /* NAN: at this one alone */
    double speed_m_s;
    double hz;                   /* NAN: not asked */
    unsigned gear;               /* 0: not known */
};
enum ht_status ht_report_parts_text(struct ht_text *out,
                                    const struct ht_parts_request *request,
                                    struct ht_error *err);
enum ht_status ht_report_parts_json(struct ht_text *out,
                                    const struct ht_parts_request *request,
                                    struct ht_error *err);

enum ht_paper { HT_PAPER_A4, HT_PAPER_LETTER /* inches beside mm */ };

/* What the page says as a tagged PDF: the shop's name at the head, numbers of
 * the figures as tables too. HT_CANNOT_READ when no font is installed; after
 * any failure `out` is a failed text. The memory of the drawing libraries is
 * their own: where there is none they may end the program. */
enum ht_status ht_report_pdf(struct ht_text *out,
                             const struct ht_workup *workup,
                             const struct ht_report_names *names,
                             enum ht_paper paper, struct ht_error *err);

/* The measuring sheet of a case, as PDF: what to read on which joint in which
 * order, cells to write in, cautions. A page for each driveline, more where
 * one does not hold it. docs/measuring.md. */
struct ht_blank_request {
    const struct ht_sheet *sheet; /* NULL: a form for three joints */
    const char *case_name;        /* file name of the sheet; NULL: none */
    enum ht_paper paper;
};
/* HT_CANNOT_READ when no font is installed; HT_BAD_FILE when the vehicle's
 * tyre or ratios make no sense, and then `out` is as it was; after any other
 * failure it is a failed text. The memory of the drawing libraries is their
 * own: where there is none they may end the program. */
enum ht_status ht_report_blank_pdf(struct ht_text *out,
                                   const struct ht_blank_request *request,
                                   struct ht_error *err);

#pragma GCC visibility pop

#endif
