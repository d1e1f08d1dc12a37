/* case.h - a case sheet named on the command line, and its workup. */
#ifndef HALFTURN_COMMAND_CASE_H
#define HALFTURN_COMMAND_CASE_H

#include "options.h"
#include "place.h"

#include "halfturn/workup.h"

struct case_file {
    struct ht_sheet sheet;
    struct place place; /* where it lies */
};

/* Reads a sheet; its problems are shown on stderr, with their places. */
enum ht_status case_read_sheet(struct ht_sheet *sheet, const char *path,
                               struct ht_error *err);

/* Reads the one sheet that the command line names. Problems of the sheet are
 * shown on stderr, with their places. */
enum ht_status case_read(struct case_file *file,
                         const struct options *options, struct ht_error *err);
void case_free(struct case_file *file);

/* Refuses a limit set on the command line that is not there, also where
 * nothing would be judged by it. */
enum ht_status limits_known(const struct options *options,
                            struct ht_error *err);

/* How far to work the case up. */
enum case_depth { CASE_ANGLES, CASE_SHIMS, CASE_DRIVE, CASE_CAUSES };
enum ht_status case_work_up(struct ht_workup *workup, struct case_file *file,
                            enum case_depth depth,
                            const struct options *options,
                            struct ht_error *err);

#endif
