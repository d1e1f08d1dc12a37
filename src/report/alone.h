/* alone.h - a figure of the page as a file of its own. */
#ifndef HALFTURN_REPORT_ALONE_H
#define HALFTURN_REPORT_ALONE_H

#include "halfturn/status.h"
#include "halfturn/text.h"

struct alone {
    const char *title;          /* "Side view" */
    const char *of;             /* which case and set of readings */
    const char *caption;        /* what its signs mean; may be "" */
};
/* From one <svg> as the figures write it: with its own colours (light), fonts
 * by name, no style sheet, so that every viewer shows it; a title and a
 * description for who cannot see it. Without memory `out` is a failed text. */
enum ht_status figure_alone(struct ht_text *out, const struct ht_text *svg,
                            const struct alone *about, struct ht_error *err);
/* The elements of one alone, with their own colours. False: not a figure's. */
bool figure_styled(struct ht_text *out, const struct ht_text *elements);

#endif
