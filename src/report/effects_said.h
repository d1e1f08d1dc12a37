/* effects_said.h - what the angles do, for text and page alike. */
#ifndef HALFTURN_REPORT_EFFECTS_SAID_H
#define HALFTURN_REPORT_EFFECTS_SAID_H

#include "halfturn/text.h"
#include "halfturn/workup.h"

/* One line each, ended by '\n'; nothing for a line without effects. */
void say_effects(struct ht_text *out, const struct ht_workup *workup,
                 size_t line);

#endif
