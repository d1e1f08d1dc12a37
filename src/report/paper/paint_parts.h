/* paint_parts.h - values of attributes that are small languages of their own.
 */
#ifndef HALFTURN_REPORT_PAINT_PARTS_H
#define HALFTURN_REPORT_PAINT_PARTS_H

#include "report/tags.h"

#include <cairo.h>

/* SVG 1.1, section 8.3: M L H V A Z, and z l h v a; arcs of circles. False:
 * something else. */
bool paint_trace(cairo_t *cairo, struct piece d);
/* translate(x y), rotate(degrees), scale(x y), one behind the other. */
bool paint_transform(cairo_t *cairo, struct piece list);
/* A PNG in a data: address; an empty surface where it is none. */
cairo_surface_t *paint_picture(struct piece address);

#endif
