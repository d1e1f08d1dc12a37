/* status.h, number.h, text.h, json.h */
#include "row.h"

#include "halfturn/document.h"
#include "halfturn/json.h"
#include "halfturn/number.h"
#include "halfturn/text.h"

#include <string.h>

static enum ht_status say_failures(struct ht_error *err)
{
    watch_begin();
    enum ht_status status = ht_fail(err, HT_BAD_FILE, "%s", "no");
    ROW_DEMAND(status == HT_BAD_FILE);
    status = ht_fail_at_line(err, 3, 1, HT_TOO_BIG, "%d", 5);
    ROW_DEMAND(status == HT_TOO_BIG && ht_status_exit_code(status) == 65);
    ROW_DEMAND(ht_status_name(status)[0] != '\0');
    ROW_DEMAND(ht_goes_on(NULL));
    watch_end();
    return HT_OK;
}

static enum ht_status read_numbers(struct ht_error *err)
{
    double value = 0;
    (void)err;
    watch_begin();
    ROW_DEMAND(ht_number_read("2.5", 3, &value) == HT_NUMBER_FINE);
    ROW_DEMAND(ht_number_read_mark("2,5", 3, ',', &value) == HT_NUMBER_FINE);
    ROW_DEMAND(ht_number_read_degrees("1d30", 4, &value) == HT_NUMBER_FINE);
    watch_end();
    return HT_OK;
}

/* ---- text -------------------------------------------------------------- */

enum ht_status row_text(struct ht_text *text)
{
    bool fine = ht_text_ok(text);
    if (!fine)
        ROW_DEMAND(text->length == 0 && !text->bytes &&
                   ht_text_get(text)[0] == '\0');
    ht_text_free(text);
    return fine ? HT_OK : HT_NO_MEMORY;
}

static enum ht_status add_text(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)err;
    watch_begin();
    for (int i = 0; i < 5; i++)
        ht_text_add(&text, "twelve bytes");
    watch_end();
    return row_text(&text);
}

static enum ht_status add_bytes(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)err;
    watch_begin();
    for (int i = 0; i < 5; i++)
        ht_text_add_bytes(&text, "twelve bytes", 12);
    watch_end();
    return row_text(&text);
}

static enum ht_status add_formatted(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)err;
    watch_begin();
    for (int i = 0; i < 5; i++)
        ht_text_addf(&text, "%d bytes in here", i);
    watch_end();
    return row_text(&text);
}

static enum ht_status add_number(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)err;
    watch_begin();
    for (int i = 0; i < 5; i++)
        ht_text_number(&text, 1.5 * i, 6);
    watch_end();
    return row_text(&text);
}

static enum ht_status add_significant(struct ht_error *err)
{
    struct ht_text text = { 0 };
    (void)err;
    watch_begin();
    for (int i = 0; i < 5; i++)
        ht_text_significant(&text, 1.5 * i, 9);
    watch_end();
    return row_text(&text);
}

static enum ht_status ask_text(struct ht_error *err)
{
    struct ht_text whole = { 0 }, piece = { 0 };
    char buffer[40];
    (void)err;
    ht_text_add(&piece, "piece");
    watch_begin();
    ROW_DEMAND(ht_text_ok(&piece));
    ROW_DEMAND(strcmp(ht_text_get(&piece), "piece") == 0);
    ht_text_end(&whole, &piece);
    ROW_DEMAND(ht_text_ok(&whole));
    ht_text_fail(&whole);
    ROW_DEMAND(!ht_text_ok(&whole));
    ht_text_free(&whole);
    ht_format_number(buffer, sizeof buffer, 2.5, 3);
    ht_format_significant(buffer, sizeof buffer, 2.5, 3);
    ROW_DEMAND(strcmp(buffer, "2.50") == 0);
    watch_end();
    return HT_OK;
}

/* ---- JSON -------------------------------------------------------------- */

static enum ht_status create_json(struct ht_error *err)
{
    (void)err;
    watch_begin();
    struct ht_json *json = ht_json_create();
    watch_end();
    enum ht_status status = json ? HT_OK : HT_NO_MEMORY;
    ht_json_free(json);
    return status;
}

static struct ht_json *write_json(void)
{
    struct ht_json *json = ht_json_create();
    ROW_DEMAND(json != NULL);
    watch_begin();
    ht_json_open_map(json, "map");
    ht_json_open_list(json, "list");
    ht_json_number(json, NULL, 2.5);
    ht_json_close(json);
    ht_json_count(json, "count", 3);
    ht_json_int(json, "whole", -3);
    ht_json_bool(json, "bool", true);
    ht_json_null(json, "null");
    ht_json_text(json, "text", "words");
    ht_json_close(json);
    ht_json_record(json, "sheet", ht_sheet_schema(), &given.sheet);
    ht_json_rows(json, ht_sheet_schema(), &given.sheet);
    watch_end();
    return json;
}

/* The values are the foreign library's; nothing of ours is asked for. */
static enum ht_status write_and_free_json(struct ht_error *err)
{
    struct ht_json *json = write_json();
    (void)err;
    watch_begin();
    ht_json_free(json);
    watch_end();
    return HT_OK;
}

static enum ht_status finish_json(struct ht_error *err)
{
    struct ht_text out = { 0 };
    struct ht_json *json = ht_json_create();
    for (int i = 0; i < 20; i++) {
        char key[8] = { 'k', (char)('a' + i), 0 };
        ht_json_text(json, key, "a text of some length");
    }
    watch_begin();
    enum ht_status status = ht_json_finish(json, &out, err);
    watch_end();
    ROW_DEMAND(status == HT_OK || out.length == 0);
    ht_text_free(&out);
    return status;
}

const struct row rows_text[] = {
    { "ht_goes_on", NO_MEMORY_NEEDED, say_failures },
    { "ht_fail", NO_MEMORY_NEEDED, say_failures },
    { "ht_fail_at_line", NO_MEMORY_NEEDED, say_failures },
    { "ht_status_exit_code", NO_MEMORY_NEEDED, say_failures },
    { "ht_status_name", NO_MEMORY_NEEDED, say_failures },
    { "ht_number_read", NO_MEMORY_NEEDED, read_numbers },
    { "ht_number_read_mark", NO_MEMORY_NEEDED, read_numbers },
    { "ht_number_read_degrees", NO_MEMORY_NEEDED, read_numbers },
    { "ht_text_add", ALLOCATES, add_text },
    { "ht_text_add_bytes", ALLOCATES, add_bytes },
    { "ht_text_addf", ALLOCATES, add_formatted },
    { "ht_text_number", ALLOCATES, add_number },
    { "ht_text_significant", ALLOCATES, add_significant },
    { "ht_text_ok", NO_MEMORY_NEEDED, ask_text },
    { "ht_text_get", NO_MEMORY_NEEDED, ask_text },
    { "ht_text_end", NO_MEMORY_NEEDED, ask_text },
    { "ht_text_fail", NO_MEMORY_NEEDED, ask_text },
    { "ht_text_free", NO_MEMORY_NEEDED, ask_text },
    { "ht_format_number", NO_MEMORY_NEEDED, ask_text },
    { "ht_format_significant", NO_MEMORY_NEEDED, ask_text },
    { "ht_json_create", ALLOCATES, create_json },
    { "ht_json_open_map", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_open_list", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_close", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_number", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_count", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_int", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_bool", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_null", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_text", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_record", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_rows", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_free", NO_MEMORY_NEEDED, write_and_free_json },
    { "ht_json_finish", ALLOCATES, finish_json },
    { 0 },
};
