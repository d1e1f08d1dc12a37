/* document.h, sheet.h */
#include "row.h"

#include "halfturn/document.h"
#include "halfturn/sheet.h"

#include <stdlib.h>
#include <string.h>

/* A small table of our own, so that `finish` can be watched. */
struct note {
    const char *text;
    void *extra;
};
enum what { NOTHING_WATCHED, ASKING, GETTING };
static enum what watched;

static void finish_note(struct ht_finish *finish, void *record)
{
    struct note *note = record;
    if (watched == ASKING) {
        watch_begin();
        ROW_DEMAND(ht_finish_has(finish, "text"));
        ht_finish_problem(finish, "text", HT_BAD_FILE, "not %s", "so");
        watch_end();
    }
    if (watched == GETTING) {
        watch_begin();
        /* larger than what the arena has room for already */
        note->extra = ht_finish_get(finish, 100000, 1);
        watch_end();
    }
}

static const struct ht_row note_rows[] = {
    { "text", HT_IS_TEXT, .at = offsetof(struct note, text), .help = "Any" },
};
static const struct ht_schema note_schema = {
    HT_SCHEMA("note", "A note.", note_rows, struct note),
    .finish = finish_note
};
static const char note_text[] = "text: some words\n";

static enum ht_status read_note(struct ht_error *err, enum what what)
{
    struct note note;
    void *memory = NULL;
    struct ht_source source = { "note", note_text, sizeof note_text - 1, 0 };
    watched = what;
    if (what == NOTHING_WATCHED)
        watch_begin();
    enum ht_status status =
        ht_document_read(&note, &memory, &note_schema, &source, NULL, err);
    if (what == NOTHING_WATCHED)
        watch_end();
    ROW_DEMAND(status == HT_OK || (!memory && !note.text));
    ht_document_free(&memory);
    return status;
}

static enum ht_status read_document(struct ht_error *err)
{
    return read_note(err, NOTHING_WATCHED);
}

static enum ht_status get_for_record(struct ht_error *err)
{
    return read_note(err, GETTING);
}

static enum ht_status ask_finish(struct ht_error *err)
{
    ROW_DEMAND(read_note(err, ASKING) == HT_BAD_FILE);
    *err = (struct ht_error){ 0 };
    return HT_OK;
}

static enum ht_status clear_and_free(struct ht_error *err)
{
    static const char *const names[] = { "engine", "shaft", NULL };
    struct note note;
    void *memory = NULL;
    struct ht_source source = { "note", note_text, sizeof note_text - 1, 0 };
    watched = NOTHING_WATCHED;
    enum ht_status status =
        ht_document_read(&note, &memory, &note_schema, &source, NULL, err);
    watch_begin();
    ht_document_free(&memory);
    ht_record_clear(&note, &note_schema);
    const char *near = ht_nearest_name("enigne", names);
    watch_end();
    ROW_DEMAND(!memory && !note.text && near == names[0]);
    return status;
}

static enum ht_status write_page(struct ht_error *err)
{
    struct ht_text out = { 0 };
    (void)err;
    watch_begin();
    ht_schema_page(&out, ht_sheet_schema());
    watch_end();
    return row_text(&out);
}

static enum ht_status write_sheet_page(struct ht_error *err)
{
    struct ht_text out = { 0 };
    (void)err;
    watch_begin();
    ht_sheet_page(&out);
    watch_end();
    return row_text(&out);
}

static enum ht_status write_problems(struct ht_error *err)
{
    static struct ht_problems problems;
    static const char bad[] = "halfturn: 1\nvehicle: {tyer: 5, gears: x}\n";
    struct ht_sheet sheet;
    struct ht_text out = { 0 };
    ROW_DEMAND(ht_sheet_read_text(&sheet, "bad", bad, sizeof bad - 1,
                                  &problems, err) == HT_BAD_FILE);
    ROW_DEMAND(problems.kept == 2);
    *err = (struct ht_error){ 0 };
    watch_begin();
    ht_problems_write(&out, &problems);
    watch_end();
    return row_text(&out);
}

/* ---- the sheet --------------------------------------------------------- */

static void demand_empty(const struct ht_sheet *sheet)
{
    ROW_DEMAND(!sheet->memory && !sheet->title && !sheet->drives);
    ROW_DEMAND(sheet->drive_count == 0 && sheet->angles_count == 0);
}

static enum ht_status read_sheet(struct ht_error *err)
{
    struct ht_sheet sheet;
    watch_begin();
    enum ht_status status =
        ht_sheet_read(&sheet, given.sheet_path, NULL, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&sheet);
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status read_sheet_text(struct ht_error *err)
{
    struct ht_sheet sheet;
    watch_begin();
    enum ht_status status =
        ht_sheet_read_text(&sheet, "text", given.sheet_text,
                           given.sheet_length, NULL, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&sheet);
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status write_sheet(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status = ht_sheet_write_json(&out, &given.sheet, err);
    watch_end();
    ROW_DEMAND(status == HT_OK || out.length == 0);
    ht_text_free(&out);
    return status;
}

static enum ht_status write_sheet_yaml(struct ht_error *err)
{
    struct ht_text out = { 0 };
    watch_begin();
    enum ht_status status = ht_sheet_write_yaml(&out, &given.sheet, err);
    watch_end();
    ROW_DEMAND(status == HT_OK || out.length == 0);
    ht_text_free(&out);
    return status;
}

static enum ht_status open_sheet(struct ht_error *err)
{
    struct ht_sheet sheet;
    watch_begin();
    enum ht_status status = ht_sheet_open(&sheet, err);
    watch_end();
    if (status != HT_OK)
        demand_empty(&sheet);
    ht_sheet_free(&sheet);
    return status;
}

/* On failure the sheet stays as it was: without a title. */
static enum ht_status add_to_sheet(struct ht_error *err)
{
    struct ht_sheet sheet;
    enum ht_status status = ht_sheet_open(&sheet, err);
    ROW_DEMAND(status == HT_OK);
    watch_begin();
    status = ht_sheet_add_text(&sheet, "text", given.sheet_text,
                               given.sheet_length, NULL, err);
    watch_end();
    ROW_DEMAND((sheet.title != NULL) == (status == HT_OK));
    ROW_DEMAND((sheet.driveline_count > 0) == (status == HT_OK));
    ROW_DEMAND(sheet.version > 0 && sheet.memory);
    ht_sheet_free(&sheet);
    return status;
}

static enum ht_status clear_sheet(struct ht_error *err)
{
    struct ht_sheet sheet;
    enum ht_status status =
        ht_sheet_read(&sheet, given.sheet_path, NULL, err);
    watch_begin();
    ht_sheet_free(&sheet);
    ht_sheet_clear(&sheet);
    ROW_DEMAND(ht_sheet_schema()->row_count > 0);
    watch_end();
    demand_empty(&sheet);
    return status;
}

const struct row rows_document[] = {
    { "ht_document_read", ALLOCATES, read_document },
    { "ht_document_free", NO_MEMORY_NEEDED, clear_and_free },
    { "ht_record_clear", NO_MEMORY_NEEDED, clear_and_free },
    { "ht_nearest_name", NO_MEMORY_NEEDED, clear_and_free },
    { "ht_finish_problem", NO_MEMORY_NEEDED, ask_finish },
    { "ht_finish_has", NO_MEMORY_NEEDED, ask_finish },
    { "ht_finish_get", ALLOCATES, get_for_record },
    { "ht_problems_write", ALLOCATES, write_problems },
    { "ht_schema_page", ALLOCATES, write_page },
    { "ht_sheet_page", ALLOCATES, write_sheet_page },
    { "ht_sheet_read", ALLOCATES, read_sheet },
    { "ht_sheet_read_text", ALLOCATES, read_sheet_text },
    { "ht_sheet_write_json", ALLOCATES, write_sheet },
    { "ht_sheet_write_yaml", ALLOCATES, write_sheet_yaml },
    { "ht_sheet_open", ALLOCATES, open_sheet },
    { "ht_sheet_add_text", ALLOCATES, add_to_sheet },
    { "ht_sheet_free", NO_MEMORY_NEEDED, clear_sheet },
    { "ht_sheet_clear", NO_MEMORY_NEEDED, clear_sheet },
    { "ht_sheet_schema", NO_MEMORY_NEEDED, clear_sheet },
    { 0 },
};
