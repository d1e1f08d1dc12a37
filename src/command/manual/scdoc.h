/* scdoc.h - plain text in the source of a manual page, as scdoc 1.11 reads it
 * (scdoc(5)): nothing in it becomes a mark. Whatever comes from a table goes
 * through here.
 */
#ifndef HALFTURN_COMMAND_SCDOC_H
#define HALFTURN_COMMAND_SCDOC_H

#include "halfturn/text.h"

/* Prose, in the middle of a line or at its start; blanks at the start are left
 * out, and what would end the line is a blank. */
void scdoc_text(struct ht_text *text, const char *plain, size_t length);
void scdoc_bold(struct ht_text *text, const char *plain);
void scdoc_underlined(struct ht_text *text, const char *plain);

/* A block that is shown as it stands; a line of such a block. */
void scdoc_literal(struct ht_text *text, const char *lines);
void scdoc_literal_line(struct ht_text *text, const char *line, size_t length);

#endif
