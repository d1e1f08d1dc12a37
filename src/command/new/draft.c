#include "draft.h"

#include "command/case.h"
#include "command/near_file.h"
#include "command/output.h"
#include "command/texts.h"
#include "common/memory.h"
#include "halfturn/json.h"
#include "halfturn/recording.h"
#include "halfturn/workup.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* By the one path that every command takes, so that no later command can
 * stumble over what was accepted here. */
static enum ht_status work_up(const struct draft *draft, bool drive,
                              struct ht_error *err)
{
    struct progress progress = { .wanted = drive && draft->progress };
    const struct ht_workup_options options = {
        .folder = draft->folder,
        .drive = drive,
        .progress = progress_show,
        .context = &progress,
    };
    struct ht_workup *workup = ht_allocate(1, sizeof *workup);
    if (!workup)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status =
        ht_workup_run(workup, &draft->sheet, &options, err);
    if (status == HT_OK)
        ht_workup_free(workup);
    ht_release(workup);
    return near_file_of_sheet(status, draft->folder, &draft->sheet, err);
}

enum ht_status draft_keys(struct ht_text *text, const struct ht_sheet *sheet,
                          const struct question *question, const char *answer,
                          struct ht_error *err)
{
    struct ht_json *json = ht_json_create();
    ht_json_count(json, "halfturn", 1);
    enum ht_status status = question->put(json, sheet, answer, err);
    if (status != HT_OK) {
        ht_json_free(json);
        return status;
    }
    status = ht_json_finish(json, text, err);
    /* the one text in it that is not ours is the answer */
    return status == HT_BUG ? ht_fail(err, ANSWER_NOT_UTF_8) : status;
}

/* Behind "vehicle.class: ", the path of a key. */
static const char *behind_path(const char *text)
{
    size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_.[]");
    bool path = length > 0 && strncmp(text + length, ": ", 2) == 0;
    return path ? text + length + 2 : text;
}

/* The reader's sentence names a place in a text that nobody wrote. */
static enum ht_status without_place(const struct ht_problems *problems,
                                    enum ht_status status,
                                    struct ht_error *err)
{
    if (status != HT_BAD_FILE || problems->kept == 0)
        return status;
    return ht_fail(err, ANSWER_OFF,
                   behind_path(problems->problem[0].error.text));
}

static enum ht_status add_keys(struct draft *draft, const struct ht_text *keys,
                               struct ht_error *err)
{
    struct ht_problems *problems = ht_allocate(1, sizeof *problems);
    if (!problems)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status =
        ht_sheet_add_text(&draft->sheet, "answer", ht_text_get(keys),
                          keys->length, problems, err);
    status = without_place(problems, status, err);
    ht_release(problems);
    return status;
}

enum ht_status draft_try(struct draft *draft, const struct question *question,
                         const char *answer, struct ht_error *err)
{
    const struct ht_sheet before = draft->sheet;
    struct ht_text keys = { 0 };
    enum ht_status status = draft_keys(&keys, &draft->sheet, question, answer,
                                       err);
    if (status == HT_OK)
        status = add_keys(draft, &keys, err);
    if (status == HT_OK) {
        status = work_up(draft, question->drive, err);
        if (status != HT_OK)
            draft->sheet = before; /* its memory keeps both */
    }
    ht_text_free(&keys);
    return status;
}

/* ---- what it starts from ----------------------------------------------- */

static void keep_vehicle(struct ht_sheet *sheet)
{
    const struct ht_sheet old = *sheet;
    ht_sheet_clear(sheet);
    sheet->version = old.version;
    sheet->memory = old.memory;
    sheet->vehicle = old.vehicle;
    sheet->drivelines = old.drivelines;
    sheet->driveline_count = old.driveline_count;
    sheet->limits = old.limits;
}

static bool same_folder(const char *a, const char *b)
{
    struct stat one, other;
    return stat(a, &one) == 0 && stat(b, &other) == 0 &&
           one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

/* A recording's name as the sheet must give it: alone where both lie in one
 * folder, else with its whole path. */
static bool name_from(const struct draft *draft, const char *path,
                      char name[8192])
{
    struct place place;
    char here[4096];
    if (place_of(&place, path, NULL) != HT_OK)
        return false;
    if (same_folder(draft->folder, place.folder))
        (void)snprintf(name, 8192, "%.4095s", place.name);
    else if (path[0] == '/')
        (void)snprintf(name, 8192, "%.8000s", path);
    else if (getcwd(here, sizeof here))
        (void)snprintf(name, 8192, "%s/%.4000s", here, path);
    else
        return false;
    return true;
}

static enum ht_status start_with(struct draft *draft, const char *path,
                                 struct ht_error *err)
{
    char name[8192];
    struct ht_text keys = { 0 };
    if (!name_from(draft, path, name))
        return ht_fail(err, NEW_FROM_PATH, path);
    struct ht_json *json = ht_json_create();
    ht_json_count(json, "halfturn", 1);
    ht_json_open_map(json, "drive");
    ht_json_text(json, "recording", name);
    enum ht_status status = ht_json_finish(json, &keys, err);
    if (status == HT_BUG)
        status = ht_fail(err, NEW_FROM_PATH, path);
    if (status == HT_OK)
        status = add_keys(draft, &keys, err);
    if (status == HT_OK)
        status = work_up(draft, true, err);
    ht_text_free(&keys);
    return status;
}

/* Nobody may ever write to a pipe: it is not waited for. What is not there at
 * all is for its reader to refuse. */
static bool is_no_file(const char *path)
{
    struct stat known;
    return stat(path, &known) == 0 && !S_ISREG(known.st_mode);
}

/* Bytes that begin a line of a sheet and of no recording. */
static bool looks_like_sheet(const char *path)
{
    char head[4097];
    FILE *file = fopen(path, "rb");
    size_t length = file ? fread(head, 1, sizeof head - 1, file) : 0;
    if (file)
        (void)fclose(file);
    head[length] = '\0';
    return strlen(head) == length &&
           (strstr(head, "halfturn:") || strstr(head, "\"halfturn\""));
}

static enum ht_status start_from(struct draft *draft, const char *from,
                                 struct ht_error *err)
{
    struct ht_recording recording;
    const struct ht_recording_options usual = { .highest_hz = NAN };
    if (is_no_file(from))
        return ht_fail(err, NEW_FROM_NO_FILE, from);
    if (looks_like_sheet(from)) {
        enum ht_status status =
            case_read_sheet(&draft->sheet, from, err);
        if (status == HT_OK)
            keep_vehicle(&draft->sheet);
        return status == HT_OK ? work_up(draft, false, err) : status;
    }
    enum ht_status status = ht_recording_read(&recording, from, &usual, err);
    if (status != HT_OK)
        return near_file(status, from, err);
    ht_recording_free(&recording);
    status = ht_sheet_open(&draft->sheet, err);
    return status == HT_OK ? start_with(draft, from, err) : status;
}

enum ht_status draft_open(struct draft *draft, const char *path,
                          const char *from, bool progress,
                          struct ht_error *err)
{
    struct place place;
    *draft = (struct draft){ .progress = progress };
    enum ht_status status = place_of(&place, path, err);
    if (status != HT_OK)
        return status;
    (void)snprintf(draft->folder, sizeof draft->folder, "%s", place.folder);
    status = from ? start_from(draft, from, err)
                  : ht_sheet_open(&draft->sheet, err);
    if (status != HT_OK)
        draft_free(draft);
    return status;
}

void draft_free(struct draft *draft)
{
    ht_sheet_free(&draft->sheet);
}
