/* figures.h - what of a result is drawn, when it was asked for: figures as
 * files, the report as PDF.
 *
 * What draws is linked to halfturn-paper: the program itself
 * becomes that one before it begins.
 */
#ifndef HALFTURN_COMMAND_FIGURES_H
#define HALFTURN_COMMAND_FIGURES_H

#include "options.h"

#include "halfturn/report.h"
#include "halfturn/workup.h"

enum ht_status figures_begin(const struct options *options,
                             struct ht_error *err);
enum ht_status figures_write(const struct options *options,
                             const struct ht_workup *workup,
                             struct ht_error *err);
/* The report, when pdf_wanted. */
enum ht_status figures_pdf(struct ht_text *out,
                           const struct ht_workup *workup,
                           const struct ht_report_names *names,
                           const struct options *options,
                           struct ht_error *err);
/* --pdf, or an output whose name ends in .pdf. */
bool pdf_wanted(const struct options *options);

#endif
