/* The sheet's top level, its template, and what its parts owe each other. */
#include "sheet_tables.h"
#include "texts.h"

#include "common/limits.h"
#include "halfturn/json.h"
#include "halfturn/number.h"
#include "reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { VERSION = 1 };

static const struct ht_word setting_words[] = {
    { "complaint", HT_SETTING_COMPLAINT, "somebody complained" },
    { "fleet", HT_SETTING_FLEET, "a vehicle out of many, checked in turn" },
    { "course", HT_SETTING_COURSE, "a training case" },
    { 0 },
};

#define AT(field) offsetof(struct ht_sheet, field)
static const struct ht_row sheet_rows[] = {
    { "halfturn", HT_IS_NUMBER, .at = AT(version), .flags = HT_WHOLE,
      .help = "Version of this format: 1. Must be given" },
    { "title", HT_IS_TEXT, .at = AT(title), .help = "One line for people" },
    { "like", HT_IS_TEXT, .at = AT(like), .flags = HT_READ_ONLY,
      .help = "A template in the same folder; the keys here override it" },
    { "setting", HT_IS_WORD, .at = AT(setting), .words = setting_words,
      .help = "How likely it is beforehand that something is wrong" },
    { "identity", HT_IS_MAP, .at = AT(identity),
      .child = &ht_sheet_identity_schema, .help = "Which vehicle" },
    { "safety", HT_IS_MAP, .at = AT(safety), .child = &ht_sheet_safety_schema,
      .help = "What was confirmed before a drive" },
    { "vehicle", HT_IS_MAP, .at = AT(vehicle),
      .child = &ht_sheet_vehicle_schema, .help = "The vehicle" },
    { "driveline", HT_IS_MAPS, .at = AT(drivelines),
      .count_at = AT(driveline_count), .most = HT_DRIVELINES_MAX,
      .child = &ht_sheet_driveline_schema, .flags = HT_OR_ONE,
      .help = "Gearbox to axle; one, or a list" },
    { "angles", HT_IS_MAPS, .at = AT(angles), .count_at = AT(angles_count),
      .most = 40, .child = &ht_sheet_angles_schema, .flags = HT_OR_ONE,
      .help = "Gauge readings; one set, or a list (ride heights, before and "
              "after)" },
    { "complaint", HT_IS_MAP, .at = AT(complaint),
      .child = &ht_sheet_complaint_schema,
      .flags = HT_WHEN_MARKED | HT_KEEP_EMPTY, .mark_at = AT(complaint.given),
      .help = "What the customer says" },
    { "checks", HT_IS_MAP, .at = AT(checks), .child = &ht_sheet_checks_schema,
      .help = "What was measured or looked at" },
    { "drive", HT_IS_MAPS, .at = AT(drives), .count_at = AT(drive_count),
      .most = 20, .child = &ht_sheet_drive_schema, .flags = HT_OR_ONE,
      .help = "Recorded road test; one, or a list" },
    { "limits", HT_IS_MAP, .at = AT(limits), .child = &ht_sheet_limits_schema,
      .help = "Which limits to judge by" },
    { "next", HT_IS_MAP, .at = AT(next), .child = &ht_sheet_next_schema,
      .help = "What may be proposed" },
    { "shims", HT_IS_MAPS, .at = AT(shims), .count_at = AT(shim_count),
      .most = 20, .child = &ht_sheet_shim_schema, .flags = HT_OR_ONE,
      .help = "Shims on the shelf" },
    { "fitted", HT_IS_MAPS, .at = AT(fitted), .count_at = AT(fitted_count),
      .most = 6, .child = &ht_sheet_fitted_schema, .flags = HT_OR_ONE,
      .help = "Shims that were put in between two sets of angles" },
};
const struct ht_schema ht_sheet_top_schema = {
    HT_SCHEMA("sheet",
              "Everything but `halfturn` is optional. What is absent is "
              "unknown, never a "
              "convenient value. File names are relative to the sheet.",
              sheet_rows, struct ht_sheet),
    .finish = ht_sheet_finish,
};

const struct ht_schema *ht_sheet_schema(void)
{
    return &ht_sheet_top_schema;
}

void ht_sheet_clear(struct ht_sheet *sheet)
{
    ht_record_clear(sheet, &ht_sheet_top_schema);
}

void ht_sheet_free(struct ht_sheet *sheet)
{
    void *memory = sheet->memory;
    ht_document_free(&memory);
    ht_sheet_clear(sheet);
}

/* A newer sheet has keys this program cannot know: say only that. */
static bool is_newer(struct reading *reading)
{
    const struct node *node = NULL;
    double version = NAN;
    if (reading->root && reading->root->kind == NODE_MAP)
        node = ht_node_find(reading->root, "halfturn");
    if (!node || node->kind != NODE_SCALAR ||
        ht_number_read(node->text, node->length, &version) != HT_NUMBER_FINE ||
        !(version > VERSION))
        return false;
    ht_complain(reading, node, DOCUMENT_NEWER, node->text, VERSION);
    return true;
}

static enum ht_status fill(struct reading *reading, struct ht_sheet *sheet,
                           struct ht_error *err)
{
    reading->arena = sheet->memory;
    if (is_newer(reading))
        return ht_problems_as_error(reading->noter.problems, err);
    return ht_reading_fill(reading, &ht_sheet_top_schema, sheet, err);
}

static const struct node *like_of(const struct reading *reading)
{
    const struct node *node = NULL;
    if (reading->root && reading->root->kind == NODE_MAP)
        node = ht_node_find(reading->root, "like");
    return node && !ht_node_is_not_said(node) ? node : NULL;
}

static bool is_plain_name(const struct node *node)
{
    return node->kind == NODE_SCALAR && node->text[0] != '.' &&
           !strpbrk(node->text, "/\\");
}

static enum ht_status fill_from_template(struct ht_sheet *sheet,
                                         const char *path,
                                         struct ht_problems *problems,
                                         struct ht_error *err)
{
    struct reading reading;
    enum ht_status status = ht_reading_open(
        &reading, &(struct ht_source){ .name = path }, problems, err);
    const struct node *like = like_of(&reading);
    if (status == HT_OK && like) {
        ht_complain(&reading, like, DOCUMENT_LIKE_TWICE);
        status = ht_problems_as_error(problems, err);
    }
    if (status == HT_OK)
        status = fill(&reading, sheet, err);
    ht_reading_close(&reading);
    return status;
}

/* The template's path beside the sheet; a problem when it may not be read. */
static bool template_path(struct reading *reading, const char *sheet_path,
                          const struct node *like, char *path, size_t size)
{
    const char *slash = sheet_path ? strrchr(sheet_path, '/') : NULL;
    size_t folder = slash ? (size_t)(slash - sheet_path) + 1 : 0;
    if (!sheet_path)
        ht_complain(reading, like, DOCUMENT_LIKE_NO_FOLDER);
    else if (!is_plain_name(like))
        ht_complain(reading, like, DOCUMENT_LIKE_PATH);
    else if (folder + like->length + 1 > size)
        ht_complain(reading, like, DOCUMENT_LIKE_TOO_LONG, size - 1);
    else {
        (void)snprintf(path, size, "%.*s%s", (int)folder, sheet_path,
                       like->text);
        return true;
    }
    return false;
}

static enum ht_status fill_all(struct reading *reading, struct ht_sheet *sheet,
                               const char *path, struct ht_error *err)
{
    char template[1024];
    struct ht_problems *problems = reading->noter.problems;
    const struct node *like = like_of(reading);
    if (!like)
        return fill(reading, sheet, err);
    if (!template_path(reading, path, like, template, sizeof template))
        return ht_problems_as_error(problems, err);
    enum ht_status status = fill_from_template(sheet, template, problems, err);
    if (status != HT_OK)
        return status;
    ht_problems_of(problems, reading->source.name);
    reading->over = true;
    return fill(reading, sheet, err);
}

static enum ht_status read_sheet(struct ht_sheet *sheet, const char *path,
                                 const struct ht_source *source,
                                 struct ht_problems *problems,
                                 struct ht_error *err)
{
    struct reading reading;
    struct ht_problems own;
    ht_sheet_clear(sheet);
    enum ht_status status =
        ht_reading_open(&reading, source, problems ? problems : &own, err);
    if (status == HT_OK) {
        sheet->memory = ht_allocate(1, sizeof(struct ht_arena));
        status = sheet->memory ? fill_all(&reading, sheet, path, err)
                               : ht_fail(err, DOCUMENT_NO_MEMORY, source->name);
    }
    ht_reading_close(&reading);
    if (status != HT_OK)
        ht_sheet_free(sheet);
    return status;
}

enum ht_status ht_sheet_read(struct ht_sheet *sheet, const char *path,
                             struct ht_problems *problems, struct ht_error *err)
{
    return read_sheet(sheet, path, &(struct ht_source){ .name = path },
                      problems, err);
}

enum ht_status ht_sheet_read_text(struct ht_sheet *sheet, const char *name,
                                  const char *bytes, size_t length,
                                  struct ht_problems *problems,
                                  struct ht_error *err)
{
    struct ht_source source = { name, bytes ? bytes : "", bytes ? length : 0,
                                HT_SHEET_BYTES_MAX };
    return read_sheet(sheet, NULL, &source, problems, err);
}

enum ht_status ht_sheet_open(struct ht_sheet *sheet, struct ht_error *err)
{
    static const char first[] = "{\"halfturn\":1}";
    return ht_sheet_read_text(sheet, "new sheet", first, sizeof first - 1, NULL,
                              err);
}

enum ht_status ht_sheet_add_text(struct ht_sheet *sheet, const char *name,
                                 const char *bytes, size_t length,
                                 struct ht_problems *problems,
                                 struct ht_error *err)
{
    struct reading reading;
    struct ht_problems own;
    struct ht_source source = { name, bytes, length, HT_SHEET_BYTES_MAX };
    const struct ht_sheet before = *sheet; /* lists are replaced, not changed */
    enum ht_status status =
        ht_reading_open(&reading, &source, problems ? problems : &own, err);
    reading.over = true;
    if (status == HT_OK && like_of(&reading)) {
        (void)template_path(&reading, NULL, like_of(&reading), NULL, 0);
        status = ht_problems_as_error(reading.noter.problems, err);
    }
    if (status == HT_OK)
        status = fill(&reading, sheet, err);
    ht_reading_close(&reading);
    if (status != HT_OK)
        *sheet = before;
    return status;
}
