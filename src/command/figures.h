/* figures.h - the figures of a result as files, when they were asked for.
 *
 * What makes PNG of them is linked to halfturn-paper: the program itself
 * becomes that one before it begins.
 */
#ifndef HALFTURN_COMMAND_FIGURES_H
#define HALFTURN_COMMAND_FIGURES_H

#include "options.h"

#include "halfturn/workup.h"

enum ht_status figures_begin(const struct options *options,
                             struct ht_error *err);
enum ht_status figures_write(const struct options *options,
                             const struct ht_workup *workup,
                             struct ht_error *err);

#endif
