/* What the parts of a sheet owe each other, once all are read. */
#include "sheet_tables.h"
#include "texts.h"

#include "nearest.h"
#include "reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void check_version(struct ht_finish *finish,
                          const struct ht_sheet *sheet)
{
    if (!ht_finish_has(finish, "halfturn"))
        ht_finish_problem(finish, NULL, DOCUMENT_NO_VERSION);
    else if (!isnan(sheet->version) && sheet->version != 1)
        ht_finish_problem(finish, "halfturn", DOCUMENT_NO_SUCH_VERSION);
}

/* The count of drivelines where none is called so. */
static size_t driveline_named(const struct ht_sheet *sheet, const char *name)
{
    size_t i = 0;
    while (i < sheet->driveline_count &&
           !(name && sheet->drivelines[i].name &&
             strcmp(sheet->drivelines[i].name, name) == 0))
        i++;
    return i;
}

size_t ht_sheet_driveline_of(const struct ht_sheet *sheet, size_t set)
{
    const struct ht_sheet_angles *angles = &sheet->angles[set];
    const char *names[] = { angles->driveline, angles->name };
    for (size_t i = 0; i < 2; i++) {
        size_t found = driveline_named(sheet, names[i]);
        if (found < sheet->driveline_count)
            return found;
    }
    return 0;
}

static size_t members_of(const struct ht_sheet_driveline *line)
{
    return line->members.count == 0 && line->joint_count
               ? line->joint_count + 1
               : line->members.count;
}

static const struct node *read_list_of(const struct ht_finish *finish,
                                       size_t set)
{
    char path[80];
    (void)snprintf(path, sizeof path, "angles/%zu/read", set + 1);
    return ht_node_find(finish->node, path);
}

/* Names of the per-member form are those of the driveline, in its order. */
static void check_names(struct ht_finish *finish, size_t set,
                        const struct ht_words *members)
{
    const struct node *list = read_list_of(finish, set);
    size_t i = 0;
    if (!list || list->kind != NODE_LIST || list->count != members->count)
        return;
    for (const struct node *item = list->first; item; item = item->next, i++) {
        const struct node *name = ht_node_find(item, "member");
        const char *wanted = members->text[i]; /* NULL: memory ran out */
        if (item->kind != NODE_MAP || !name || !wanted ||
            strcmp(name->text, wanted) == 0)
            continue;
        char path[80];
        (void)snprintf(path, sizeof path, "angles/%zu/read/%zu/member", set + 1,
                       i + 1);
        ht_finish_problem(finish, path, DOCUMENT_MEMBER_ORDER, name->text,
                          wanted);
    }
}

/* Twice as many as wanted is what decimal commas give. */
static void check_slopes(struct ht_finish *finish, size_t set, const char *key,
                         size_t found, size_t members)
{
    char path[80];
    if (found == 0 || found == members)
        return;
    (void)snprintf(path, sizeof path, "angles/%zu/%s", set + 1, key);
    if (found == 2 * members)
        ht_finish_problem(finish, path, DOCUMENT_COUNT_COMMAS, found, members);
    else
        ht_finish_problem(finish, path, DOCUMENT_SLOPE_COUNT, found, members);
}

static void check_joints(struct ht_finish *finish, size_t set, size_t found,
                         size_t joints)
{
    char path[80];
    if (found == 0 || found == joints)
        return;
    (void)snprintf(path, sizeof path, "angles/%zu/joints_deg", set + 1);
    if (found == 2 * joints)
        ht_finish_problem(finish, path, DOCUMENT_COUNT_COMMAS, found, joints);
    else
        ht_finish_problem(finish, path, DOCUMENT_JOINT_ANGLE_COUNT, found,
                          joints);
}

/* What names a driveline names one of the sheet's. */
static bool check_driveline(struct ht_finish *finish,
                            const struct ht_sheet *sheet, const char *list,
                            size_t entry, const char *name)
{
    struct nearest nearest = { .name = name };
    char path[80];
    if (!name || driveline_named(sheet, name) < sheet->driveline_count)
        return true;
    for (size_t i = 0; i < sheet->driveline_count; i++)
        if (sheet->drivelines[i].name)
            ht_nearest_offer(&nearest, sheet->drivelines[i].name);
    (void)snprintf(path, sizeof path, "%s/%zu/driveline", list, entry + 1);
    if (nearest.found[0])
        ht_finish_problem(finish, path, DOCUMENT_NO_DRIVELINE_NEAR, name,
                          nearest.found);
    else
        ht_finish_problem(finish, path, DOCUMENT_NO_DRIVELINE, name);
    return false;
}

static void check_shims(struct ht_finish *finish, const struct ht_sheet *sheet)
{
    for (size_t i = 0; i < sheet->shim_count; i++)
        (void)check_driveline(finish, sheet, "shims", i,
                              sheet->shims[i].driveline);
    for (size_t i = 0; i < sheet->fitted_count; i++)
        (void)check_driveline(finish, sheet, "fitted", i,
                              sheet->fitted[i].driveline);
}

/* A set that says nothing of its driveline, does not fit the first and fits
 * one other: that is likely the one. */
static const char *driveline_that_fits(const struct ht_sheet *sheet,
                                       size_t set)
{
    const struct ht_sheet_angles *angles = &sheet->angles[set];
    size_t read = angles->slope_count ? angles->slope_count
                                      : angles->joints_rad.count + 1;
    const char *fits = NULL;
    size_t count = 0;
    if (angles->driveline || ht_sheet_driveline_of(sheet, set) != 0)
        return NULL;
    for (size_t i = 0; i < sheet->driveline_count; i++)
        if (members_of(&sheet->drivelines[i]) == read) {
            fits = sheet->drivelines[i].name;
            count++;
        }
    return count == 1 ? fits : NULL;
}

static void check_angles(struct ht_finish *finish, const struct ht_sheet *sheet,
                         size_t set)
{
    const struct ht_sheet_angles *angles = &sheet->angles[set];
    if (!check_driveline(finish, sheet, "angles", set, angles->driveline) ||
        sheet->driveline_count == 0)
        return;
    const struct ht_sheet_driveline *line =
        &sheet->drivelines[ht_sheet_driveline_of(sheet, set)];
    size_t members = members_of(line);
    if (members == 0)
        return;
    const char *other = driveline_that_fits(sheet, set);
    if (other && line->name && strcmp(other, line->name) != 0) {
        char path[80];
        (void)snprintf(path, sizeof path, "angles/%zu", set + 1);
        ht_finish_problem(finish, path, DOCUMENT_OTHER_DRIVELINE, line->name,
                          members, other, other);
        return;
    }
    bool read = read_list_of(finish, set) != NULL;
    check_slopes(finish, set, read ? "read" : "slopes_deg", angles->slope_count,
                 members);
    check_joints(finish, set, angles->joints_rad.count, members - 1);
    if (line->members.count)
        check_names(finish, set, &line->members);
}

/* Readings member by member name the members when nothing else does. */
static void members_from_readings(struct ht_finish *finish,
                                  struct ht_sheet *sheet)
{
    const struct node *list = NULL;
    if (!sheet->driveline_count && sheet->angles_count)
        list = read_list_of(finish, 0);
    if (!list || list->kind != NODE_LIST)
        return;
    struct ht_sheet_driveline *line = ht_finish_get(finish, 1, sizeof *line);
    const char **names = ht_finish_get(finish, list->count, sizeof *names);
    if (!line || !names)
        return;
    ht_record_clear(line, &ht_sheet_driveline_schema);
    for (const struct node *item = list->first; item; item = item->next) {
        const struct node *name =
            item->kind == NODE_MAP ? ht_node_find(item, "member") : NULL;
        if (!name || name->kind != NODE_SCALAR)
            return;
        names[line->members.count++] = ht_get_text(finish->reading, name);
    }
    line->members.text = names;
    sheet->drivelines = line;
    sheet->driveline_count = 1;
}

static void check_driveline_names(struct ht_finish *finish,
                                  const struct ht_sheet *sheet)
{
    for (size_t i = 0; sheet->driveline_count > 1 && i < sheet->driveline_count;
         i++)
        if (!sheet->drivelines[i].name)
            ht_finish_problem(finish, "driveline", DOCUMENT_DRIVELINE_NAME,
                              i + 1);
        else if (driveline_named(sheet, sheet->drivelines[i].name) < i)
            ht_finish_problem(finish, "driveline", DOCUMENT_DRIVELINE_TWICE,
                              sheet->drivelines[i].name);
}

static void check_complaint(struct ht_finish *finish,
                            const struct ht_sheet *sheet)
{
    const struct ht_numbers *speed = &sheet->complaint.speed_m_s;
    if (speed->count == 2 && speed->value[0] > speed->value[1])
        ht_finish_problem(finish, "complaint/speed_km_h", DOCUMENT_SPEED_FALLS);
}

static void check_gears(struct ht_finish *finish, const struct ht_sheet *sheet)
{
    size_t gears = sheet->vehicle.gear_ratios.count;
    for (size_t i = 0; gears && i < sheet->drive_count; i++) {
        char path[60];
        (void)snprintf(path, sizeof path, "drive/%zu/gear", i + 1);
        if (sheet->drives[i].gear > (double)gears)
            ht_finish_problem(finish, path, DOCUMENT_GEAR_ABOVE,
                              sheet->drives[i].gear, gears);
    }
}

void ht_sheet_finish(struct ht_finish *finish, void *record)
{
    struct ht_sheet *sheet = record;
    if (finish->node->kind != NODE_MAP)
        return;
    check_version(finish, sheet);
    members_from_readings(finish, sheet);
    for (size_t i = 0; i < sheet->angles_count; i++)
        check_angles(finish, sheet, i);
    check_driveline_names(finish, sheet);
    check_shims(finish, sheet);
    check_complaint(finish, sheet);
    check_gears(finish, sheet);
}
