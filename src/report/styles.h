/* styles.h - what the style sheet of the figures gives an element, as
 * attributes: a figure that leaves the page takes its colours along.
 */
#ifndef HALFTURN_REPORT_STYLES_H
#define HALFTURN_REPORT_STYLES_H

#include "tags.h"

/* Both as bytes ended by 0. */
extern const char ht_figure_css[], ht_figure_css_end[];
extern const char ht_report_css[], ht_report_css_end[];

/* Appends ` fill="#14202C"` and so on, in the light palette. Returns whether
 * it has a stroke. */
bool style_attributes(struct ht_text *out, const struct piece *element,
                      const struct piece *classes);
/* The same without what draws its outline. */
void style_without_stroke(struct ht_text *out, const struct piece *element,
                          const struct piece *classes);

#endif
