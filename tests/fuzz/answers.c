/* Answers to `halfturn new`: lines, the first for question 1 and so on. What is
 * refused leaves the sheet as it was; what is accepted is written as YAML that
 * reads back equal. */
#include "harness.h"

#include "command/new/draft.h"
#include "common/memory.h"
#include "document/field.h"
#include "workup/slice.h"

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

/* What the sheet's lists and texts hold, outside the sheet itself. */
static void hash_lists(struct ht_digest *digest, const struct ht_schema *schema,
                       const void *record)
{
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        const void *field = (const char *)record + row->at;
        const struct ht_schema one = { .size = schema->size, .rows = row,
                                       .row_count = 1 };
        if (row->at >= schema->size)
            continue; /* of a scratch struct */
        if (row->kind == HT_IS_MAP)
            hash_lists(digest, row->child, field);
        else if (row->kind == HT_IS_TEXT ? *(const char *const *)field != NULL
                                         : ht_field_is_counted(row))
            ht_slice_hash(digest, record, &one);
    }
}

static bool add_lists(struct ht_digest *digest, const void *sheet)
{
    hash_lists(digest, ht_sheet_schema(), sheet);
    return true;
}

static struct ht_key lists_of(const struct ht_sheet *sheet)
{
    struct ht_key key;
    FUZZ_DEMAND(ht_digest_make(&key, "", "", add_lists, sheet));
    return key;
}

/* Refused: the sheet is as it was, and so is what it points to. */
static enum ht_status add_keys(struct ht_sheet *sheet,
                               const struct ht_text *keys,
                               struct ht_error *err)
{
    static struct ht_sheet before;
    struct ht_key lists = lists_of(sheet), lists_now;
    memcpy(&before, sheet, sizeof before);
    enum ht_status status = ht_sheet_add_text(
        sheet, "answer", ht_text_get(keys), keys->length, NULL, err);
    if (status != HT_OK) {
        FUZZ_DEMAND(memcmp(&before, sheet, sizeof before) == 0);
        lists_now = lists_of(sheet);
        FUZZ_DEMAND(memcmp(&lists, &lists_now, sizeof lists) == 0);
    }
    return status;
}

/* An answer that gives no keys never meets the sheet but as a constant. *said:
 * a hash of the keys that were taken so far. */
static void answer_one(struct ht_sheet *sheet, const struct question *question,
                       const char *answer, uint64_t *said)
{
    struct ht_text keys = { 0 };
    struct ht_error err = { 0 };
    enum ht_status status = draft_keys(&keys, sheet, question, answer, &err);
    if (status == HT_OK && ht_text_ok(&keys))
        status = add_keys(sheet, &keys, &err);
    FUZZ_DEMAND(status == HT_OK || status == HT_BAD_USE ||
                status == HT_BAD_FILE || no_memory(status));
    FUZZ_DEMAND(status == HT_OK || err.text[0] != '\0');
    if (status == HT_OK)
        *said = fuzz_hash(*said, ht_text_get(&keys), keys.length);
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

/* The keys that were taken, in their order, are all that the sheet is made of:
 * after the same keys it is the same. Notes them. */
static bool came_back_before(uint64_t said)
{
    static uint64_t known[1 << 16];
    uint64_t *place = &known[said % (sizeof known / sizeof known[0])];
    bool before = *place == said;
    *place = said;
    return before;
}

static void read_answers(const char *bytes, size_t length)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    char *text = strndup(bytes, length);
    FUZZ_DEMAND(text != NULL);
    enum ht_status status = ht_sheet_open(&sheet, &err);
    FUZZ_DEMAND(status == HT_OK || no_memory(status));
    char *line = text;
    uint64_t said = FUZZ_HASH_START;
    for (size_t q = 0; status == HT_OK && line && q < QUESTIONS; q++) {
        char *end = strchr(line, '\n');
        if (end)
            *end = '\0';
        if (line[0] && strlen(line) < 1023) /* longer ones are not asked */
            answer_one(&sheet, &questions[q], line, &said);
        line = end ? end + 1 : NULL;
    }
    if (status == HT_OK) {
        if (ht_memory_permit || !came_back_before(said))
            write_and_read(&sheet);
        ht_sheet_free(&sheet);
    }
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_answers, data, size);
}
