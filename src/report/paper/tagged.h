/* tagged.h - what Cairo 1.16 leaves out of a tagged PDF (ISO 32000-1, 14.8).
 *
 * Cairo writes the structure tree; the words that stand for a figure, which
 * cells a head is of, the language, and that the rest of a page is an artifact
 * it does not know. The only file that knows the PDF library is tagged.c.
 */
#ifndef HALFTURN_REPORT_TAGGED_H
#define HALFTURN_REPORT_TAGGED_H

#include "halfturn/status.h"
#include "halfturn/text.h"

/* Appends the PDF of Cairo to `out` with all that. `alternatives`: a line for
 * each Figure of the tree, in its order. Same input, same bytes. */
enum ht_status tagged_finish(struct ht_text *out, const struct ht_text *pdf,
                             const struct ht_text *alternatives,
                             struct ht_error *err);

/* A page's content with whatever no tag holds marked as an artifact. Cairo
 * begins no marked content within a text object. (artifacts.c) */
void mark_artifacts(struct ht_text *out, const char *content, size_t length);

#endif
