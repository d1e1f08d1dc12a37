/* sheet_case.h - what the tests of this room share. */
#ifndef HALFTURN_TESTS_DOCUMENT_SHEET_CASE_H
#define HALFTURN_TESTS_DOCUMENT_SHEET_CASE_H

#include "close.h"

#include "halfturn/sheet.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FULL_SHEET HALFTURN_SOURCE_DIR "/tests/document/full.yaml"

/* The bytes of a file; release with free. */
static inline char *file_bytes(const char *path, size_t *length)
{
    enum { MOST = 1 << 20 };
    FILE *file = fopen(path, "rb");
    char *bytes = malloc(MOST);
    if (!file || !bytes)
        fail_msg("%s cannot be read", path);
    *length = fread(bytes, 1, MOST - 1, file);
    bytes[*length] = '\0';
    (void)fclose(file);
    return bytes;
}

/* Reads a sheet that must be fine. */
static inline void read_good(struct ht_sheet *sheet, const char *text)
{
    struct ht_error err = { 0 };
    if (ht_sheet_read_text(sheet, "good.yaml", text, strlen(text), NULL,
                           &err) != HT_OK)
        fail_msg("%s", err.text);
}

/* All that is said about a bad one, as people see it. */
static inline void problems_of(struct ht_text *out, const char *text,
                               size_t length)
{
    static struct ht_problems problems;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    enum ht_status status =
        ht_sheet_read_text(&sheet, "bad.yaml", text, length, &problems, &err);
    assert_int_equal(status, HT_BAD_FILE);
    assert_int_equal(err.status, HT_BAD_FILE);
    assert_null(sheet.memory);
    assert_null(sheet.title);
    assert_int_equal(sheet.angles_count, 0);
    ht_problems_write(out, &problems);
    ht_sheet_free(&sheet);
}

/* The first problem's text alone. */
static inline void assert_first_problem(const char *text, const char *wanted)
{
    static struct ht_problems problems;
    struct ht_sheet sheet;
    enum ht_status status = ht_sheet_read_text(&sheet, "bad.yaml", text,
                                               strlen(text), &problems, NULL);
    assert_int_equal(status, HT_BAD_FILE);
    assert_true(problems.found > 0);
    assert_string_equal(problems.problem[0].error.text, wanted);
}

#endif
