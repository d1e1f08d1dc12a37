/* Answers to `halfturn new`: lines, the first for question 1 and so on. What is
 * refused leaves the sheet as it was; what is accepted is written as YAML that
 * reads back equal. */
#include "harness.h"

#include "command/new/draft.h"

#include <stdlib.h>
#include <string.h>

static bool no_memory(enum ht_status status)
{
    return status == HT_NO_MEMORY;
}

/* The sheet as JSON; NULL when an allocation was refused. */
static char *json_of(const struct ht_sheet *sheet)
{
    struct ht_text text = { 0 };
    struct ht_error err = { 0 };
    enum ht_status status = ht_sheet_write_json(&text, sheet, &err);
    FUZZ_DEMAND(status == HT_OK || no_memory(status));
    char *copy = status == HT_OK && ht_text_ok(&text)
                     ? strdup(ht_text_get(&text))
                     : NULL;
    ht_text_free(&text);
    return copy;
}

/* *before: the sheet as JSON as far as that is known; NULL: to be made. */
static void answer_one(struct ht_sheet *sheet, const struct question *question,
                       const char *answer, char **before)
{
    struct ht_text keys = { 0 };
    struct ht_error err = { 0 };
    if (!*before)
        *before = json_of(sheet);
    enum ht_status status = draft_keys(&keys, sheet, question, answer, &err);
    if (status == HT_OK && ht_text_ok(&keys))
        status = ht_sheet_add_text(sheet, "answer", ht_text_get(&keys),
                                   keys.length, NULL, &err);
    FUZZ_DEMAND(status == HT_OK || status == HT_BAD_USE ||
                status == HT_BAD_FILE || no_memory(status));
    FUZZ_DEMAND(status == HT_OK || err.text[0] != '\0');
    char *after = json_of(sheet);
    if (status != HT_OK && *before && after)
        FUZZ_DEMAND(strcmp(*before, after) == 0);
    free(*before);
    *before = after;
    ht_text_free(&keys);
}

static void write_and_read(const struct ht_sheet *sheet)
{
    struct ht_text yaml = { 0 };
    struct ht_error err = { 0 };
    struct ht_sheet again;
    enum ht_status status = ht_sheet_write_yaml(&yaml, sheet, &err);
    if (status == HT_OK && ht_text_ok(&yaml))
        status = ht_sheet_read_text(&again, "again", ht_text_get(&yaml),
                                    yaml.length, NULL, &err);
    FUZZ_DEMAND(status == HT_OK || no_memory(status));
    if (status == HT_OK) {
        char *a = json_of(sheet), *b = json_of(&again);
        FUZZ_DEMAND(!a || !b || strcmp(a, b) == 0);
        free(a);
        free(b);
        ht_sheet_free(&again);
    }
    ht_text_free(&yaml);
}

static void read_answers(const char *bytes, size_t length)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    char *text = strndup(bytes, length);
    FUZZ_DEMAND(text != NULL);
    enum ht_status status = ht_sheet_open(&sheet, &err);
    FUZZ_DEMAND(status == HT_OK || no_memory(status));
    char *line = text, *before = NULL;
    for (size_t q = 0; status == HT_OK && line && q < QUESTIONS; q++) {
        char *end = strchr(line, '\n');
        if (end)
            *end = '\0';
        if (line[0] && strlen(line) < 1023) /* longer ones are not asked */
            answer_one(&sheet, &questions[q], line, &before);
        line = end ? end + 1 : NULL;
    }
    if (status == HT_OK) {
        write_and_read(&sheet);
        ht_sheet_free(&sheet);
    }
    free(before);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_answers, data, size);
}
