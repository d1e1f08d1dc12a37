/* output.h - results to where they were asked for, whole or not at all. */
#ifndef HALFTURN_COMMAND_OUTPUT_H
#define HALFTURN_COMMAND_OUTPUT_H

#include "halfturn/report.h"
#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>

/* To stdout when path is NULL or "-"; else into a new file beside `path` that
 * takes its place only when every byte is written. */
enum ht_status output_text(const struct ht_text *text, const char *path,
                           struct ht_error *err);

/* Into a file that is not there yet: HT_BAD_USE when there is one, which then
 * stays as it is. */
enum ht_status output_new(const struct ht_text *text, const char *path,
                          struct ht_error *err);

/* Each into the folder, which is made when it is not there; over files of the
 * same name, one after the other. HT_BAD_USE when there are none. */
enum ht_status output_figures(const struct ht_figures *figures,
                              const char *folder, struct ht_error *err);

/* Progress on stderr, only on a terminal; context: a struct progress. */
struct progress {
    int wanted, shown;
};
bool progress_show(void *context, const char *stage, double share);

#endif
