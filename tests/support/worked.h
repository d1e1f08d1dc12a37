/* worked.h - one sheet, given as text, and its workup: for a test file that
 * works up one after another. `begin` and `end` go around each test. */
#ifndef HALFTURN_TESTS_WORKED_H
#define HALFTURN_TESTS_WORKED_H

#include "close.h"

#include "halfturn/report.h"

#include <stdlib.h>
#include <string.h>

static struct ht_sheet sheet;
static struct ht_workup *workup;
static struct ht_text text;

static inline int begin(void **state)
{
    (void)state;
    workup = calloc(1, sizeof *workup);
    return workup ? 0 : -1;
}

static inline int end(void **state)
{
    (void)state;
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    ht_text_free(&text);
    free(workup);
    return 0;
}

/* Without a drive; what came before is gone. */
static inline void work(const char *body)
{
    struct ht_workup_options options = { .causes = true };
    struct ht_error err = { 0 };
    ht_workup_free(workup);
    ht_sheet_free(&sheet);
    if (ht_sheet_read_text(&sheet, "test", body, strlen(body), NULL, &err) !=
            HT_OK ||
        ht_workup_run(workup, &sheet, &options, &err) != HT_OK)
        fail_msg("%s", err.text);
}

#endif
