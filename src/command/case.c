#include "case.h"

#include "near_file.h"
#include "output.h"
#include "texts.h"

#include "common/memory.h"
#include "halfturn/document.h"
#include "halfturn/sheet.h"
#include "halfturn/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void show_problems(const struct ht_problems *problems,
                          struct ht_error *err)
{
    struct ht_text text = { 0 };
    ht_problems_write(&text, problems);
    if (problems->found > 0 && ht_text_ok(&text)) {
        (void)fputs(ht_text_get(&text), stderr);
        err->text[0] = '\0'; /* all of it is said */
    }
    ht_text_free(&text);
}

static bool same_file(const char *folder, const char *name,
                      const struct stat *output)
{
    char path[8192];
    struct stat known;
    if (!name)
        return false;
    int length = folder && name[0] != '/'
                     ? snprintf(path, sizeof path, "%s/%s", folder, name)
                     : snprintf(path, sizeof path, "%s", name);
    return length > 0 && (size_t)length < sizeof path &&
           stat(path, &known) == 0 && known.st_dev == output->st_dev &&
           known.st_ino == output->st_ino;
}

/* A result never takes the place of what it was made from. */
static enum ht_status spare_inputs(const struct case_file *file,
                                   const struct options *options,
                                   struct ht_error *err)
{
    struct stat output;
    if (!options->output || stat(options->output, &output) != 0 ||
        !S_ISREG(output.st_mode))
        return HT_OK;
    const struct ht_sheet *sheet = &file->sheet;
    const char *folder = file->place.folder;
    bool hit = same_file(NULL, options->words[0], &output) ||
               same_file(NULL, options->limits_file, &output) ||
               same_file(NULL, options->catalogue_file, &output) ||
               same_file(folder, sheet->like, &output);
    for (size_t i = 0; i < sheet->drive_count && !hit; i++)
        hit = same_file(folder, sheet->drives[i].recording, &output) ||
              same_file(folder, sheet->drives[i].speed.file, &output);
    if (!hit)
        return HT_OK;
    return ht_fail(err, CASE_IS_OUTPUT, options->output);
}

enum ht_status case_read_sheet(struct ht_sheet *sheet, const char *path,
                               struct ht_error *err)
{
    struct ht_problems *problems = ht_allocate(1, sizeof *problems);
    if (!problems)
        return ht_fail(err, COMMAND_NO_MEMORY);
    enum ht_status status = ht_sheet_read(sheet, path, problems, err);
    if (status != HT_OK)
        show_problems(problems, err);
    ht_release(problems);
    return near_file(status, path, err);
}

enum ht_status case_read(struct case_file *file,
                         const struct options *options, struct ht_error *err)
{
    *file = (struct case_file){ 0 };
    if (options->word_count == 0 || !options->words[0][0])
        return ht_fail(err, CASE_NOT_NAMED);
    if (options->word_count > 1)
        return ht_fail(err, CASE_SEVERAL, options->word_count,
                       options->words[0], options->words[1]);
    const char *path = options->words[0];
    enum ht_status status = place_of(&file->place, path, err);
    if (status != HT_OK)
        return status;
    status = case_read_sheet(&file->sheet, path, err);
    return status == HT_OK ? spare_inputs(file, options, err) : status;
}

enum ht_status limits_known(const struct options *options,
                            struct ht_error *err)
{
    struct ht_limits limits;
    const struct ht_limit_set *found;
    if (!options->limits)
        return HT_OK;
    enum ht_status status = ht_limits_read(&limits, options->limits_file, err);
    if (status != HT_OK)
        return near_file(status, options->limits_file, err);
    status = ht_limits_find(&found, &limits, options->limits, err);
    /* the command line is off, not a file */
    return status == HT_OK ? HT_OK : HT_BAD_USE;
}

void case_free(struct case_file *file)
{
    ht_sheet_free(&file->sheet);
}

enum ht_status case_work_up(struct ht_workup *workup, struct case_file *file,
                            enum case_depth depth,
                            const struct options *options,
                            struct ht_error *err)
{
    struct progress progress = {
        .wanted = !options->quiet && !options->json && isatty(2)
    };
    struct ht_workup_options wanted = {
        .folder = file->place.folder,
        .limits_path = options->limits_file,
        .catalogue_path = options->catalogue_file,
        .drive = depth >= CASE_DRIVE,
        .causes = depth >= CASE_CAUSES,
        .shims = depth == CASE_SHIMS ||
                 (depth == CASE_CAUSES && file->sheet.shim_count > 0),
        .progress = progress_show,
        .context = &progress,
        .keys = options->json,
    };
    enum ht_status status = limits_known(options, err);
    if (status != HT_OK)
        return status;
    if (options->limits)
        file->sheet.limits.name = options->limits;
    status = ht_workup_run(workup, &file->sheet, &wanted, err);
    if (status == HT_CANNOT_READ && options->limits_file)
        status = near_file(status, options->limits_file, err);
    if (status == HT_CANNOT_READ && options->catalogue_file)
        status = near_file(status, options->catalogue_file, err);
    return near_file_of_sheet(status, file->place.folder, &file->sheet, err);
}
