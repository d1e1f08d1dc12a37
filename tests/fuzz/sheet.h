/* sheet.h - the demands on a sheet, for its two forms. */
#ifndef HALFTURN_TESTS_FUZZ_SHEET_H
#define HALFTURN_TESTS_FUZZ_SHEET_H

#include "harness.h"

#include "common/memory.h"
#include "halfturn/sheet.h"

#include <string.h>

/* What was accepted can be stored, and comes back the same. */
static inline void sheet_must_come_back(const struct ht_sheet *sheet)
{
    struct ht_text first = { 0 }, second = { 0 };
    struct ht_error err = { 0 };
    struct ht_sheet again;
    enum ht_status status = ht_sheet_write_json(&first, sheet, &err);
    if (fuzz_was_read(status, &err)) {
        status = ht_sheet_read_text(&again, "again", first.bytes,
                                    first.length, NULL, &err);
        if (status != HT_OK)
            FUZZ_DEMAND(ht_memory_permit || status == HT_TOO_BIG);
        else if (ht_sheet_write_json(&second, &again, &err) == HT_OK)
            FUZZ_DEMAND(strcmp(first.bytes, second.bytes) == 0);
        else
            FUZZ_DEMAND(ht_memory_permit);
        ht_sheet_free(&again);
    } else {
        FUZZ_DEMAND(first.length == 0);
    }
    ht_text_free(&first);
    ht_text_free(&second);
}

static inline void sheet_read(const char *bytes, size_t length)
{
    static struct ht_problems problems;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    struct ht_text out = { 0 };
    enum ht_status status = ht_sheet_read_text(&sheet, "fuzz", bytes, length,
                                               &problems, &err);
    if (fuzz_was_read(status, &err)) {
        FUZZ_DEMAND(problems.found == 0);
        sheet_must_come_back(&sheet);
    } else {
        FUZZ_DEMAND(!sheet.memory && !sheet.title && sheet.drive_count == 0);
        FUZZ_DEMAND(status != HT_BAD_FILE || problems.found > 0);
        FUZZ_DEMAND(problems.kept <= problems.found);
        ht_problems_write(&out, &problems);
        FUZZ_DEMAND(ht_text_ok(&out) || ht_memory_permit);
    }
    ht_text_free(&out);
    ht_sheet_free(&sheet);
}

#endif
