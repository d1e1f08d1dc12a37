/* questions.h - the questions of `halfturn new`: at most ten, each answered in
 * one line standing beside the vehicle. */
#ifndef HALFTURN_COMMAND_QUESTIONS_H
#define HALFTURN_COMMAND_QUESTIONS_H

#include "halfturn/json.h"
#include "halfturn/sheet.h"
#include "halfturn/status.h"

#include <stdbool.h>
#include <stddef.h>

enum { QUESTIONS = 10 };

struct question {
    const char *text, *example;
    const char *recorded_text, *recorded_example; /* when the recording is
                           known already; NULL: the same */
    bool standing;      /* the caution for work under the vehicle goes first */
    bool drive;         /* the answer names files: they are read */
    bool (*known)(const struct ht_sheet *sheet);
    /* Puts the answer under its keys; values are judged by the sheet's reader.
     * HT_BAD_USE with a sentence for what has no key. */
    enum ht_status (*put)(struct ht_json *json, const struct ht_sheet *sheet,
                          const char *answer, struct ht_error *err);
};

extern const struct question questions[QUESTIONS];

#endif
