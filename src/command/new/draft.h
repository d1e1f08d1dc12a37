/* draft.h - a case sheet that grows answer by answer; each answer is tried by
 * the sheet's reader and by the workup before it is kept. */
#ifndef HALFTURN_COMMAND_DRAFT_H
#define HALFTURN_COMMAND_DRAFT_H

#include "questions.h"

#include "halfturn/sheet.h"
#include "halfturn/status.h"

#include <stdbool.h>

struct draft {
    struct ht_sheet sheet;
    char folder[4096];      /* where it will lie */
    bool progress;          /* may be shown on the terminal */
};

/* `from` NULL: nothing is known. Else a case sheet, whose vehicle, driveline
 * and limits are taken, or a recording; which one is found by reading it. */
enum ht_status draft_open(struct draft *draft, const char *path,
                          const char *from, bool progress,
                          struct ht_error *err);

/* Puts an answer in; on any failure nothing has changed. */
enum ht_status draft_try(struct draft *draft, const struct question *question,
                         const char *answer, struct ht_error *err);

/* The answer under its keys, as a text that ht_sheet_add_text takes. */
enum ht_status draft_keys(struct ht_text *text, const struct ht_sheet *sheet,
                          const struct question *question, const char *answer,
                          struct ht_error *err);
void draft_free(struct draft *draft);

#endif
