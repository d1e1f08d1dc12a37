/* paint.h - a figure as pixels, or on a page of paper.
 *
 * Paints what figure_alone (alone.h) writes and nothing else: the elements and
 * attributes that the figures use, numbers without units.
 */
#ifndef HALFTURN_REPORT_PAINT_H
#define HALFTURN_REPORT_PAINT_H

#include "halfturn/status.h"
#include "halfturn/text.h"

enum { PAINT_SCALE = 2 }; /* pixels to one of the figure's */

/* A PNG. HT_CANNOT_READ when no font is installed; HT_BUG for a figure with
 * something in it that is not known here. */
enum ht_status paint_png(struct ht_text *out, const struct ht_text *svg,
                         struct ht_error *err);

/* Elements with their own colours (figure_styled in alone.h), in the place and
 * size of the paper's cairo; `across` of the paper is their width. False:
 * something that is not known here. */
struct paper;
bool paint_on_paper(struct paper *paper, const char *elements);

#endif
