/* manual.h - manual pages as scdoc source, from the tables of commands and
 * options and from the sheet's page: what they say cannot drift. */
#ifndef HALFTURN_COMMAND_MANUAL_H
#define HALFTURN_COMMAND_MANUAL_H

#include "halfturn/text.h"

#include <stdbool.h>

/* The names of all pages, one a line: "halfturn.1", "halfturn-sheet.5". */
void manual_list(struct ht_text *text);

/* One of them; false: there is none of that name. */
bool manual_write(struct ht_text *text, const char *page);

/* The body of halfturn-sheet(5): the Markdown of ht_sheet_page in scdoc's
 * form. */
void manual_sheet(struct ht_text *text);

#endif
